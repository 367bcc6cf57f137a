/**
 * The latest reading, outside React: what the input hears, on which of its
 * channels, and whether it may be believed.
 */
import { soundEngine } from '../../audio/engine/sound-engine.ts';
import type { LiveReading } from '../../dsp/reading.ts';
import { requestPaint } from '../live/paint.ts';
import type { Heard } from '../outputs/figures.ts';
import { calibration } from './calibration.ts';
import { inputChannel } from './input-channel.ts';

let latest: LiveReading | null = null;
const listeners = new Set<(reading: LiveReading) => void>();

soundEngine.onReading((reading) => {
  latest = reading;
  for (const listener of listeners) listener(reading);
  requestPaint();
});

soundEngine.subscribe(() => {
  const { phase } = soundEngine.getState();
  if (phase === 'idle' || phase === 'stopped' || phase === 'asking') latest = null;
  requestPaint();
});

inputChannel.subscribe(requestPaint);
calibration.subscribe(requestPaint);

/** Calls back with every reading, at about 20 a second. */
export function onHeard(listener: (reading: LiveReading) => void): () => void {
  listeners.add(listener);
  return () => {
    listeners.delete(listener);
  };
}

export function latestReading(): LiveReading | null {
  return latest;
}

/** Index of the measured channel in this reading: a mono input has only the first. */
export function measuredChannel(reading: LiveReading): number {
  return Math.min(inputChannel.get(), reading.channels.length - 1);
}

export function heardNow(): Heard | null {
  if (latest === null) return null;
  const channel = latest.channels[measuredChannel(latest)];
  return channel === undefined ? null : { channel, voltsPerFs: calibration.get()?.voltsPerFs ?? null };
}

/** `valid`, or the first reason why not. */
export function stateOf(heard: Heard | null, isMissing: boolean, missing: (heard: Heard) => string): string {
  const { phase } = soundEngine.getState();
  if (phase === 'paused') return 'paused';
  if (heard === null || latest === null) {
    return phase === 'warming-up' || phase === 'running' ? 'warming-up' : 'not-listening';
  }
  if (latest.grade !== 'valid') return latest.doubts[0] ?? latest.grade;
  return isMissing ? missing(heard) : 'valid';
}
