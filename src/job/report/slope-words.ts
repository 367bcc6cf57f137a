/** Alignments and slopes as the trade names them. */
import { ALIGNMENT_NAMES } from '../../procedure/crossover/words.ts';
import type { JobChannel } from '../document.ts';
import { NOTHING } from '../format/number.ts';

type Slope = NonNullable<JobChannel['slopes']['highPass']>;

/** Six decibels an octave for each order, as far below the corner as it takes. */
const DB_PER_OCTAVE = 6;

export function alignmentWords(alignment: Slope['alignment'] | null): string {
  return alignment === null ? 'alignment open' : ALIGNMENT_NAMES[alignment];
}

export function wantedWords(slope: Slope | null): string {
  if (slope === null) return NOTHING;
  return `${ALIGNMENT_NAMES[slope.alignment]}, ${slope.order * DB_PER_OCTAVE} dB/octave`;
}
