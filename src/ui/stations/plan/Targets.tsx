import { type ChainWarning, chainWarnings } from '../../../job/chain-warnings.ts';
import type { Job, JobChannel } from '../../../job/document.ts';
import { voltFigure, volts, watts } from '../../../job/format/quantity.ts';
import { loadWords } from '../../../job/load-words.ts';
import { summedSentence } from '../../../job/summed-tone.ts';
import type { ChannelPlan, PlanWarningKind } from '../../../plan/chain.ts';
import { toneFrequency, toneLevel } from '../../format/tone-frequency.ts';
import { recordsOf } from '../../session/channel-progress.ts';
import { planOf } from '../../session/plan-of.ts';
import { openPart } from './part-name.ts';

/** Warnings that stand in the way; the others say what the target follows from. */
const GRAVE: ReadonlySet<PlanWarningKind> = new Set([
  'load-under-minimum',
  'no-rating-at-load',
  'bridging-not-allowed',
  'tone-never-reaches-target',
]);

function powerWords(plan: ChannelPlan): string {
  if (plan.cleanWatts === null) return `drivers take ${watts(plan.driverWatts)}`;
  const limit = plan.limitedBy === 'drivers' ? 'the drivers' : 'the amplifier';
  return `${watts(plan.cleanWatts)} clean, limited by ${limit}`;
}

function Target({
  channel,
  plan,
  isNext,
  onGain,
}: {
  channel: JobChannel;
  plan: ChannelPlan;
  /** The one thing to do next on this screen. */
  isNext: boolean;
  onGain: () => void;
}) {
  const summed = summedSentence(channel, plan.toneVolts);
  const tone = `${toneFrequency(channel.tone.frequencyHz)} at ${toneLevel(channel.tone.levelDbfs)}`;
  return (
    <li className="sheet target">
      <h3>{channel.name}</h3>
      <p className="target-volts">
        {voltFigure(plan.targetVolts)}
        <span> V</span>
      </p>
      <p className="small">
        {loadWords(channel.drivers, plan.loadOhms)}
        <br />
        {powerWords(plan)}
      </p>
      <p className="facts small">
        The tone of {tone} must read <b>{volts(plan.toneVolts)}</b>
        {plan.targetPeakVolts !== null && <> · target peak {volts(plan.targetPeakVolts)}</>}
      </p>
      {summed !== null && <p className="note small">{summed}</p>}
      {plan.warnings.length > 0 && (
        <ul className="plainlist small" aria-label={`Warnings for ${channel.name}`}>
          {plan.warnings.map((warning) => (
            <li key={warning.kind} className={GRAVE.has(warning.kind) ? 'note over' : 'note'}>
              {warning.sentence}
            </li>
          ))}
        </ul>
      )}
      <button
        type="button"
        className={isNext ? 'act main' : 'act'}
        disabled={plan.toneVolts === null}
        onClick={onGain}
      >
        Set this gain<span className="unseen">: {channel.name}</span>
      </button>
    </li>
  );
}

/** What must be put right in the chain before any target is worth aiming at; each leads to its form. */
function ChainTroubles({ warnings }: { warnings: readonly ChainWarning[] }) {
  const grave = warnings.filter((warning) => warning.grave);
  if (grave.length === 0) return null;
  return (
    <ul className="plainlist small chain-troubles" aria-label="Warnings for the chain">
      {grave.map(({ kind, at, amplifierId, sentence }) => (
        <li key={`${kind} ${amplifierId}`} className="note over">
          {sentence}
          <button
            type="button"
            className="act plain"
            onClick={() => openPart(at === 'amplifier' ? `amplifier ${amplifierId}` : at)}
          >
            Go there<span className="unseen">: {at}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}

/** What each channel should read, and what to be warned of. */
export function Targets({ job, onGain }: { job: Job; onGain: (channelId: string) => void }) {
  const nextId = job.channels.find(({ id }) => {
    const plan = planOf(job, id);
    return typeof plan !== 'string' && plan.toneVolts !== null && recordsOf(job, id).length === 0;
  })?.id;
  return (
    <section aria-labelledby="targets-title">
      <h2 id="targets-title" className="unseen">
        Targets
      </h2>
      <ChainTroubles warnings={chainWarnings(job)} />
      <ul className="plainlist targets">
        {job.channels.map((channel) => {
          const plan = planOf(job, channel.id);
          return typeof plan === 'string' ? (
            <li key={channel.id} className="sheet target">
              <h3>{channel.name}</h3>
              <p className="note over">{plan}</p>
            </li>
          ) : (
            <Target
              key={channel.id}
              channel={channel}
              plan={plan}
              isNext={channel.id === nextId}
              onGain={() => onGain(channel.id)}
            />
          );
        })}
      </ul>
    </section>
  );
}
