/** Alignments and slopes as the trade names them. */
import type { JobChannel } from '../document.ts';
import { NOTHING } from '../format/number.ts';

type Slope = NonNullable<JobChannel['slopes']['highPass']>;

const ALIGNMENTS: Record<Slope['alignment'], string> = {
  butterworth: 'Butterworth',
  'linkwitz-riley': 'Linkwitz-Riley',
  bessel: 'Bessel',
};

/** Six decibels an octave for each order, as far below the corner as it takes. */
const DB_PER_OCTAVE = 6;

export function alignmentWords(alignment: Slope['alignment'] | null): string {
  return alignment === null ? 'alignment open' : ALIGNMENTS[alignment];
}

export function wantedWords(slope: Slope | null): string {
  if (slope === null) return NOTHING;
  return `${ALIGNMENTS[slope.alignment]}, ${slope.order * DB_PER_OCTAVE} dB/octave`;
}
