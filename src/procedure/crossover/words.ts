/** Figures and names as the sentences of this station say them. */
import type { FittedFilter } from '../../dsp/filters/filter-fit.ts';
import { slopeDbPerOctave } from '../../dsp/filters/filter-response.ts';
import type { Alignment } from '../../dsp/filters/prototype.ts';
import type { WantedSlope } from './crossover.ts';

/** As the trade names them. */
export const ALIGNMENT_NAMES: Record<Alignment, string> = {
  butterworth: 'Butterworth',
  'linkwitz-riley': 'Linkwitz-Riley',
  bessel: 'Bessel',
};

export function hertz(value: number): string {
  return `${value < 100 ? Number(value.toFixed(1)) : Math.round(value)} Hz`;
}

export function slopeWords(order: number): string {
  return `${slopeDbPerOctave(order)} dB per octave`;
}

export function wantedWords(wanted: WantedSlope): string {
  return `${ALIGNMENT_NAMES[wanted.alignment]}, ${slopeWords(wanted.order)}`;
}

/** "Linkwitz-Riley, 24 dB per octave, at 80.1 ± 0.1 Hz (−6 dB)"; the ± is at k = 2, as everywhere on screen. */
export function foundWords(found: FittedFilter): string {
  const { alignment, order, cutoffHz, cutoffUncertaintyHz } = found;
  const name = alignment === null ? 'an alignment that two explain equally well' : ALIGNMENT_NAMES[alignment];
  const slope = order === null ? 'slope open' : slopeWords(order);
  const at = alignment === 'linkwitz-riley' ? '−6 dB' : '−3 dB';
  return `${name}, ${slope}, at ${cutoffHz.toFixed(1)} ± ${plusMinus(2 * cutoffUncertaintyHz)} Hz (${at})`;
}

/** To the digit it deserves, upward: 0.1 at least, as the corner beside it is shown. */
function plusMinus(uncertainty: number): string {
  return (Math.ceil(10 * uncertainty) / 10).toFixed(1);
}

export function decibels(value: number): string {
  return `${value.toFixed(1).replace('-', '−')} dB`;
}
