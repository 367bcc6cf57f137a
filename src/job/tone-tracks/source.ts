import type { TurnOnPurpose } from '../../procedure/turn-on/turn-on.ts';
import { turnOnSpec } from '../../procedure/turn-on/turn-on-signal.ts';
import { SOURCE_TONES, TURN_ON_TRIES } from '../source-tasks.ts';
import type { Unfiled } from './channels.ts';

/** Long enough to walk a few volume steps by; the radio repeats it. */
const SECONDS = 20;
/** What the renderer takes (`src/dsp/tones/limits.ts`). */
const HIGHEST_SHARE_OF_RATE = 0.46;
const FULL_SCALE_CAUTION =
  'As loud as the radio can be: gains fully down and factory speakers unplugged before it plays.';

type SteadyId = 'source-left' | 'source-right' | 'source-bass' | 'source-treble';

function steady(
  id: SteadyId,
  channels: Unfiled['channels'],
  of: keyof typeof SOURCE_TONES,
  purpose: string,
): Unfiled {
  const tone = SOURCE_TONES[of];
  const caution = tone.levelDbfs === 0 ? FULL_SCALE_CAUTION : null;
  return {
    id,
    kind: 'sine',
    channels,
    serves: [],
    purpose,
    caution,
    ...tone,
    startSeconds: 0,
    durationSeconds: SECONDS,
  };
}

/** What the volume is walked up with; left and right apart, so that they show which side is which as well. */
function steadyTracks(): Unfiled[] {
  const ceiling = 'Shows how far up the radio stays clean, and which side is which.';
  return [
    steady('source-left', 'left', 'middle', ceiling),
    steady('source-right', 'right', 'middle', ceiling),
    steady('source-bass', 'both', 'bass', 'Shows from which volume step on the radio takes bass away.'),
    steady('source-treble', 'both', 'treble', 'Shows whether the radio changes its treble with the volume.'),
  ];
}

function tryTrack(purpose: TurnOnPurpose): Unfiled {
  const spec = turnOnSpec(TURN_ON_TRIES, purpose);
  const { stepSeconds, pauseSeconds, levelsDbfs } = spec;
  return {
    id: purpose.try === 'silence' ? `turn-on-${purpose.seconds}` : `keep-alive-${-purpose.levelDbfs}`,
    channels: 'both',
    serves: [],
    purpose:
      purpose.try === 'silence'
        ? `Shows whether ${purpose.seconds} s of silence send the converter to sleep.`
        : `Shows whether a quiet ${spec.frequencyHz} Hz tone holds the converter awake.`,
    caution: null,
    ...spec,
    startSeconds: 0,
    durationSeconds: levelsDbfs.length * (stepSeconds + pauseSeconds) - pauseSeconds,
  };
}

/** A converter that the first silence sends to sleep is the one that is kept awake: tracks for that one. */
function turnOnTracks(): Unfiled[] {
  const { silencesSeconds, keepAliveDbfs } = TURN_ON_TRIES;
  const [seconds = 10] = silencesSeconds;
  return [
    ...silencesSeconds.map((one) => tryTrack({ try: 'silence', seconds: one })),
    ...keepAliveDbfs.map((levelDbfs) => tryTrack({ try: 'keep-alive', seconds, levelDbfs })),
  ];
}

/** Without the treble where the rate does not carry it: another one would be taken for none. */
export function sourceTracks(sampleRateHz: number): Unfiled[] {
  const carried = SOURCE_TONES.treble.frequencyHz <= HIGHEST_SHARE_OF_RATE * sampleRateHz;
  const steady = steadyTracks().filter(({ id }) => carried || id !== 'source-treble');
  return [...steady, ...turnOnTracks()];
}
