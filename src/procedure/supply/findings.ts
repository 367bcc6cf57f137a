import type { LegJudgement } from '../../plan/supply/leg.ts';
import type { Finding } from '../procedure.ts';
import { upright } from './figures.ts';
import type { LegName, SupplyState } from './supply.ts';

type Typed = Pick<SupplyState, 'task' | 'volts' | 'figures'>;

const REMEDY: Record<LegName, string> = {
  ground:
    'With the battery’s negative off, take the ground to bare metal close to the amplifier: scrape the paint off, tighten the bolt, crimp the lug anew, and measure again.',
  positive:
    'With the battery’s negative off, look at the fuse, its holder and every lug and crimp between battery and amplifier, and measure again.',
};

const NAME: Record<LegName, string> = { ground: 'ground', positive: 'supply wire' };

/** What is wrong, each with the figures that say so. */
export function supplyFindings(typed: Typed): Finding[] {
  return [
    ...legFindings('ground', typed.figures.legs.ground),
    ...groundDrop(typed),
    ...legFindings('positive', typed.figures.legs.positive),
    ...contradiction(typed),
  ];
}

function legFindings(leg: LegName, judged: LegJudgement | null): Finding[] {
  if (judged?.verdict !== 'poor') return [];
  return [
    {
      fault: `poor-${leg}`,
      sentence: `The ${NAME[leg]} is poor: it drops more than its wire explains.`,
      evidence: judged.why,
      remedy: REMEDY[leg],
    },
  ];
}

function groundDrop({ task, volts, figures }: Typed): Finding[] {
  const pair = volts['ground-leg'];
  if (pair === null || figures.legs.ground?.verdict === 'poor') return [];
  const { toneVolts } = upright(pair);
  if (toneVolts <= task.groundVolts) return [];
  return [
    {
      fault: 'ground-drop',
      sentence: 'The ground leg drops more than this job allows.',
      evidence: `${toneVolts.toFixed(3)} V under the tone, where ${task.groundVolts} V is allowed.`,
      remedy:
        'Shorten the ground wire or take a thicker one; where its wire is not noted, look at the joint first.',
    },
  ];
}

/** The amplifier cannot stand above the battery that feeds it: the probes did not stand where the sheet says. */
function contradiction({ volts, figures }: Typed): Finding[] {
  const { battery, amplifier } = volts;
  const step = figures.positiveStepVolts;
  if (battery === null || amplifier === null || step === null) return [];
  const isAbove = amplifier.toneVolts > battery.toneVolts;
  const shrinks = step.value + 3 * step.uncertainty < 0;
  if (!isAbove && !shrinks) return [];
  return [
    {
      fault: 'readings-disagree',
      sentence: 'The three pairs of readings cannot all be right.',
      evidence: `Under the tone ${battery.toneVolts} V at the battery and ${amplifier.toneVolts} V at the amplifier leave ${step.value.toFixed(3)} V for the supply wire.`,
      remedy: 'Read all three again under the same tone, with the engine as it was.',
    },
  ];
}

/** Whether the ground leg may be signed off: judged good, and inside the drop allowed. */
export function isGroundInside({ task, volts, figures }: Typed): boolean {
  const pair = volts['ground-leg'];
  if (pair === null || figures.legs.ground?.verdict !== 'good') return false;
  return upright(pair).toneVolts <= task.groundVolts;
}
