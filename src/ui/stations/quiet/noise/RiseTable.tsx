import { fixed, NOTHING, signed } from '../../../../job/format/number.ts';
import type { NoiseState } from '../../../../procedure/noise/noise.ts';
import { risesOf } from '../../../../procedure/noise/result.ts';

/** Octave by octave: the floor with the engine off, and what the running engine adds. */
export function RiseTable({ state }: { state: NoiseState }) {
  const { takes, task } = state;
  if (takes.off === null) return null;
  const rises = risesOf(state);
  const shiftDb = task.voltsPerFs === null ? 0 : 20 * Math.log10(task.voltsPerFs);
  const rise = (engine: 'idle' | 'revved', nominalHz: number): string => {
    const octaves = rises.find((one) => one.engine === engine)?.octaves;
    const found = octaves?.find((octave) => octave.nominalHz === nominalHz);
    return found === undefined ? NOTHING : signed(found.riseDb, 1);
  };
  return (
    <details>
      <summary>Octave by octave</summary>
      <table>
        <thead>
          <tr>
            <th className="num">Hz</th>
            <th className="num">off, {task.voltsPerFs === null ? 'dBFS' : 'dBV'}</th>
            <th className="num">idling, dB</th>
            <th className="num">revved, dB</th>
          </tr>
        </thead>
        <tbody>
          {takes.off.floor.octaves.map(({ nominalHz, levelDbfs }) => (
            <tr key={nominalHz}>
              <td className="num">{nominalHz}</td>
              <td className="num">{levelDbfs === null ? NOTHING : fixed(levelDbfs + shiftDb, 1)}</td>
              <td className="num">{rise('idle', nominalHz)}</td>
              <td className="num">{rise('revved', nominalHz)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
