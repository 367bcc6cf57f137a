import { dbfs, decibels, percent, volts } from '../../../job/format/quantity.ts';
import { voltsOf } from '../../../procedure/source/ceiling.ts';
import { againstMiddleDb } from '../../../procedure/source/response.ts';
import type { SourceState, SourceStep } from '../../../procedure/source/source.ts';

function verdictWords(at: SourceStep): string {
  const { middle, bass } = at;
  if (middle === null) return '—';
  if (middle.verdict === 'clipped') {
    return middle.overdriveDb === null ? 'clipped' : `clipped, ${middle.overdriveDb.toFixed(1)} dB over`;
  }
  return bass?.verdict === 'clipped' ? 'bass clipped' : middle.verdict;
}

/** Every step with its figures, for whoever wants them plain. */
export function StepsTable({ state }: { state: SourceState }) {
  const { steps, task } = state;
  const heard = steps.filter((at) => at.middle !== null);
  if (heard.length === 0) return null;
  return (
    <details className="sheet steps-figures">
      <summary>All steps in figures</summary>
      <div className="steps-table">
        <table>
          <thead>
            <tr>
              <th className="num">Step</th>
              <th className="num">Level</th>
              <th className="num">THD</th>
              <th className="num">Bass</th>
              <th className="num">Treble</th>
              <th>Verdict</th>
            </tr>
          </thead>
          <tbody>
            {heard.map((at) => {
              const level = at.middle?.levelDbfs ?? null;
              const inVolts = level === null ? null : voltsOf(task, level);
              return (
                <tr key={at.step}>
                  <td className="num">{at.step}</td>
                  <td className="num">{inVolts === null ? dbfs(level) : volts(inVolts)}</td>
                  <td className="num">{percent(at.middle?.thdPercent ?? null)}</td>
                  <td className="num">{decibels(againstMiddleDb(task, at, 'bass'))}</td>
                  <td className="num">{decibels(againstMiddleDb(task, at, 'treble'))}</td>
                  <td>{verdictWords(at)}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </details>
  );
}
