/** Recordings of noise with known truth, for the Quiet station's fold. */
import type { EngineState, NoiseEvent, NoisePurpose, NoiseTask } from '../../src/procedure/noise/noise.ts';
import { readNoiseTake } from '../../src/procedure/take/noise-take.ts';
import { addComb, noise } from './noise-recordings.ts';

export const RATE_HZ = 48_000;
const SECONDS = 4;

/** 75 W into 4 ohm, read by an input whose full scale is 35 V. */
export const TASK: NoiseTask = {
  channelId: 'front-left',
  place: 'terminals',
  targetVolts: Math.sqrt(75 * 4),
  noiseDb: 70,
  voltsPerFs: 35,
  voltsUncertaintyDb: 0.05,
};

export const FLOOR_RMS = 3e-5;

export interface Sound {
  whineHz?: (seconds: number) => number;
  whinePeaks?: number[];
  humHz?: number;
  humPeaks?: number[];
  toneHz?: number;
  floorRms?: number;
  /** Single samples this far out. */
  clickPeak?: number;
  clicksPerSecond?: number;
}

/** Invented: strongest at the fundamental, three harmonics. */
const WHINE_PEAKS = [1e-3, 4e-4, 2e-4, 1e-4];
const HUM_PEAKS = [2e-4, 6e-4, 1e-4];

export function recording(sound: Sound, seed: number): Float32Array {
  const samples = noise('white', sound.floorRms ?? FLOOR_RMS, SECONDS * RATE_HZ, seed);
  if (sound.whineHz) addComb(samples, RATE_HZ, sound.whineHz, sound.whinePeaks ?? WHINE_PEAKS);
  const { humHz, toneHz } = sound;
  if (humHz !== undefined) addComb(samples, RATE_HZ, () => humHz, sound.humPeaks ?? HUM_PEAKS);
  if (toneHz !== undefined) addComb(samples, RATE_HZ, () => toneHz, [3e-4]);
  const { clickPeak, clicksPerSecond = 2 } = sound;
  if (clickPeak !== undefined) {
    const every = Math.round(RATE_HZ / clicksPerSecond);
    for (let at = Math.round(every / 2); at < samples.length; at += every) samples[at] = clickPeak;
  }
  return Float32Array.from(samples);
}

export function takeEvent(
  engine: EngineState,
  sound: Sound,
  lead: NoisePurpose['lead'] = 'plugged',
): NoiseEvent {
  return eventOf({ engine, lead }, recording(sound, engine.length + lead.length));
}

export function eventOf(purpose: NoisePurpose, samples: Float32Array): NoiseEvent {
  const request = { kind: 'noise', channelIndex: 0 } as const;
  const reading = readNoiseTake(request, {
    sampleRateHz: RATE_HZ,
    startFrame: 0,
    channels: [samples],
    doubts: [],
  });
  return { type: 'take', purpose, request, reading };
}
