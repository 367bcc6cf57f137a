/**
 * The ideal symmetric limiter on a sine: how far the fundamental stands above the largest clean sine,
 * at a given THD (F form, all harmonics). Closed form; the numbers are those of the project's references,
 * section 3.2, "Overdrive at a given THD_F".
 */
const THD_PERCENT = [0.01, 0.05, 0.1, 0.3, 0.5, 1, 2, 3, 5, 10, 20, 30, 40] as const;
const FUNDAMENTAL_ABOVE_CLIP_DB = [
  0.0055, 0.0196, 0.0338, 0.0797, 0.1184, 0.2011, 0.3387, 0.4566, 0.659, 1.0551, 1.5889, 1.9039, 2.0614,
] as const;

/** dB above the knee's level at which such a limiter shows this THD; held at the table's ends, 0 for 0 and NaN. */
export function levelAboveKneeDb(thdPercent: number): number {
  if (!(thdPercent > THD_PERCENT[0])) return 0;
  let upper = 1;
  while (upper < THD_PERCENT.length - 1 && thdPercent > (THD_PERCENT[upper] ?? Infinity)) upper++;
  const x0 = Math.log(THD_PERCENT[upper - 1] ?? 1);
  const x1 = Math.log(THD_PERCENT[upper] ?? 1);
  const y0 = FUNDAMENTAL_ABOVE_CLIP_DB[upper - 1] ?? 0;
  const y1 = FUNDAMENTAL_ABOVE_CLIP_DB[upper] ?? 0;
  const share = Math.min(1, (Math.log(thdPercent) - x0) / (x1 - x0));
  return y0 + share * (y1 - y0);
}
