/** Which inputs must carry a channel's tone, and what it reads where they do not all. */
import { type PartialTone, partialTones } from '../plan/tone/summed-inputs.ts';
import type { JobChannel } from './document.ts';

export interface SummedTone {
  inputs: number;
  /** "the left and the right input", "all 4 inputs". */
  needed: string;
  /** Whether the tone, played as this channel is fed, reaches all of them. */
  reachesAll: boolean;
  /** From one input fewer down to one. */
  partial: PartialTone[];
}

function neededWords({ fedBy, summedInputs }: JobChannel): string {
  if (summedInputs !== 2) return `all ${summedInputs} inputs`;
  return fedBy === 'both' ? 'the left and the right input' : 'both inputs';
}

/**
 * `null` where nothing is summed.
 * @param toneVolts what the plan expects with the tone played as the channel is fed
 */
export function summedTone(channel: JobChannel, toneVolts: number | null): SummedTone | null {
  const { summedInputs: inputs, fedBy } = channel;
  if (inputs === 1) return null;
  const reachesAll = fedBy === 'both';
  // Fed by one side, the plan's own figure is already that of one input.
  const onAll = toneVolts === null || reachesAll ? toneVolts : toneVolts * inputs;
  return { inputs, needed: neededWords(channel), reachesAll, partial: partialTones(inputs, onAll) };
}

/** "on one alone 10.00 V, 6.02 dB low", from one input fewer down to one. */
export function partialWords({ inputs, partial }: SummedTone): string[] {
  return partial.map(({ carrying, lossDb, toneVolts }) => {
    const which = carrying === 1 ? 'on one alone' : `on ${carrying} of ${inputs}`;
    const reads = toneVolts === null ? '' : ` ${toneVolts.toFixed(2)} V,`;
    return `${which}${reads} ${(-lossDb).toFixed(2)} dB low`;
  });
}

/** The rule for a summed channel's tone, one sentence; `null` where nothing is summed. */
export function summedSentence(channel: JobChannel, toneVolts: number | null): string | null {
  const summed = summedTone(channel, toneVolts);
  if (summed === null) return null;
  const start = summed.reachesAll
    ? `${channel.name} is fed from a sum: ${summed.needed} must carry the tone`
    : `${channel.name} is fed from a sum and ${summed.needed} should carry the tone, which now reaches one of them`;
  return `${start}; ${partialWords(summed).join('; ')}.`;
}
