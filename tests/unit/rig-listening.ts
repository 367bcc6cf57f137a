/** The practice rig with every noise off, and what a plain Fourier sum makes of it. */
import { DEMO_RIG } from '../../src/rig/demo-rig.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';
import type { RigConfig, RigControls, RigTone } from '../../src/rig/rig.ts';

const SILENT = Number.NEGATIVE_INFINITY;

/** A vehicle without any noise of its own; faults are kept. */
export function noiseless(config: RigConfig): RigConfig {
  return {
    ...config,
    radio: { ...config.radio, softness: 0, noiseVolts: 0 },
    converter: { ...config.converter, noiseVolts: 0 },
    channels: config.channels.map((channel) => ({ ...channel, noiseVolts: 0 })),
    cabin: { ...config.cabin, microphoneNoiseSplDb: SILENT, ambientSplDb: SILENT, engineSplDb: SILENT },
    input: { ...config.input, noiseDbfs: SILENT },
  };
}

export const QUIET_RIG = noiseless(DEMO_RIG);

export function samplesOf(rig: PracticeRig, seconds: number, sampleRateHz = 48_000): Float32Array {
  const samples = new Float32Array(Math.round(seconds * sampleRateHz));
  rig.fill([samples], samples.length);
  return samples;
}

/** A new rig's samples once `settleSeconds` have gone by. */
export function heard(
  config: RigConfig,
  controls: RigControls,
  tone: RigTone,
  seconds = 1,
  settleSeconds = 0.5,
): Float32Array {
  const rig = new PracticeRig(config, controls, tone);
  samplesOf(rig, settleSeconds, config.sampleRateHz);
  return samplesOf(rig, seconds, config.sampleRateHz);
}

/**
 * Amplitude and phase at `hz`, of which a whole number of periods must fit into
 * the samples; the phase is that of a sine that starts `firstFrame` frames before them.
 */
export function toneIn(
  samples: Float32Array,
  hz: number,
  firstFrame = 0,
  sampleRateHz = 48_000,
): { peak: number; phase: number } {
  let sine = 0;
  let cosine = 0;
  for (let n = 0; n < samples.length; n += 1) {
    const cycles = (((n + firstFrame) * hz) / sampleRateHz) % 1;
    sine += samples[n]! * Math.sin(2 * Math.PI * cycles);
    cosine += samples[n]! * Math.cos(2 * Math.PI * cycles);
  }
  return { peak: (2 * Math.hypot(sine, cosine)) / samples.length, phase: Math.atan2(cosine, sine) };
}

export function rmsOf(samples: Float32Array): number {
  let sum = 0;
  for (const sample of samples) sum += sample * sample;
  return Math.sqrt(sum / samples.length);
}

export const decibels = (ratio: number) => 20 * Math.log10(ratio);
