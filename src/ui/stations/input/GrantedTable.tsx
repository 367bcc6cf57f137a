import type { EngineState, Granted } from '../../../audio/engine/engine-state.ts';

interface Row {
  what: string;
  asked: string;
  granted: string;
  isAsAsked: boolean | null;
}

function switchRow(what: string, granted: boolean | null): Row {
  return {
    what,
    asked: 'off',
    granted: granted === null ? 'not stated' : granted ? 'on' : 'off',
    isAsAsked: granted === null ? null : !granted,
  };
}

function rows(granted: Granted): Row[] {
  const { sampleRateHz, contextRateHz, channelCount } = granted;
  return [
    switchRow('Echo cancelling', granted.echoCancellation),
    switchRow('Noise suppression', granted.noiseSuppression),
    switchRow('Automatic gain', granted.autoGainControl),
    switchRow('Voice isolation', granted.voiceIsolation),
    {
      what: 'Channels',
      asked: '2',
      granted: channelCount === null ? 'not stated' : String(channelCount),
      isAsAsked: channelCount === null ? null : channelCount >= 2,
    },
    {
      what: 'Sample rate',
      asked: 'the device’s own',
      granted: sampleRateHz === null ? `not stated (read at ${contextRateHz} Hz)` : `${sampleRateHz} Hz`,
      isAsAsked: sampleRateHz === null ? null : sampleRateHz === contextRateHz,
    },
  ];
}

function verdict(row: Row): string {
  if (row.isAsAsked === null) return '?';
  return row.isAsAsked ? '●' : '✕';
}

/** What was asked of the browser and what it says it gave: a statement of intent, not a proof. */
export function GrantedTable({ state }: { state: EngineState }) {
  if (state.granted === null) return null;
  return (
    <section aria-labelledby="granted-title">
      <h2 id="granted-title">Asked and granted</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">{state.granted.label || 'Input'}</th>
            <th scope="col">asked</th>
            <th scope="col">granted</th>
          </tr>
        </thead>
        <tbody>
          {rows(state.granted).map((row) => (
            <tr key={row.what}>
              <th scope="row">{row.what}</th>
              <td>{row.asked}</td>
              <td>
                <span aria-hidden="true">{verdict(row)}</span> {row.granted}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="small soft">
        What a browser says it granted is its intent. A tone whose level holds for ten seconds, and steps that
        read as large as they were played, are the proof.
      </p>
    </section>
  );
}
