import type { SweepResponse } from '../take/sweep-take.ts';

/** 3 %: a stage that clips this much takes half a decibel off the fundamental. Common practice. */
const MOST_THIRD_DBC = -30;
/** Only where the channel plays: beside a filtered fundamental any harmonic looks large. */
const WITHIN_DB = 10;

/** The third harmonic of the sweep where it stands highest; `null` while it is small enough everywhere. */
export function loudestThirdHarmonic(
  response: SweepResponse,
): { frequencyHz: number; levelDbc: number } | null {
  const { transfer, harmonicsAtHz } = response;
  const third = response.harmonics.find(({ order }) => order === 3)?.levelsDbc ?? [];
  const levels = transfer.magnitudesDb.filter((level) => level !== null);
  const topDb = levels.reduce((top, level) => Math.max(top, level), Number.NEGATIVE_INFINITY);
  const plays = new Set(
    transfer.frequenciesHz.filter(
      (_, index) => (transfer.magnitudesDb[index] ?? -Infinity) > topDb - WITHIN_DB,
    ),
  );
  let loudest: { frequencyHz: number; levelDbc: number } | null = null;
  harmonicsAtHz.forEach((frequencyHz, index) => {
    const levelDbc = third[index];
    if (levelDbc == null || levelDbc <= MOST_THIRD_DBC || !plays.has(frequencyHz)) return;
    if (loudest === null || levelDbc > loudest.levelDbc) loudest = { frequencyHz, levelDbc };
  });
  return loudest;
}
