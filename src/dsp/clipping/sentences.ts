import type { ClippedSide } from '../reading.ts';
import type { RailFacts } from './codes.ts';
import { timeOnRails } from './limited-sine.ts';
import type { LimiterFinding } from './limiter-finding.ts';
import { overdriveOfAngle } from './overdrive.ts';

/** Two digits at most: these are read from a metre away. */
function figure(value: number): string {
  return Number(value.toPrecision(value >= 10 ? 2 : 1)).toString();
}

const percent = (share: number) => `${figure(100 * share)} %`;

const CRESTS: Record<ClippedSide, string> = {
  both: 'Crests are flat at both sides',
  positive: 'The positive crest is flat',
  negative: 'The negative crest is flat',
};

/** What the folded period shows. */
export function flatCrests({ side, wave }: LimiterFinding): string {
  const rails = timeOnRails(wave);
  return `${CRESTS[side]} for ${percent(rails.high + rails.low)} of the time.`;
}

const ordinal = (order: number) => {
  const teen = order % 100 > 10 && order % 100 < 14;
  return `${order}${teen ? 'th' : (['th', 'st', 'nd', 'rd'][order % 10] ?? 'th')}`;
};

/** How high the folded crest stands. */
export function crestDrop({ crestDropDb }: LimiterFinding): string {
  return `Folded over one period, the crest stands ${figure(crestDropDb)} dB lower than the sine would.`;
}

/** What the high harmonics show. */
export function highHarmonics({ match }: LimiterFinding): string {
  const agreement = percent(Math.max(0, match.explained));
  return `Harmonics up to the ${ordinal(match.highestPresent)} match a hard limit (${agreement}).`;
}

/** What odd and even harmonics say of the side. */
export function sideByHarmonics({ side, wave, masked }: LimiterFinding): string {
  if (side !== 'both') return `Even and odd harmonics alike: only the ${side} side reaches its limit.`;
  const [high, low] = [overdriveOfAngle(wave.highAngle), overdriveOfAngle(wave.lowAngle)];
  if (Math.abs(high - low) < 0.1 * Math.max(high, low)) {
    return masked ? 'Both sides are cut alike.' : 'Odd harmonics only: both sides are cut alike.';
  }
  return `Both sides are cut, the ${high > low ? 'positive' : 'negative'} one more.`;
}

export const LOW_HARMONICS_MASKED =
  '2nd and 3rd harmonics do not fit the limit: something else, perhaps the driver, makes them too.';

export const NEARLY_SQUARE = 'The wave is nearly square: the overdrive is too large to put in figures.';

export const ROUNDED_CRESTS: Record<ClippedSide, string> = {
  both: 'Both crests are rounded off: 3rd, 5th and 7th harmonics stand in step with them.',
  positive: 'The positive crest is rounded off: 3rd, 5th and 7th harmonics stand in step with it.',
  negative: 'The negative crest is rounded off: 3rd, 5th and 7th harmonics stand in step with it.',
};

export const SOFT_LIMIT = 'No hard limit fits, so the overdrive has no figure.';

export function slewLimited(explained: number, overdriveDb: number): string[] {
  return [
    `Slew-limited: odd harmonics stand across the crest as a limit on slope makes them (${percent(explained)}).`,
    `The steepest part asks for ${figure(overdriveDb)} dB more than the output can follow: less level, or a lower tone.`,
  ];
}

export const TRIANGLE = 'The wave is a triangle: slew-limited all the way, or a triangle was played.';

/** @param reactance against resistance at the tone */
export function currentLimited(explained: number, reactance: number): string[] {
  const degrees = figure((Math.atan(Math.abs(reactance)) * 180) / Math.PI);
  return [
    `Current-limited: the wave is cut ${degrees} degrees ${reactance > 0 ? 'after' : 'before'} its crest, where the current of this load peaks.`,
    `Harmonics match a limit on current into a reactive load (${percent(explained)}).`,
  ];
}

/** What the codes of one polarity show. */
export function stuckCodes(side: 'positive' | 'negative', rail: RailFacts): string {
  if (rail.peak > 1.001) {
    return `The input goes beyond full scale on the ${side} side (${rail.peak.toFixed(3)}): turn it down.`;
  }
  const run = rail.longestRun > 1 ? `, up to ${rail.longestRun} in a row` : '';
  return `${rail.frames} samples sit at full scale on the ${side} side${run}: turn the input down.`;
}

export function wholeWave(visibleDb: number): string {
  return `No flat crest: more than ${figure(visibleDb)} dB past a ceiling would show.`;
}

/** Distortion that is there and is not a ceiling's. */
export function otherDistortion(content: number, lowOnly: boolean): string {
  if (lowOnly)
    return `Distortion of ${percent(content)} is 2nd and 3rd harmonic only: not the mark of clipping.`;
  return `Distortion of ${percent(content)} does not follow the pattern of a ceiling.`;
}

export function beyondFullScaleButWhole(peak: number): string {
  return `Values go beyond full scale (${peak.toFixed(3)}), yet the wave is whole.`;
}

export function perhapsCompressed(content: number): string {
  return `A 3rd harmonic of ${percent(content)} flattens both crests, with no higher ones to tell a ceiling from a driver.`;
}

export function unexplained(content: number): string {
  return `Harmonics from the 4th up make ${percent(content)}, but not in the pattern of a ceiling.`;
}

export const NO_TONE = 'No steady tone stands out, so crests cannot be judged.';

export function tooFewHarmonics(held: number): string {
  const fit = ['No harmonic of this tone fits', 'Only 1 harmonic of this tone fits'][held];
  return `${fit ?? `Only ${held} harmonics of this tone fit`} below 16 kHz: too few to judge crests. Use a lower tone.`;
}

export const TOO_NOISY = 'Too noisy to see a flat crest. Use more level or a quieter path.';
