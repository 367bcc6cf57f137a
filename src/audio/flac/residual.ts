/** Rice codes of what a predictor leaves: RFC 9639, 9.2.7. */
import type { BitWriter } from './bit-writer.ts';

/** Up to 2^6 partitions of a block; finer ones cost more than they save on what is played here. */
const FINEST_ORDER = 6;
/** Four bits hold a parameter up to 14; the next kind of code has five and holds up to 30. */
const HIGHEST_SHORT_PARAMETER = 14;
const HIGHEST_PARAMETER = 30;

export interface ResidualPlan {
  /** The block is cut in 2^order partitions. */
  order: number;
  parameters: number[];
  /** Estimate, a little above what is written. */
  bits: number;
}

/** Negative and positive numbers in turn: 0, -1, 1, -2, 2, … as 0, 1, 2, 3, 4, … */
function folded(value: number): number {
  return ((value << 1) ^ (value >> 31)) >>> 0;
}

/** @param residual `blockFrames` numbers, of which the first `warmUp` are stored plainly and do not count */
export function planResidual(residual: Int32Array, warmUp: number, blockFrames: number): ResidualPlan {
  let order = FINEST_ORDER;
  while (order > 0 && (blockFrames % 2 ** order !== 0 || blockFrames / 2 ** order <= warmUp)) order -= 1;
  let sums = partitionSums(residual, warmUp, blockFrames, order);
  let best = planOf(sums, warmUp, blockFrames, order);
  while (order > 0) {
    order -= 1;
    sums = Float64Array.from({ length: 2 ** order }, (_, at) => sums[2 * at]! + sums[2 * at + 1]!);
    const plan = planOf(sums, warmUp, blockFrames, order);
    if (plan.bits <= best.bits) best = plan;
  }
  return best;
}

function partitionSums(
  residual: Int32Array,
  warmUp: number,
  blockFrames: number,
  order: number,
): Float64Array {
  const sums = new Float64Array(2 ** order);
  const length = blockFrames / sums.length;
  for (let frame = warmUp; frame < blockFrames; frame += 1) {
    sums[Math.floor(frame / length)]! += folded(residual[frame]!);
  }
  return sums;
}

function planOf(sums: Float64Array, warmUp: number, blockFrames: number, order: number): ResidualPlan {
  const length = blockFrames / sums.length;
  let bits = 0;
  const parameters = Array.from(sums, (sum, partition) => {
    const count = partition === 0 ? length - warmUp : length;
    const parameter = bestParameter(sum, count);
    bits += 5 + count * (parameter + 1) + sum / 2 ** parameter;
    return parameter;
  });
  return { order, parameters, bits };
}

/** The parameter whose codes are shortest for numbers of this sum: near the logarithm of their mean. */
function bestParameter(sum: number, count: number): number {
  const cost = (parameter: number) => count * (parameter + 1) + sum / 2 ** parameter;
  let parameter = 0;
  while (parameter < HIGHEST_PARAMETER && cost(parameter + 1) < cost(parameter)) parameter += 1;
  return parameter;
}

export function writeResidual(
  writer: BitWriter,
  residual: Int32Array,
  warmUp: number,
  blockFrames: number,
  { order, parameters }: ResidualPlan,
): void {
  const isLong = parameters.some((parameter) => parameter > HIGHEST_SHORT_PARAMETER);
  writer.write(isLong ? 1 : 0, 2);
  writer.write(order, 4);
  const length = blockFrames / parameters.length;
  for (const [partition, parameter] of parameters.entries()) {
    writer.write(parameter, isLong ? 5 : 4);
    const end = (partition + 1) * length;
    for (let frame = partition === 0 ? warmUp : partition * length; frame < end; frame += 1) {
      const value = folded(residual[frame]!);
      writer.writeUnary(value >>> parameter);
      writer.write(value, parameter);
    }
  }
}
