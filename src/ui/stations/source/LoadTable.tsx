import { dbfs, decibels, volts } from '../../../job/format/quantity.ts';
import type { LoadState, Resistors } from '../../../procedure/load/load.ts';
import { voltsOf } from '../../../procedure/source/ceiling.ts';
import type { SourceToneName } from '../../../procedure/source/source.ts';

const TONES = ['middle', 'bass', 'treble'] as const;

/** The three tones with and without the load. */
export function LoadTable({ state }: { state: LoadState }) {
  const { task, heard } = state;
  const cell = (which: Resistors, tone: SourceToneName) => {
    const one = heard[which][tone];
    if (one === null) return '—';
    if (one === 'silent') return 'silent';
    const inVolts = voltsOf(task, one.levelDbfs);
    return inVolts === null ? dbfs(one.levelDbfs) : volts(inVolts);
  };
  return (
    <table>
      <thead>
        <tr>
          <th className="num">Tone</th>
          <th className="num">connected</th>
          <th className="num">off</th>
          <th className="num">change</th>
        </tr>
      </thead>
      <tbody>
        {TONES.map((tone) => {
          const [withLoad, without] = [heard.connected[tone], heard.off[tone]];
          const known =
            withLoad !== null && without !== null && withLoad !== 'silent' && without !== 'silent';
          return (
            <tr key={tone}>
              <td className="num">{task.tones[tone].frequencyHz} Hz</td>
              <td className="num">{cell('connected', tone)}</td>
              <td className="num">{cell('off', tone)}</td>
              <td className="num">{decibels(known ? without.levelDbfs - withLoad.levelDbfs : null)}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
