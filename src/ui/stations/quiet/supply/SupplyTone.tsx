import type { Job } from '../../../../job/document.ts';
import { JobRefused } from '../../../../job/refused.ts';
import { toneWatts } from '../../../../job/supply-task.ts';
import { toneFrequency, toneLevel } from '../../../format/tone-frequency.ts';
import { useObservable } from '../../../live/observable.ts';
import { gainTrackFile } from '../../../session/level-track.ts';
import { FromThisDevice, PlayedBy } from '../../../signal/PlayedBy.tsx';
import { chosenMaker, type Signal, type SignalMaker } from '../../../signal/signal.ts';

/** Long enough to read a meter by; the player stops by itself. */
const TONE_SECONDS = 10;

/**
 * The setting tone of the amplifier's first channel; `null` where it has no
 * channel. The tone set plays it on the sides that feed the channel, every
 * other player on both, which loads the whole amplifier.
 */
export function supplySignal(job: Job, amplifierId: string, maker: SignalMaker): Signal | null {
  const channel = job.channels.find((one) => one.amplifierId === amplifierId);
  if (channel === undefined) return null;
  const { frequencyHz, levelDbfs } = channel.tone;
  const channels = maker === 'radio' ? channel.fedBy : 'both';
  const tone = `${toneFrequency(frequencyHz)} at ${toneLevel(levelDbfs)}`;
  return {
    spec: { kind: 'sine', frequencyHz, levelDbfs, durationSeconds: TONE_SECONDS },
    channels,
    description:
      maker === 'radio'
        ? `The setting tone of ${channel.name.toLowerCase()} (${gainTrackFile(job, channel.id, 'level') ?? 'not in the tone set'}, ${tone})`
        : `${tone} on both sides`,
    loop: true,
  };
}

/** What the plan says the amplifier gives under this signal, W; 0 where it says nothing. */
export function plannedWatts(job: Job, amplifierId: string, signal: Signal | null): number {
  if (signal === null) return 0;
  try {
    return toneWatts(job, amplifierId, signal.channels);
  } catch (fault) {
    if (fault instanceof JobRefused) return 0;
    throw fault;
  }
}

/** What loads the supply while the meter is read. */
export function SupplyTone({ signal }: { signal: Signal }) {
  const maker = useObservable(chosenMaker);
  return (
    <section className="sheet" aria-labelledby="supply-tone-title">
      <h2 id="supply-tone-title">The tone</h2>
      <p>{signal.description}, drivers connected, gains as they were set. At rest: the same, paused.</p>
      <PlayedBy />
      {maker === 'this-device' && (
        <FromThisDevice signal={signal} play="Play the tone" stop="Stop the tone" />
      )}
    </section>
  );
}
