/** Where the axes of pictures begin and end. */

/** Steps that people count in. */
const STEPS = [1, 2, 5, 10] as const;

/** About `count` round steps over a span: 1, 2 or 5 times a power of ten. */
export function roundStep(span: number, count: number): number {
  const rough = span / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  return power * (STEPS.find((step) => step * power >= rough * 0.999) ?? 10);
}

/** Rounded outwards, so that no dot lies on the frame; a single value gets room around it. */
export function linearRange(values: readonly number[]): { lowest: number; highest: number } {
  const least = Math.min(...values);
  const most = Math.max(...values);
  const span = most > least ? most - least : Math.max(Math.abs(most), 1) * 0.2;
  const step = roundStep(span * 1.1, 8);
  return {
    lowest: step * Math.floor((least - span * 0.04) / step),
    highest: step * Math.ceil((most + span * 0.04) / step),
  };
}
