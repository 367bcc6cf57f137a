import { NOISE } from './noise/noise-steps.ts';

/**
 * The stations that measure by takes, each under the kind of record it makes:
 * whoever holds a log of one can replay it.
 */
export const PROCEDURES = { noise: NOISE };

export type ProcedureKind = keyof typeof PROCEDURES;
