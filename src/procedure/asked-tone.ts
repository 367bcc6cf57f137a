/**
 * Player and recorder run on different clocks: hundreds of ppm at worst, and a browser may slew by
 * 1000 ppm (platform notes 2.3), so 0.2 % is a clock; a short window adds up to half a hertz of its own.
 */
export function isAskedTone(heardHz: number, askedHz: number): boolean {
  return Math.abs(heardHz - askedHz) <= Math.max(0.5, 0.002 * askedHz);
}
