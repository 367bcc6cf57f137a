import { slopeDbPerOctave } from '../../../dsp/filters/filter-response.ts';
import type { JobChannel } from '../../../job/document.ts';
import { ALIGNMENT_NAMES } from '../../../procedure/crossover/words.ts';

export type WantedSlope = JobChannel['slopes']['highPass'];
type Slope = NonNullable<WantedSlope>;

/** What crossovers in vehicles offer (common practice). A Linkwitz-Riley is two equal Butterworths, so its order is even. */
const OFFERED: readonly Slope[] = [
  ...[1, 2, 3, 4, 8].map((order): Slope => ({ alignment: 'butterworth', order })),
  ...[2, 4, 8].map((order): Slope => ({ alignment: 'linkwitz-riley', order })),
  ...[2, 3, 4].map((order): Slope => ({ alignment: 'bessel', order })),
];

const ANY = 'any';

export function slopeValue(slope: WantedSlope): string {
  return slope === null ? ANY : `${slope.alignment} ${slope.order}`;
}

/** Any slope, those usually offered, and the present one should it be none of them. */
function choicesWith(present: WantedSlope): WantedSlope[] {
  const known = OFFERED.some((one) => slopeValue(one) === slopeValue(present));
  return [null, ...OFFERED, ...(present === null || known ? [] : [present])];
}

/** For a field of choices. */
export function slopeChoices(present: WantedSlope): { value: string; words: string }[] {
  return choicesWith(present).map((slope) => ({
    value: slopeValue(slope),
    words:
      slope === null
        ? 'any will do'
        : `${ALIGNMENT_NAMES[slope.alignment]}, ${slopeDbPerOctave(slope.order)} dB/octave`,
  }));
}

/** Inverse of {@link slopeValue}, among the choices. */
export function slopeOf(value: string, present: WantedSlope): WantedSlope {
  return choicesWith(present).find((slope) => slopeValue(slope) === value) ?? null;
}
