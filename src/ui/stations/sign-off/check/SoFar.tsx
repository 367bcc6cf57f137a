import type { CheckReport } from '../../../../procedure/check/check.ts';
import type { CheckSoFar } from './use-check-while-recording.ts';

function words({ markers, parts, faults }: CheckReport): string {
  if (!markers.found) return 'The track has not been heard yet.';
  const read = parts.filter(({ verdict }) => verdict !== 'missing');
  const heard = new Set(read.map(({ id }) => id)).size;
  const all = new Set(parts.map(({ id }) => id)).size;
  const found = faults.length === 0 ? 'nothing wrong so far' : 'so far it shows:';
  return `The track is heard: ${heard} of ${all} parts, ${found}`;
}

/** What the check says while the recording runs; the parts that are still to come may add to it. */
export function SoFar({ soFar: { report, fault } }: { soFar: CheckSoFar }) {
  return (
    <div aria-live="polite">
      {fault !== null && <p className="wrong small">{fault}</p>}
      {report !== null && (
        <>
          <p>
            <output
              data-reading="partsHeard"
              data-value={report.parts.filter(({ verdict }) => verdict !== 'missing').length}
              data-state={report.markers.found ? 'valid' : 'no-track'}
            >
              {words(report)}
            </output>
          </p>
          <ul className="plainlist">
            {report.faults.map(({ fault: kind, channel, sentence }) => (
              <li key={`${kind} ${channel}`} className="note over">
                {sentence}
              </li>
            ))}
          </ul>
        </>
      )}
    </div>
  );
}
