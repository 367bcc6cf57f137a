import type { Unfiled } from './channels.ts';

const TEST_HZ = 997;
/** The stepped tone that an input is judged by: long enough for automatic gain to move, quiet enough for a hall of a cabin. */
export const LEVEL_STEPS = {
  kind: 'steps',
  frequencyHz: TEST_HZ,
  levelsDbfs: [-40, -30, -20, -10],
  stepSeconds: 3,
  pauseSeconds: 0.5,
} as const;

/** One beep on the left, two on the right: swapped wires are heard before anything is measured. */
export function sideTracks(): Unfiled[] {
  return (['left', 'right'] as const).map((side, index) => ({
    id: `${side}-identification`,
    kind: 'identification',
    channels: side,
    serves: [],
    purpose: `Tells by ear whether the ${side} side comes out on the ${side}: groups of ${index === 0 ? 'one beep' : 'two beeps'}.`,
    caution: null,
    frequencyHz: TEST_HZ,
    levelDbfs: -20,
    beeps: index + 1,
    startSeconds: 0,
    durationSeconds: 10,
  }));
}

/** What shows an input for what it is, whatever its browser says of it. */
export function honestyTracks(): Unfiled[] {
  const { levelsDbfs, stepSeconds, pauseSeconds } = LEVEL_STEPS;
  return [
    {
      id: 'level-steps',
      ...LEVEL_STEPS,
      levelsDbfs: [...levelsDbfs],
      channels: 'both',
      serves: [],
      purpose:
        'Shows whether the input is honest: each step must read 10.0 dB, and hold still for its three seconds.',
      caution: null,
      startSeconds: 0,
      durationSeconds: levelsDbfs.length * stepSeconds + (levelsDbfs.length - 1) * pauseSeconds,
    },
    {
      id: 'silence',
      kind: 'silence',
      channels: 'both',
      serves: [],
      purpose:
        'Keeps the source awake while it plays nothing, so that the noise floor and the engine can be heard alone.',
      caution: null,
      startSeconds: 0,
      durationSeconds: 30,
    },
  ];
}
