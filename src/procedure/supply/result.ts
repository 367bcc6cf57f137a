import type { LegJudgement } from '../../plan/supply/leg.ts';
import type { WireRun } from '../../plan/wire/wire-run.ts';
import { upright } from './figures.ts';
import { isGroundInside } from './findings.ts';
import type { LegResult, SupplyResult, SupplyState } from './supply.ts';

/**
 * What accepting freezes.
 * @throws Error with the reason where the readings do not make a record yet.
 */
export function supplyResult(state: SupplyState): SupplyResult {
  const { task, volts, current, figures, acceptance, findings } = state;
  const pair = volts['ground-leg'];
  const { riseAmperes, legs } = figures;
  if (!acceptance.can || pair === null || current === null || riseAmperes === null || legs.ground === null) {
    throw new Error(acceptance.why ?? 'There are no readings to accept.');
  }
  return {
    amplifierId: task.amplifierId,
    meter: state.meter,
    readings: volts,
    current,
    riseAmperes: riseAmperes.value,
    riseAmperesUncertainty: riseAmperes.uncertainty,
    groundDropVolts: upright(pair).toneVolts,
    groundVolts: task.groundVolts,
    ground: legResult(legs.ground, task.ground),
    positive: legs.positive === null ? null : legResult(legs.positive, task.positive),
    batterySagVolts: figures.batterySagVolts?.value ?? null,
    inside: isGroundInside(state) && findings.length === 0,
    findings: findings.map(({ fault, sentence, evidence }) => ({ fault, sentence, evidence })),
  };
}

function legResult(judged: LegJudgement, wire: WireRun | null): LegResult {
  return {
    wire,
    ohms: judged.ohms.value,
    ohmsUncertainty: judged.ohms.uncertainty,
    wireLowOhms: judged.wireOhms?.low ?? null,
    wireHighOhms: judged.wireOhms?.high ?? null,
    restOhms: judged.restOhms,
    verdict: judged.verdict,
  };
}
