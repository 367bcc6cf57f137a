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
