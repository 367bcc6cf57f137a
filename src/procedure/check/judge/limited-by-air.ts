import { highOrderPercent } from '../../../dsp/knee/high-order.ts';
import { gainDb, type HeardSine, softest } from '../facts.ts';
import { number } from '../words.ts';

/**
 * What a limit does at least, by the closed form of the clipped sine: 0.6 dB above it a tone loses 0.18 dB and has 1.9 %
 * of harmonics from the 4th up, 2 dB above it 1.0 dB and 3.7 %. A room may raise the tone against its harmonics: by
 * 5 dB in the first case, by 19 dB in the second, where the loss says more. A driver's distortion is mostly 2nd and
 * 3rd (design, section 5), and in a tone of a second its coil is not warm enough to take off as much: only both
 * together are a limit's.
 */
const SIGNS = [
  { lostDb: 0.18, highPercent: 1 },
  { lostDb: 1, highPercent: 0.4 },
] as const;
/** What a reverberant room and its noise may do to the ratio; less growth than this is the path's own. */
const GROWTH = 3;
/** About 95 % (JCGM 100 6.2). */
const COVERAGE = 2;

export interface LimitedByAir {
  isLimited: boolean;
  /** The figures, one sentence. */
  evidence: string;
}

/**
 * Whether a tone that a microphone heard met a limit, by what became of it against the same tone played softer: room
 * and driver colour both alike.
 *
 * @param softer the same tone, at lower levels
 * @returns `null` where no softer one was heard whole, or the band holds no harmonic from the 4th up
 */
export function limitedByAir(sine: HeardSine, softer: readonly HeardSine[]): LimitedByAir | null {
  const base = softest(softer);
  const high = highOf(sine);
  if (base === null || high === null) return null;
  const before = highOf(base) ?? 0;
  const lostDb = gainDb(base) - gainDb(sine);
  const openDb = COVERAGE * Math.hypot(sine.uncertaintyDb, base.uncertaintyDb);
  const isSign = SIGNS.some((sign) => high >= sign.highPercent && lostDb >= sign.lostDb + openDb);
  return {
    isLimited: isSign && high >= GROWTH * before,
    evidence: `Harmonics from the 4th up make ${number(high, 1)} % and ${number(before, 1)} % of the tone played ${number(sine.part.levelDbfs - base.part.levelDbfs, 0)} dB softer, and the tone comes back ${number(lostDb, 2)} dB softer than it should.`,
  };
}

function highOf({ read }: HeardSine): number | null {
  const { tone } = read.reading.channel;
  return tone === null ? null : highOrderPercent(tone.harmonicsDbc);
}
