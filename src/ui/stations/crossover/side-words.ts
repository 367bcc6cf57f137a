/** One end of a channel's band in words and figures. */
import { slopeDbPerOctave } from '../../../dsp/filters/filter-response.ts';
import type { Alignment } from '../../../dsp/filters/prototype.ts';
import { signed } from '../../../job/format/number.ts';
import type { JudgedSide, RecordedSide } from '../../../procedure/crossover/crossover.ts';
import { ALIGNMENT_NAMES } from '../../../procedure/crossover/words.ts';
import type { Mark } from '../../marks/mark.ts';
import { cornerFigure } from '../../session/crossover-progress.ts';

function slope(alignment: Alignment | null, order: number | null): string {
  const name = alignment === null ? 'alignment open' : ALIGNMENT_NAMES[alignment];
  return `${name}, ${order === null ? 'slope open' : `${slopeDbPerOctave(order)} dB/oct`}`;
}

/** "80 Hz, Linkwitz-Riley, 24 dB/oct". */
export function wantedLine({ wantedHz, wanted }: Pick<JudgedSide, 'wantedHz' | 'wanted'>): string {
  if (wantedHz === null) return 'none wanted';
  return `${wantedHz} Hz, ${wanted === null ? 'any slope' : slope(wanted.alignment, wanted.order)}`;
}

/** "80.1 Hz, Linkwitz-Riley, 24 dB/oct". */
export function foundLine({ found }: Pick<RecordedSide, 'found'>): string {
  if (found === null) return 'none';
  return `${cornerFigure(found.cutoffHz)} Hz, ${slope(found.alignment, found.order)}`;
}

export function errorWords(errorPercent: number | null): string {
  return errorPercent === null ? '' : `${signed(errorPercent, 1)} %`;
}

export function sideMark({ wantedHz, problems, open }: JudgedSide): Mark {
  if (problems.length > 0) return 'out-of-tolerance';
  if (wantedHz === null || open !== null) return 'under-way';
  return 'done';
}
