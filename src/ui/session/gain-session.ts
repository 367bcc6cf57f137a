/**
 * The Gain station's fold, outside React: each channel keeps its state while
 * the page lives, so that going to another channel and back loses no dot.
 */
import { useSyncExternalStore } from 'react';
import { soundEngine } from '../../audio/engine/sound-engine.ts';
import type { Job } from '../../job/document.ts';
import { gainTask } from '../../job/job-plan.ts';
import { JobRefused } from '../../job/refused.ts';
import { isBursting } from '../../procedure/gain/burst/burst-plan.ts';
import type { GainEvent, GainState, GainTask } from '../../procedure/gain/gain.ts';
import { gainStart, gainStep } from '../../procedure/gain/gain-steps.ts';
import { gainReading } from '../../procedure/gain/reading.ts';
import { atToneLevel } from '../../procedure/gain/tone-level.ts';
import { requestPaint } from '../live/paint.ts';
import { calibration } from './calibration.ts';
import { measuredChannel, onHeard } from './heard.ts';

const states = new Map<string, GainState>();
const listeners = new Set<() => void>();
let current: string | null = null;

function keyOf(job: Job, channelId: string): string {
  return `${job.id}/${channelId}`;
}

function publish(): void {
  for (const listener of listeners) listener();
  requestPaint();
}

/** Way and tone level are the user's, everything else the plan's: only the latter starts the channel anew. */
function isSameAim(a: GainTask, b: GainTask): boolean {
  const asPlanned = (task: GainTask) => JSON.stringify({ ...atToneLevel(task, 'planned'), way: '' });
  return asPlanned(a) === asPlanned(b);
}

/**
 * Opens a channel's gain; a plan that has changed since starts it anew.
 * @returns the sentence why this channel has nothing to aim at, or `null`.
 */
export function openGain(job: Job, channelId: string): string | null {
  const key = keyOf(job, channelId);
  if (key !== current) stopBursts();
  // Whoever spares one channel's coils spares the next one's.
  const level = gainNow()?.task.level ?? 'planned';
  try {
    const task = gainTask(job, channelId, 'wire');
    const kept = states.get(key);
    if (kept === undefined || !isSameAim(kept.task, task))
      states.set(key, gainStart(atToneLevel(task, level)));
    current = key;
    lookFor(gainNow());
    publish();
    return null;
  } catch (fault) {
    if (!(fault instanceof JobRefused)) throw fault;
    current = null;
    publish();
    return fault.message;
  }
}

/** Readings are no longer folded: the station was left. */
export function closeGain(): void {
  stopBursts();
  current = null;
  lookFor(null);
  publish();
}

/** Nothing sounds on behalf of a channel that is not looked at. */
function stopBursts(): void {
  const state = gainNow();
  if (state !== null && isBursting(state)) gainEvent({ type: 'bursts-stop', seconds: gainSeconds() });
}

export function gainNow(): GainState | null {
  return current === null ? null : (states.get(current) ?? null);
}

/**
 * With a wire the strongest tone is the one to judge, so that a wrong one is
 * named; a microphone is told where to look, beneath the noise of a cabin.
 */
function lookFor(state: GainState | null): void {
  const expectedHz = state?.task.way === 'meter' ? state.task.toneHz : null;
  soundEngine.configure({ expectedHz });
}

export function gainEvent(event: GainEvent): void {
  const state = gainNow();
  if (current === null || state === null) return;
  states.set(current, gainStep(state, event));
  if (event.type === 'way') lookFor(gainNow());
  publish();
}

/** Seconds of the stream at the last reading, for events that come from the hand. */
export function gainSeconds(): number {
  return gainNow()?.seconds ?? 0;
}

export function newTurn(): void {
  gainEvent({ type: 'new-turn', seconds: gainSeconds() });
}

export function onGain(listener: () => void): () => void {
  listeners.add(listener);
  return () => {
    listeners.delete(listener);
  };
}

/** A slow fact of the running state. `select` must return a plain value: React redraws only when it changes. */
export function useGain<T extends string | number | boolean | null>(
  select: (state: GainState | null) => T,
): T {
  return useSyncExternalStore(onGain, () => select(gainNow()));
}

onHeard((reading) => {
  if (current === null) return;
  gainEvent({ type: 'reading', reading: gainReading(reading, measuredChannel(reading), calibration.get()) });
});

// Volts under an older scale would mix with those under the new one.
calibration.subscribe(() => {
  for (const [key, state] of states) states.set(key, gainStart(state.task));
  publish();
});
