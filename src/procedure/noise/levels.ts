import { ENGINE_STATES, type NoiseLevel, type NoiseState, type NoiseTask } from './noise.ts';

/** Volts RMS on a decibel scale, from the level at the input. Inverse of reading dBV back through the calibration. */
export function dbvOf(levelDbfs: number | null, { voltsPerFs }: NoiseTask): number | null {
  return levelDbfs === null || voltsPerFs === null ? null : levelDbfs + 20 * Math.log10(voltsPerFs);
}

/** How far a level lies below the channel's target, dB; `null` without volts or target. */
export function belowTargetDb(levelDbfs: number | null, task: NoiseTask): number | null {
  const levelDbv = dbvOf(levelDbfs, task);
  if (levelDbv === null || task.targetVolts === null) return null;
  return 20 * Math.log10(task.targetVolts) - levelDbv;
}

/** Levels of the recordings made so far, lines and all, in the order off, idle, revved. */
export function levelsOf({ task, takes }: Pick<NoiseState, 'task' | 'takes'>): NoiseLevel[] {
  return ENGINE_STATES.flatMap((engine): NoiseLevel[] => {
    const reading = takes[engine];
    if (reading === null) return [];
    const { levelDbfs, aWeightedDbfs } = reading.floor;
    return [
      {
        engine,
        levelDbfs,
        levelDbv: dbvOf(levelDbfs, task),
        aWeightedDbfs,
        belowTargetDb: belowTargetDb(levelDbfs, task),
      },
    ];
  });
}

/** The loudest; of equal ones the first. */
export function worstOf(levels: readonly NoiseLevel[]): NoiseLevel | null {
  return levels.reduce<NoiseLevel | null>(
    (worst, level) =>
      worst === null || (level.levelDbfs ?? -Infinity) > (worst.levelDbfs ?? -Infinity) ? level : worst,
    null,
  );
}
