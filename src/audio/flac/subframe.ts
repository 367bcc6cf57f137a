/** One channel of one block: RFC 9639, 9.2. */
import type { BitWriter } from './bit-writer.ts';
import { planResidual, type ResidualPlan, writeResidual } from './residual.ts';

/** RFC 9639, 9.2.5: differences of up to the fourth order. */
const HIGHEST_ORDER = 4;

const CONSTANT = 0b000000;
const VERBATIM = 0b000001;
const FIXED = 0b001000;

export type SubframePlan = { samples: Int32Array; sampleBits: number; bits: number } & (
  | { kind: 'constant' }
  | { kind: 'verbatim' }
  | { kind: 'fixed'; order: number; residual: Int32Array; plan: ResidualPlan }
);

/** Chooses how a channel's block is written, and estimates how many bits it takes. */
export function planSubframe(samples: Int32Array, sampleBits: number): SubframePlan {
  if (samples.every((value) => value === samples[0])) {
    return { kind: 'constant', samples, sampleBits, bits: 8 + sampleBits };
  }
  const { order, residual } = bestDifferences(samples);
  const plan = planResidual(residual, order, samples.length);
  const bits = 8 + order * sampleBits + 6 + plan.bits;
  const plainBits = 8 + samples.length * sampleBits;
  return bits < plainBits
    ? { kind: 'fixed', samples, sampleBits, bits, order, residual, plan }
    : { kind: 'verbatim', samples, sampleBits, bits: plainBits };
}

/** The order whose differences are smallest: each is the difference of the one before. */
function bestDifferences(samples: Int32Array): { order: number; residual: Int32Array } {
  let best = { order: 0, residual: samples };
  let bestSum = sumFrom(samples, 0);
  let residual = samples;
  for (let order = 1; order <= Math.min(HIGHEST_ORDER, samples.length - 1); order += 1) {
    const next = new Int32Array(samples.length);
    for (let frame = order; frame < samples.length; frame += 1) {
      next[frame] = residual[frame]! - residual[frame - 1]!;
    }
    const sum = sumFrom(next, order);
    if (sum < bestSum) {
      best = { order, residual: next };
      bestSum = sum;
    }
    residual = next;
  }
  return best;
}

function sumFrom(values: Int32Array, first: number): number {
  let sum = 0;
  for (let frame = first; frame < values.length; frame += 1) sum += Math.abs(values[frame]!);
  return sum;
}

export function writeSubframe(writer: BitWriter, subframe: SubframePlan): void {
  const { samples, sampleBits } = subframe;
  const header = (type: number) => {
    writer.write(0, 1);
    writer.write(type, 6);
    writer.write(0, 1);
  };
  switch (subframe.kind) {
    case 'constant':
      header(CONSTANT);
      writer.write(samples[0]!, sampleBits);
      break;
    case 'verbatim':
      header(VERBATIM);
      for (const value of samples) writer.write(value, sampleBits);
      break;
    case 'fixed':
      header(FIXED + subframe.order);
      for (let frame = 0; frame < subframe.order; frame += 1) writer.write(samples[frame]!, sampleBits);
      writeResidual(writer, subframe.residual, subframe.order, samples.length, subframe.plan);
      break;
  }
}
