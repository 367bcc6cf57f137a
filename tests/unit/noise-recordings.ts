import { Random } from '../../src/dsp/tones/random.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';

export type NoiseColour = 'white' | 'pink' | 'brown';

/** Noise of this RMS; pink by P. Kellet's three-pole filter (-3.01 dB/octave within 0.05 dB above 10 Hz), brown by a leaky sum. */
export function noise(colour: NoiseColour, rms: number, frames: number, seed: number): Float64Array {
  const gauss = seededGauss(seededUniform(seed));
  const samples = new Float64Array(frames);
  const s = new Float64Array(7);
  let squares = 0;
  for (let n = 0; n < frames; n += 1) {
    const white = gauss();
    let x = white;
    if (colour === 'pink') {
      s[0] = 0.99886 * s[0]! + white * 0.0555179;
      s[1] = 0.99332 * s[1]! + white * 0.0750759;
      s[2] = 0.969 * s[2]! + white * 0.153852;
      s[3] = 0.8665 * s[3]! + white * 0.3104856;
      s[4] = 0.55 * s[4]! + white * 0.5329522;
      s[5] = -0.7616 * s[5]! - white * 0.016898;
      x = s[0]! + s[1]! + s[2]! + s[3]! + s[4]! + s[5]! + s[6]! + white * 0.5362;
      s[6] = white * 0.115926;
    } else if (colour === 'brown') {
      s[0] = 0.995 * s[0]! + white;
      x = s[0]!;
    }
    samples[n] = x;
    squares += x * x;
  }
  const scale = rms / Math.sqrt(squares / frames);
  for (let n = 0; n < frames; n += 1) samples[n] = samples[n]! * scale;
  return samples;
}

/** Adds harmonics of a fundamental that may move; `peaks[0]` is the fundamental's. */
export function addComb(
  samples: Float64Array,
  sampleRateHz: number,
  fundamentalAt: (seconds: number) => number,
  peaks: readonly number[],
): Float64Array {
  let cycles = 0;
  for (let n = 0; n < samples.length; n += 1) {
    let x = 0;
    for (const [at, peak] of peaks.entries()) {
      x += peak * Math.sin(2 * Math.PI * (at + 1) * cycles + at);
    }
    samples[n] = samples[n]! + x;
    cycles += fundamentalAt(n / sampleRateHz) / sampleRateHz;
    cycles -= Math.floor(cycles);
  }
  return samples;
}

/**
 * Something like music: two voices of plucked harmonic notes on a scale, at random times, attack 8 ms, over
 * a bed of pink noise. Invented here; no tune.
 */
export function music(sampleRateHz: number, seconds: number, seed: number, bedRms = 1e-4): Float64Array {
  const frames = Math.round(sampleRateHz * seconds);
  const samples = noise('pink', bedRms, frames, seed + 1000);
  const random = new Random(seed);
  for (const [lowestHz, everySeconds] of [
    [110, 0.4],
    [440, 0.2],
  ] as const) {
    for (let at = 0; at < seconds; at += everySeconds * (0.5 + random.next())) {
      const hz = lowestHz * 2 ** (Math.floor(random.next() * 12) / 12);
      const decay = 0.1 + 0.3 * random.next();
      const peak = 0.05 + 0.1 * random.next();
      const first = Math.round(at * sampleRateHz);
      const last = Math.min(frames, first + Math.round(6 * decay * sampleRateHz));
      for (let n = first; n < last; n += 1) {
        const t = (n - first) / sampleRateHz;
        const attack = t < 0.008 ? 0.5 - 0.5 * Math.cos((Math.PI * t) / 0.008) : 1;
        let x = 0;
        for (let h = 1; h <= 6; h += 1) x += Math.sin(2 * Math.PI * h * hz * t) / (h * h);
        samples[n] = samples[n]! + peak * attack * Math.exp(-t / decay) * x;
      }
    }
  }
  return samples;
}
