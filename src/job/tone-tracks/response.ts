import {
  FULL_SWEEP,
  isSmallDriver,
  type ResponseSweep,
  responseSweep,
} from '../../plan/tone/response-sweep.ts';
import { namesOf, type TonedChannel, type Unfiled } from './channels.ts';

/** As the renderer and the analysis have it: above this share of the rate no sweep is rendered. */
const HIGHEST_SHARE_OF_RATE = 0.45;

const WHOLE_BAND =
  'It runs through the whole band: keep tweeters behind their high-pass, and the level moderate.';
const UPPER_BAND = 'It begins two octaves under the high-pass: switch that on before it plays.';

/** A sweep that runs past what the rate holds ends there, on the same law (octaves per second). */
function heldBy(sweep: ResponseSweep, sampleRateHz: number): ResponseSweep {
  const endHz = Math.min(sweep.endHz, HIGHEST_SHARE_OF_RATE * sampleRateHz);
  const share = Math.log(endHz / sweep.startHz) / Math.log(sweep.endHz / sweep.startHz);
  return { ...sweep, endHz, durationSeconds: sweep.durationSeconds * share };
}

/**
 * One sweep for each way that channels are fed: whatever is fed so shows its filters and its equalisation in it. Small
 * drivers get one of their own, without the bass.
 */
export function sweepTracks(channels: readonly TonedChannel[], sampleRateHz: number): Unfiled[] {
  const whole = channels.filter(({ band }) => !isSmallDriver(band));
  const small = channels.filter(({ band }) => isSmallDriver(band));
  const sides = (['left', 'right', 'both'] as const).filter(
    (side) => side !== 'both' || channels.some(({ fedBy }) => fedBy === 'both'),
  );
  const guarded = small.filter(
    ({ band }) => 2 * responseSweep(band).startHz <= HIGHEST_SHARE_OF_RATE * sampleRateHz,
  );
  return [
    ...sides.map((side) => wholeSweep(side, whole, sampleRateHz)),
    ...guarded.map((channel) => guardedSweep(channel, sampleRateHz)),
  ];
}

function wholeSweep(
  side: TonedChannel['fedBy'],
  channels: readonly TonedChannel[],
  sampleRateHz: number,
): Unfiled {
  return {
    id: `${side}-sweep`,
    kind: 'sweep',
    channels: side,
    serves: channels.filter(({ fedBy }) => fedBy === side).flatMap(({ serves }) => serves),
    purpose: `Shows the response and the filters of whatever ${side === 'both' ? 'both sides feed' : `the ${side} side feeds`}.`,
    caution: WHOLE_BAND,
    ...heldBy(FULL_SWEEP, sampleRateHz),
    startSeconds: 0,
  };
}

function guardedSweep(channel: TonedChannel, sampleRateHz: number): Unfiled {
  return {
    id: `${channel.id}-sweep`,
    kind: 'sweep',
    channels: channel.fedBy,
    serves: channel.serves,
    purpose: `Shows the filters of ${namesOf([channel])}, softly and without the bass.`,
    caution: UPPER_BAND,
    ...heldBy(responseSweep(channel.band), sampleRateHz),
    startSeconds: 0,
  };
}
