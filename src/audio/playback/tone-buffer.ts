import { loopableSine } from '../../dsp/tones/loopable-sine.ts';
import { renderTone, toneSeconds } from '../../dsp/tones/render-tone.ts';
import type { ToneSpec } from '../../dsp/tones/spec.ts';
import type { OutputChannels } from './player-state.ts';

export interface ToneBuffer {
  buffer: AudioBuffer;
  /** A sine repeats without a seam; everything else plays once. */
  loops: boolean;
  actualHz: number | null;
  seconds: number;
  /** Highest sample, full scale 1.0. */
  peak: number;
}

/**
 * The tone in two channels at the context's rate, so that no resampler and no
 * oscillator stands between the figures and the output (an OscillatorNode
 * loses decibels near half the sample rate).
 *
 * @throws RangeError with one sentence for a spec that cannot be rendered
 */
export function toneBuffer(context: BaseAudioContext, spec: ToneSpec, channels: OutputChannels): ToneBuffer {
  const { sampleRate } = context;
  const sine = spec.kind === 'sine' ? loopableSine({ ...spec, sampleRateHz: sampleRate }) : null;
  const samples = sine?.samples ?? Float32Array.from(renderTone(spec, sampleRate));
  const buffer = context.createBuffer(2, samples.length, sampleRate);
  if (channels !== 'right') buffer.copyToChannel(samples, 0);
  if (channels !== 'left') buffer.copyToChannel(samples, 1);
  let peak = 0;
  for (const sample of samples) peak = Math.max(peak, Math.abs(sample));
  return {
    buffer,
    loops: sine !== null,
    actualHz: sine?.actualHz ?? null,
    seconds: toneSeconds(spec),
    peak,
  };
}
