import { fitAtKnownFrequency } from '../../dsp/fit/known-frequency-fit.ts';
import type { CheckRecording } from './recording.ts';

/** Holds one and a half cycles, which a fit needs, of a tone of 38 Hz; and is short beside the shortest pause. */
export const CELL_SECONDS = 0.04;
const CELLS_PER_BLOCK = 256;

/** By channel, then by tone: which share of each cell's power the tone holds, 0 to 1, however loud it is. */
export type ToneShares = Float64Array[][];

export async function toneShares(recording: CheckRecording, tonesHz: readonly number[]): Promise<ToneShares> {
  const { sampleRateHz, channelCount, frames } = recording;
  const cellFrames = Math.round(CELL_SECONDS * sampleRateHz);
  const cells = Math.floor(frames / cellFrames);
  const shares = Array.from({ length: channelCount }, () => tonesHz.map(() => new Float64Array(cells)));
  for (let first = 0; first < cells; first += CELLS_PER_BLOCK) {
    const count = Math.min(CELLS_PER_BLOCK, cells - first);
    const block = await recording.read(first * cellFrames, count * cellFrames);
    for (const [channel, samples] of block.entries()) {
      for (let cell = 0; cell < count; cell += 1) {
        const power = meanPower(samples, cell * cellFrames, cellFrames);
        if (!(power > 0)) continue;
        for (const [tone, frequencyHz] of tonesHz.entries()) {
          const w = (2 * Math.PI * frequencyHz) / sampleRateHz;
          const { re, im } = fitAtKnownFrequency(samples, cell * cellFrames, cellFrames, w, {
            dc: 0,
            re: 0,
            im: 0,
          });
          shares[channel]![tone]![first + cell] = Math.min(1, (re * re + im * im) / 2 / power);
        }
      }
    }
  }
  return shares;
}

function meanPower(samples: Float32Array, from: number, frames: number): number {
  let sum = 0;
  for (let frame = from; frame < from + frames; frame += 1) sum += samples[frame]! ** 2;
  return sum / frames;
}
