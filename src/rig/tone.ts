import { toneSeconds } from '../dsp/tones/render-tone.ts';
import { runSoundings } from '../dsp/tones/run-sound.ts';
import { outOfRange } from './out-of-range.ts';
import type { RigChannelConfig, RigSineTone, RigTone } from './rig.ts';

/** Longest track: a rendered minute is 23 MB, and no track of a tone set lasts longer than a few. */
const LONGEST_TRACK_SECONDS = 600;

/** The endless sine or silence that a tone is, or `null` for a track that has to be rendered. */
export function asEndlessSine(tone: RigTone): RigSineTone | null {
  if (tone.kind === 'run') return null;
  if (tone.kind !== 'track') return tone;
  const { spec, channels, loop } = tone;
  if (!loop || spec.kind !== 'sine') return null;
  return { kind: 'sine', frequencyHz: spec.frequencyHz, levelDbfs: spec.levelDbfs, channels };
}

/** @throws RangeError for a tone that cannot be played; what only rendering can find is left to it */
export function checkTone(tone: RigTone, sampleRateHz: number): void {
  if (tone.kind === 'run') {
    checkLength('A run track', tone.run.durationSeconds);
    runSoundings(tone.run, sampleRateHz);
    return;
  }
  const sine = asEndlessSine(tone);
  if (sine === null && tone.kind === 'track') checkLength('A track', toneSeconds(tone.spec));
  if (sine === null || sine.kind === 'silence') return;
  if (!(sine.frequencyHz > 0 && sine.frequencyHz < sampleRateHz / 2)) {
    throw outOfRange('A tone frequency', sine.frequencyHz, `above 0 and below ${sampleRateHz / 2} Hz`);
  }
  if (!(sine.levelDbfs <= 0)) throw outOfRange('A tone level', sine.levelDbfs, '0 dBFS or lower');
}

function checkLength(what: string, seconds: number): void {
  if (seconds > 0 && seconds <= LONGEST_TRACK_SECONDS) return;
  throw outOfRange(what, seconds, `above 0 and at most ${LONGEST_TRACK_SECONDS} seconds long`);
}

/** What loads nothing. */
export const NO_LOAD: RigSineTone = {
  kind: 'silence',
  frequencyHz: 1000,
  levelDbfs: Number.NEGATIVE_INFINITY,
  channels: 'both',
};

/** Middle of the band that a channel's filters pass, where a wide one is open at 1 kHz. */
function bandMiddleHz(channel: RigChannelConfig): number {
  const { highPass, lowPass } = channel.filters;
  if (lowPass === null) return 1000;
  return Math.sqrt((highPass?.cutoffHz ?? 20) * lowPass.cutoffHz);
}

/**
 * The sine that loads a channel and its supply as the tone does: itself, or for
 * a track one of its level. Of noise and sweeps all is counted as if it fell
 * into the channel's band; pulses and beeps are too short to count. A run track
 * by itself is at rest: its parts load, each while it sounds.
 */
export function loadingSine(tone: RigTone, channel: RigChannelConfig): RigSineTone {
  if (tone.kind === 'run') return NO_LOAD;
  if (tone.kind !== 'track') return tone;
  const { spec, channels } = tone;
  if (spec.kind === 'sine' || spec.kind === 'steps') {
    const levelDbfs = spec.kind === 'sine' ? spec.levelDbfs : Math.max(...spec.levelsDbfs);
    return { kind: 'sine', frequencyHz: spec.frequencyHz, levelDbfs, channels };
  }
  const frequencyHz = bandMiddleHz(channel);
  if (spec.kind === 'pink' || spec.kind === 'sweep') {
    return { kind: 'sine', frequencyHz, levelDbfs: spec.levelDbfs, channels };
  }
  return { ...NO_LOAD, frequencyHz, channels };
}
