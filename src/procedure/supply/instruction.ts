import type { SupplyState, SupplyStep } from './supply.ts';

/** Where the probes go and what to type, for each step. */
const STEP: Record<Exclude<SupplyStep, 'done'>, string> = {
  'ground-leg':
    'Hold the black probe on the battery’s minus post and the red one on the amplifier’s ground terminal; type the DC volts at rest, then under the tone.',
  current:
    'Clamp the amplifier’s supply wire and type the amperes at rest, then under the same tone; without a clamp, take the power.',
  amplifier:
    'Hold the probes across the amplifier’s supply terminals; type the DC volts at rest, then under the tone.',
  battery: 'Hold the probes across the battery’s own posts; type the DC volts at rest, then under the tone.',
};

/** What the hands do for one reading, next in turn or chosen. */
export function instructionAt(step: Exclude<SupplyStep, 'done'>): string {
  return STEP[step];
}

/** What to do with the hands now, or what came out. */
export function supplyInstruction({
  next,
  findings,
  figures,
}: Omit<SupplyState, 'instruction' | 'acceptance'>): string {
  if (next !== 'done') return instructionAt(next);
  if (findings.length > 0)
    return 'Mend what is named below, then measure again; or accept it as it was found.';
  const { ground } = figures.legs;
  if (ground === null || ground.verdict === 'cannot-tell')
    return ground?.why ?? 'The tone does not draw any current: turn it up and read again.';
  return 'Supply and ground hold up: accept the readings.';
}
