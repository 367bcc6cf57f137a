import type { LegFigures } from '../../plan/supply/power-wiring.ts';
import type { SpeakerRunCost } from '../../plan/supply/speaker-run.ts';
import { round } from './decimals.ts';
import type { AmplifierFigures } from './wiring-figures.ts';

/** Ohms of wires to a microhm, currents and volts as a meter shows them. */
export function amplifierFields({ amplifier, plan, ...given }: AmplifierFigures) {
  return {
    id: amplifier.id,
    name: amplifier.name,
    class: amplifier.class,
    classTaken: plan.stage,
    outputWatts: round(given.outputWatts, 3),
    supplyVolts: round(given.supplyVolts, 3),
    fullSineAmperes: round(plan.fullSine.amperes, 2),
    fullSineLowAmperes: round(plan.fullSine.low, 2),
    fullSineHighAmperes: round(plan.fullSine.high, 2),
    musicAmperes: round(plan.musicAmperes, 2),
    positive: legFields(plan.positive),
    ground: legFields(plan.ground),
    dropVolts: round(plan.dropVolts, 4),
    allowedDropVolts: round(given.allowedDropVolts, 3),
    advisedAwg: plan.advised.awg?.name ?? null,
    advisedMm2: plan.advised.metric?.areaMm2 ?? null,
    fuseAmperes: amplifier.wiring?.fuseAmps ?? null,
    loadFuseAmperes: plan.fuse.loadAmps,
    wireFuseAmperes: plan.fuse.wireAmps,
    warnings: plan.warnings.map(({ kind, sentence }) => ({ kind, sentence })),
  };
}

function legFields(leg: LegFigures | null) {
  return leg === null ? null : { ohms: round(leg.ohms, 6), dropVolts: round(leg.dropVolts, 4) };
}

export function speakerRunFields(cost: SpeakerRunCost | null) {
  return cost === null
    ? null
    : {
        ohms: round(cost.wireOhms, 5),
        lossDb: round(cost.lossDb, 3),
        dampingFactorMost: round(cost.dampingFactorMost, 1),
        warnings: cost.warnings,
      };
}
