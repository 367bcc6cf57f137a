import type { CrossoverResult, CrossoverState, JudgedSide, RecordedSide } from './crossover.ts';
import { sideInside } from './judge.ts';

/** What reading of noise no curve needs: a hundredth of what is seen. */
const DECIMALS_DB = 3;
const DECIMALS_DEG = 2;

function rounded(values: readonly (number | null)[], decimals: number): (number | null)[] {
  const scale = 10 ** decimals;
  return values.map((value) => (value === null ? null : Math.round(value * scale) / scale));
}

function recordedSide(side: JudgedSide): RecordedSide {
  const { wantedHz, wanted, found, errorPercent } = side;
  if (found === null) return { wantedHz, wanted, found, errorPercent, inside: sideInside(side) };
  const { alignment, order, cutoffHz, cutoffUncertaintyHz, slopeDbPerOctave } = found;
  const kept = { alignment, order, cutoffHz, cutoffUncertaintyHz, slopeDbPerOctave };
  return { wantedHz, wanted, found: kept, errorPercent, inside: sideInside(side) };
}

/** @throws Error where the channel on the bench has not been swept */
export function crossoverResult(state: CrossoverState): CrossoverResult {
  const measured = state.measured[state.channelId];
  if (measured === undefined) throw new Error(state.acceptance.why ?? 'This channel has not been swept yet.');
  const { response, sides, reference, sweep, grade, doubts } = measured;
  const finding = response.finding!;
  const { frequenciesHz, magnitudesDb, phasesDeg, uncertaintiesDb } = response.transfer;
  return {
    channelId: state.channelId,
    inside: sideInside(sides.highPass) !== false && sideInside(sides.lowPass) !== false,
    tolerancePercent: state.task.cornerPercent,
    reference,
    sweep,
    highPass: recordedSide(sides.highPass),
    lowPass: recordedSide(sides.lowPass),
    verdict: finding.verdict,
    residualDb: finding.residualDb,
    inverted: response.delay?.inverted ?? null,
    sums: state.sums,
    curve: {
      frequenciesHz: frequenciesHz.map((hertz) => Number(hertz.toPrecision(6))),
      magnitudesDb: rounded(magnitudesDb, DECIMALS_DB),
      phasesDeg: rounded(phasesDeg, DECIMALS_DEG),
      uncertaintiesDb: rounded(uncertaintiesDb, DECIMALS_DB),
    },
    grade,
    doubts,
    findings: state.findings,
  };
}
