import { ARRIVAL } from './arrival/arrival-steps.ts';
import { CROSSOVER } from './crossover/crossover-steps.ts';
import { INPUT_PROCEDURE } from './input/input-steps.ts';
import { LEVEL } from './level/level-steps.ts';
import { LOAD_PROCEDURE } from './load/load-steps.ts';
import { NOISE } from './noise/noise-steps.ts';
import { POLARITY } from './polarity/polarity-steps.ts';
import { SIDES_PROCEDURE } from './sides/sides-steps.ts';
import { SOURCE_PROCEDURE } from './source/source-steps.ts';
import { TURN_ON_PROCEDURE } from './turn-on/turn-on-steps.ts';

/**
 * The stations that measure by takes, each under the kind of record it makes:
 * whoever holds a log of one can replay it.
 */
export const PROCEDURES = {
  input: INPUT_PROCEDURE,
  noise: NOISE,
  source: SOURCE_PROCEDURE,
  load: LOAD_PROCEDURE,
  sides: SIDES_PROCEDURE,
  'turn-on': TURN_ON_PROCEDURE,
  crossover: CROSSOVER,
  level: LEVEL,
  polarity: POLARITY,
  arrival: ARRIVAL,
};

export type ProcedureKind = keyof typeof PROCEDURES;
