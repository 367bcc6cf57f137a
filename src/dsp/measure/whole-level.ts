import { dirichlet } from '../fit/dirichlet.ts';
import type { LineSums } from '../fit/tone-blocks.ts';
import type { FittedTone } from '../fit/tone-fit.ts';
import type { LevelMeter } from '../level/level-meter.ts';

/**
 * Mean square of a record that one steady tone fills, DC out: the tone's own power and that of
 * everything the tone and DC do not explain. A plain mean square would be off by up to
 * `1/(4 pi cycles)` where the record ends within a cycle.
 *
 * @param sums at the tone's frequency over the whole record, nothing taken out
 * @param dc full scale 1.0
 */
export function steadyMeanSquare(level: LevelMeter, tone: FittedTone, sums: LineSums, dc: number): number {
  const { frames } = sums;
  const { re, im, amplitude, angularFrequency: w } = tone;
  const total = frames * (level.variance + level.mean * level.mean);
  const explained = dc * frames * level.mean + re * sums.re + im * sums.im;
  const ofTone = ((re * re + im * im) * frames + (re * re - im * im) * dirichlet(frames, 2 * w)) / 2;
  const model = frames * dc * dc + 2 * dc * re * dirichlet(frames, w) + ofTone;
  const residual = Math.max(0, total - 2 * explained + model);
  return (amplitude * amplitude) / 2 + residual / frames;
}
