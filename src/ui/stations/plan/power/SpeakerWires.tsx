import type { Job, JobChannel } from '../../../../job/document.ts';
import { fixed } from '../../../../job/format/number.ts';
import { JobRefused } from '../../../../job/refused.ts';
import { planJobSpeakerRun } from '../../../../job/wiring-plan.ts';
import type { SpeakerRunCost } from '../../../../plan/supply/speaker-run.ts';
import { sizeWords } from '../../../../plan/wire/trade-size.ts';
import type { WireRun } from '../../../../plan/wire/wire-run.ts';
import { editJob } from '../../../session/job-session.ts';
import './power.css';
import { WireRunForm } from './WireRunForm.tsx';

function costOrSentence(job: Job, channelId: string): SpeakerRunCost | null | string {
  try {
    return planJobSpeakerRun(job, channelId);
  } catch (fault) {
    if (fault instanceof JobRefused) return fault.message;
    throw fault;
  }
}

function setRuns(speakerRun: WireRun | null, isMeant: (channel: JobChannel) => boolean): void {
  editJob((job) => ({
    ...job,
    channels: job.channels.map((one) => (isMeant(one) ? { ...one, speakerRun } : one)),
  }));
}

function Cost({ cost }: { cost: SpeakerRunCost | null | string }) {
  if (typeof cost === 'string') return <span className="wrong">{cost}</span>;
  if (cost === null) return <span className="soft">not noted</span>;
  return (
    <span className={cost.warnings.length > 0 ? 'note over' : undefined}>
      costs <b>{fixed(cost.lossDb, 2)} dB</b>, damping factor under {Math.floor(cost.dampingFactorMost)}
    </span>
  );
}

function Channel({ job, channel }: { job: Job; channel: JobChannel }) {
  const { speakerRun: run, name } = channel;
  const cost = costOrSentence(job, channel.id);
  const warnings = cost === null || typeof cost === 'string' ? [] : cost.warnings;
  return (
    <li className="speaker-run" aria-label={`Speaker wire of ${name}`}>
      <p className="small">
        <b>{name}</b> <Cost cost={cost} />
      </p>
      <details>
        <summary>{run === null ? 'Its wire' : `${run.metres}\u00a0m of ${sizeWords(run.areaMm2)}`}</summary>
        <div className="part-body">
          {warnings.map((sentence) => (
            <p key={sentence} className="note over small">
              {sentence}
            </p>
          ))}
          <WireRunForm
            name="This wire"
            run={run}
            usual={{ metres: 4, areaMm2: 1.5, material: 'copper' }}
            onChange={(next) => setRuns(next, (one) => one.id === channel.id)}
          />
          {run !== null && (
            <button type="button" className="act" onClick={() => setRuns(run, () => true)}>
              Take this run for every channel
            </button>
          )}
        </div>
      </details>
    </li>
  );
}

/** What the wires between amplifiers and drivers cost in level and damping. */
export function SpeakerWires({ job }: { job: Job }) {
  return (
    <section className="sheet power" aria-labelledby="speaker-wires-title">
      <h2 id="speaker-wires-title">Speaker wires</h2>
      <p className="small">
        Works out what each run between amplifier and drivers takes away. You need its length one way and its
        size.
      </p>
      <ul className="plainlist speaker-runs">
        {job.channels.map((channel) => (
          <Channel key={channel.id} job={job} channel={channel} />
        ))}
      </ul>
    </section>
  );
}
