import type { StationState } from '../procedure.ts';
import { ENGINE_STATES, type NoiseState } from './noise.ts';
import { drownedByHz } from './ripple.ts';
import { ENGINE_WORDS, listed } from './words.ts';

/**
 * A floor alone is worth recording. What gives pause: states that are missing, noise over the limit, and
 * no volts to judge it by.
 */
export function acceptanceOf({
  task,
  takes,
  worst,
}: Pick<NoiseState, 'task' | 'takes' | 'worst'>): StationState['acceptance'] {
  const missing = ENGINE_STATES.filter((engine) => takes[engine] === null);
  if (worst === null) {
    return {
      can: false,
      why: 'Nothing was recorded yet: begin with the engine off.',
      needsSecondThought: false,
    };
  }
  const pause = (why: string) => ({ can: true, why, needsSecondThought: true });
  if (missing.length > 0) {
    return pause(`Nothing was recorded yet ${listed(missing.map((engine) => ENGINE_WORDS[engine]))}.`);
  }
  const toneHz = drownedByHz(takes);
  if (toneHz !== null) {
    return pause(`A tone of ${toneHz.toFixed(0)} Hz drowns the floor: see that the source is paused.`);
  }
  if (worst.belowTargetDb !== null && worst.belowTargetDb < task.noiseDb) {
    return pause(
      `The noise lies ${worst.belowTargetDb.toFixed(1)} dB below the target ${ENGINE_WORDS[worst.engine]}; at least ${task.noiseDb} dB are asked for.`,
    );
  }
  if (task.place === 'terminals' && worst.belowTargetDb === null) {
    return pause(
      'Without volts nothing says how far the noise lies below the target: calibrate the input first.',
    );
  }
  return { can: true, why: null, needsSecondThought: false };
}
