/** The one train of pulses that polarity and arrival are heard by: begun once, and left running. */
import { trainOf } from '../../job/balance/tasks.ts';
import type { Job } from '../../job/document.ts';
import { playSignal, type Signal, signalMaker, stopSignal } from '../signal/signal.ts';
import { rigTone } from './rig-session.ts';
import { tonePlayer } from './tone-player.ts';

const TRAIN_WORDS = 'the train of pulses';
/** The rig repeats a short piece without a seam: the same train, rendered in no time. */
const RIG_PIECE_SECONDS = 10;

export function trainSignal(job: Job): Signal {
  const { spec } = trainOf(job);
  const durationSeconds = signalMaker() === 'rig' ? RIG_PIECE_SECONDS : spec.durationSeconds;
  return { spec: { ...spec, durationSeconds }, channels: 'both', description: TRAIN_WORDS, loop: true };
}

function isRunning(signal: Signal): boolean {
  const maker = signalMaker();
  if (maker === 'radio') return true;
  if (maker === 'this-device') return tonePlayer.getState().playing?.description === signal.description;
  const now = rigTone.get();
  return now.kind === 'track' && JSON.stringify(now.spec) === JSON.stringify(signal.spec);
}

/**
 * Sees that the train runs, where it is not a hand that plays it.
 *
 * @returns true where it had to be begun
 * @throws Error with one sentence where this device cannot play it
 */
export async function keepTrain(job: Job): Promise<boolean> {
  const signal = trainSignal(job);
  if (isRunning(signal)) return false;
  await playSignal(signal);
  return true;
}

/** Falls silent, if it was the train that sounded. */
export async function stopTrain(job: Job): Promise<void> {
  if (signalMaker() !== 'radio' && isRunning(trainSignal(job))) await stopSignal();
}
