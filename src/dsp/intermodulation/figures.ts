import type { FittedLine } from '../fit/fitted-line.ts';
import type { TwoToneProducts } from './products.ts';

/** A figure with its standard uncertainty (k = 1), both in percent. */
interface Percent {
  percent: number;
  uncertaintyPercent: number;
}

/** One order's products against the reference, and all that were asked for. */
export interface IntermodulationFigures {
  /** `null` where one of its lines lies outside the band. */
  second: Percent | null;
  third: Percent | null;
  /** Root of the sum of squares of those two that are there; `null` where neither is. */
  total: Percent | null;
}

/**
 * Modulation distortion, the SMPTE way (60 Hz and 7 kHz, 4 to 1): how much the low tone modulates the high
 * one. The two sidebands of an order are summed as amplitudes, against the high tone:
 * `d2 = (U(f2 - f1) + U(f2 + f1)) / U(f2)`, `d3 = (U(f2 - 2 f1) + U(f2 + 2 f1)) / U(f2)`
 * (IEC 60268-3, modulation distortion; clause number not confirmed).
 *
 * Closed forms for `y = x + a x^2 + k x^3` and tones `A1`, `A2`: sidebands `a A1 A2` and
 * `3/4 k A1^2 A2`, the high tone `A2 (1 + k (3/4 A2^2 + 3/2 A1^2))`.
 */
export function modulationDistortion(products: TwoToneProducts): IntermodulationFigures {
  const reference = [products.high];
  return figures([products.at(-1, 1), products.at(1, 1)], [products.at(-2, 1), products.at(2, 1)], reference);
}

/**
 * Difference-frequency distortion, the CCIF way (two equal tones, 1 kHz apart, near the band's end): what
 * falls back into the band, against the sum of both tones:
 * `d2 = U(f2 - f1) / (U(f1) + U(f2))`, `d3 = (U(2 f1 - f2) + U(2 f2 - f1)) / (U(f1) + U(f2))`
 * (IEC 60268-3, difference-frequency distortion; clause number not confirmed).
 *
 * Closed forms as above: `a A1 A2` at the difference, `3/4 k A1^2 A2` and `3/4 k A1 A2^2` beside the tones.
 */
export function differenceFrequencyDistortion(products: TwoToneProducts): IntermodulationFigures {
  return figures(
    [products.at(-1, 1)],
    [products.at(2, -1), products.at(-1, 2)],
    [products.low, products.high],
  );
}

function figures(
  second: (FittedLine | null)[],
  third: (FittedLine | null)[],
  reference: FittedLine[],
): IntermodulationFigures {
  const ofSecond = against(second, reference);
  const ofThird = against(third, reference);
  return { second: ofSecond, third: ofThird, total: rootOfSquares([ofSecond, ofThird]) };
}

/** Sum of amplitudes over sum of amplitudes, errors taken as independent: the lines stand apart. */
function against(lines: (FittedLine | null)[], reference: FittedLine[]): Percent | null {
  const present = lines.filter((line) => line !== null);
  if (present.length < lines.length) return null;
  const [sum, ofSum] = summed(present);
  const [carrier, ofCarrier] = summed(reference);
  return {
    percent: (100 * sum) / carrier,
    uncertaintyPercent: 100 * Math.hypot(ofSum / carrier, (sum * ofCarrier) / carrier ** 2),
  };
}

function summed(lines: FittedLine[]): [sum: number, uncertainty: number] {
  return [
    lines.reduce((sum, line) => sum + line.amplitude, 0),
    Math.hypot(...lines.map((line) => line.uncertainty.amplitude)),
  ];
}

function rootOfSquares(parts: (Percent | null)[]): Percent | null {
  const present = parts.filter((part) => part !== null);
  if (present.length === 0) return null;
  const percent = Math.hypot(...present.map((part) => part.percent));
  const moved = Math.hypot(...present.map((part) => part.percent * part.uncertaintyPercent));
  return { percent, uncertaintyPercent: percent > 0 ? moved / percent : 0 };
}
