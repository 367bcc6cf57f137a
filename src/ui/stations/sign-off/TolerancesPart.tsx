import type { Job, Tolerances } from '../../../job/document.ts';
import { DEFAULT_TOLERANCES, MOST_TOLERATED, TOLERANCE_REASONS } from '../../../job/tolerances.ts';
import { NumberField } from '../../fields/NumberField.tsx';
import { editJob } from '../../session/job-session.ts';

type ToleranceKey = keyof Tolerances;

/** What each bounds. */
const FIELDS: readonly { key: ToleranceKey; label: string; unit: string }[] = [
  { key: 'cornerPercent', label: 'Corner of a filter', unit: '%' },
  { key: 'balanceDb', label: 'Left against right', unit: 'dB' },
  { key: 'arrivalMs', label: 'Arrival', unit: 'ms' },
  { key: 'noiseDb', label: 'Noise below the target', unit: 'dB' },
  { key: 'groundVolts', label: 'Drop on the ground leg', unit: 'V' },
  { key: 'supplyDropVolts', label: 'Drop on both supply wires', unit: 'V' },
];

function setTolerances(part: Partial<Tolerances>): void {
  editJob((job) => ({ ...job, tolerances: { ...job.tolerances, ...part } }));
}

function Tolerance({ job, field }: { job: Job; field: (typeof FIELDS)[number] }) {
  const { key, label, unit } = field;
  const usual = DEFAULT_TOLERANCES[key];
  return (
    <li className="tolerance">
      <NumberField
        label={`${label}, ${unit}`}
        value={job.tolerances[key]}
        above={0}
        most={MOST_TOLERATED[key]}
        onChange={(value) => setTolerances({ [key]: value })}
      />
      <p className="small soft">
        {TOLERANCE_REASONS[key]}{' '}
        {job.tolerances[key] !== usual && (
          <b>
            Usual: {usual} {unit}.
          </b>
        )}
      </p>
    </li>
  );
}

/** What this job accepts, why the usual figures are what they are, and the way back to them. */
export function TolerancesPart({ job }: { job: Job }) {
  const isUsual = FIELDS.every(({ key }) => job.tolerances[key] === DEFAULT_TOLERANCES[key]);
  return (
    <>
      <p className="do">Set what this job accepts; what was judged by another bound is stale then.</p>
      <section className="sheet" aria-label="Tolerances of this job">
        <ul className="plainlist tolerances">
          {FIELDS.map((field) => (
            <Tolerance key={field.key} job={job} field={field} />
          ))}
        </ul>
        <p className="small soft">The brackets of each gain stand with its channel in the plan.</p>
        <div className="acts">
          <button
            type="button"
            className="act"
            aria-disabled={isUsual}
            onClick={() => {
              if (!isUsual) setTolerances(DEFAULT_TOLERANCES);
            }}
          >
            Back to the usual figures
          </button>
        </div>
      </section>
    </>
  );
}
