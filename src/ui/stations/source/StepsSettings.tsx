import type { Job } from '../../../job/document.ts';
import { volts } from '../../../job/format/quantity.ts';
import type { SourceState, SourceWay } from '../../../procedure/source/source.ts';
import { ChoiceField, TickField } from '../../fields/ChoiceField.tsx';
import { useObservable } from '../../live/observable.ts';
import { editJob } from '../../session/job-session.ts';
import { sourceSession } from '../../session/source-sessions.ts';
import { PickupChoice } from './PickupChoice.tsx';
import { stepRun } from './step-run.ts';

/** The voltage that load resistors and converter are judged against. */
function NoteHighest({ job, state }: { job: Job; state: SourceState }) {
  const { point, volumeSteps } = state.task;
  const { settled, kneeVolts, volts: clean, cleanStep } = state.ceiling;
  const highest = kneeVolts ?? (cleanStep === volumeSteps ? clean : null);
  if (point !== 'radio' || !settled || highest === null) return null;
  const rounded = Number(highest.toPrecision(3));
  if (job.source.highestVolts === rounded) {
    return <p className="small soft">The job notes {volts(rounded)} as the radio’s highest voltage.</p>;
  }
  return (
    <button
      type="button"
      className="act"
      onClick={() => editJob((now) => ({ ...now, source: { ...now.source, highestVolts: rounded } }))}
    >
      Note {volts(rounded)} in the job as the radio’s highest voltage
    </button>
  );
}

/** Where and how finely; what is connected. */
export function StepsSettings({ job, state }: { job: Job; state: SourceState }) {
  const { phase } = useObservable(stepRun);
  const { task, way } = state;
  const change = (part: Partial<SourceWay>) => sourceSession.hand({ type: 'way', way: { ...way, ...part } });
  const strides = [...new Set([1, 2, Math.max(1, Math.round(task.volumeSteps / 10)), way.every])].sort(
    (a, b) => a - b,
  );
  return (
    <section className="sheet" aria-labelledby="steps-settings-title">
      <h2 id="steps-settings-title">How it is measured</h2>
      <fieldset className="source-settings" disabled={phase !== 'idle'}>
        <PickupChoice job={job} withPoint withSide />
        <div className="fields">
          <ChoiceField
            label="On the way up, measure"
            value={String(way.every)}
            choices={strides.map((every) => ({
              value: String(every),
              words: every === 1 ? 'every step' : `every ${every} steps`,
            }))}
            onChange={(every) => change({ every: Number(every) })}
          />
        </div>
        <TickField
          label="Bass and treble too"
          value={way.without.length === 0}
          onChange={(all) => change({ without: all ? [] : ['bass', 'treble'] })}
        />
      </fieldset>
      <NoteHighest job={job} state={state} />
    </section>
  );
}
