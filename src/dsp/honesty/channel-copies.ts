import type { InputFinding } from './judgement.ts';
import type { Stretch } from './locate-steps.ts';

/** Two converters' noises are strangers to each other; a common source's noise in both leaves more than this apart. */
const SAME = 0.9999;

/**
 * Whether two channels are one: bit for bit, or one a copy of the other at another level. Judged in the
 * pauses, where each converter's own noise is heard; the tone itself is the same in both by right.
 */
export function copyFinding(
  channels: readonly (Float32Array | Float64Array)[],
  pauses: readonly Stretch[],
): InputFinding | null {
  const first = channels[0]!;
  for (const [index, other] of channels.entries()) {
    if (index === 0) continue;
    const names = `Channels 1 and ${index + 1}`;
    if (first.length > 0 && sameBits(first, other)) {
      return {
        fault: 'one-channel-twice',
        evidence: `${names} are alike in every one of ${first.length} samples: one channel is given twice, or both were summed.`,
      };
    }
    const likeness = likenessOf(first, other, pauses);
    if (likeness > SAME) {
      return {
        fault: 'one-channel-twice',
        evidence: `${names} have the same noise in the pauses (correlation ${likeness.toFixed(5)}): one is a copy of the other.`,
      };
    }
  }
  return null;
}

function sameBits(a: Float32Array | Float64Array, b: Float32Array | Float64Array): boolean {
  for (let n = 0; n < a.length; n += 1) if (a[n] !== b[n]) return false;
  return true;
}

/** Correlation of the differences between neighbouring samples, which leaves common hum and rumble out; 0 for silence. */
function likenessOf(
  a: Float32Array | Float64Array,
  b: Float32Array | Float64Array,
  pauses: readonly Stretch[],
): number {
  let [aa, bb, ab] = [0, 0, 0];
  for (const { from, to } of pauses) {
    for (let n = from + 1; n < to; n += 1) {
      const x = a[n]! - a[n - 1]!;
      const y = b[n]! - b[n - 1]!;
      aa += x * x;
      bb += y * y;
      ab += x * y;
    }
  }
  return aa > 0 && bb > 0 ? Math.abs(ab) / Math.sqrt(aa * bb) : 0;
}
