/**
 * Walks up the volume: one press, then step after step. On the practice rig the program turns the volume
 * itself; elsewhere a hand does, and each step is measured once the level has changed and rests.
 */
import { soundEngine } from '../../../audio/engine/sound-engine.ts';
import type { SourcePurpose, SourceState } from '../../../procedure/source/source.ts';
import { turnSeen, watchTurn } from '../../../procedure/source/turn-watch.ts';
import { observable } from '../../live/observable.ts';
import { measuredChannel, onHeard } from '../../session/heard.ts';
import { whyNothingIsHeard } from '../../session/hearing.ts';
import { inputChannel } from '../../session/input-channel.ts';
import { setRigControls } from '../../session/rig-session.ts';
import { sourceSession } from '../../session/source-sessions.ts';
import { runTake } from '../../signal/run-take.ts';
import { playSignal, signalMaker, stopSignal } from '../../signal/signal.ts';
import { toneSignal } from './source-signals.ts';

export interface StepRun {
  /** `turning`: waits for the hand to come to `purpose`. */
  phase: 'idle' | 'measuring' | 'turning';
  purpose: SourcePurpose | null;
  /** Whether the turn will be seen by itself; where the tone changes too, the hand has to say so. */
  seesTurn: boolean;
  /** Why the walk ended before its end, one sentence. */
  fault: string | null;
}

const IDLE: StepRun = { phase: 'idle', purpose: null, seesTurn: false, fault: null };
/** Sixty cycles of 997 Hz in every tenth of a second, 25 of 43 Hz in all: enough for level and distortion. */
const TAKE_SECONDS = 0.6;
/** As long as a loud tone may sound while nobody turns. */
const PATIENCE_SECONDS = 25;

export const stepRun = observable<StepRun>(IDLE);

/** Ends the wait under way: true to measure here, false to give up. */
let endWait: ((isHere: boolean) => void) | null = null;
let isStopped = false;

/** Call it once the volume stands at the step that is asked for first. */
export async function beginStepRun(): Promise<void> {
  if (stepRun.get().phase !== 'idle') return;
  isStopped = false;
  stepRun.set({ ...IDLE, phase: 'measuring' });
  let fault: string | null = null;
  try {
    fault = await walk();
  } catch (error) {
    fault = error instanceof Error ? error.message : String(error);
  } finally {
    await stopSignal();
    stepRun.set({ ...IDLE, fault });
  }
}

/** Gives the walk up; what was measured stays. */
export function stopStepRun(): void {
  isStopped = true;
  if (sourceSession.busy()?.what === 'recording') soundEngine.dropTake();
  endWait?.(false);
}

/** The hand is where it was asked to be. */
export function stepReached(): void {
  endWait?.(true);
}

/** @returns why it ended early, or `null` */
async function walk(): Promise<string | null> {
  let last: SourcePurpose | null = null;
  for (;;) {
    const state = sourceSession.state();
    const next = state?.next ?? null;
    if (state === null || next === null || isStopped) return null;
    if (signalMaker() === 'rig') setRigControls({ volumeStep: next.step });
    else if (last !== null && isElsewhere(last, next) && !(await turned(state, last, next))) {
      const unheard = whyNothingIsHeard();
      return isStopped || unheard !== null
        ? unheard
        : 'Nobody turned the volume, so the tone was stopped; go on when you are ready.';
    }
    if (isStopped) return null;
    stepRun.set({ ...IDLE, phase: 'measuring', purpose: next });
    const { frequencyHz } = state.task.tones[next.tone];
    const taken = await runTake(sourceSession, {
      signal: toneSignal(state.task.tones[next.tone], state.task.side),
      purpose: next,
      request: { kind: 'tone', channelIndex: inputChannel.get(), frequencyHz },
      seconds: TAKE_SECONDS,
    });
    if (isStopped) return null;
    if (!taken) return sourceSession.fault();
    // The instruction says what was wrong; going on would only repeat it.
    if (sourceSession.state()?.obstacle !== null) return null;
    last = next;
  }
}

/** A hand has something to do: another step, or another track. */
function isElsewhere(last: SourcePurpose, next: SourcePurpose): boolean {
  return last.step !== next.step || (signalMaker() === 'radio' && last.tone !== next.tone);
}

async function turned(state: SourceState, last: SourcePurpose, next: SourcePurpose): Promise<boolean> {
  const asked = state.task.tones[next.tone];
  const from = state.steps.find((at) => at.step === last.step)?.[next.tone]?.levelDbfs ?? null;
  const seesTurn = from !== null && last.step !== next.step;
  stepRun.set({ phase: 'turning', purpose: next, seesTurn, fault: null });
  if (signalMaker() === 'this-device') await playSignal(toneSignal(asked, state.task.side));
  return waitForTurn(asked.frequencyHz, seesTurn ? from : null);
}

function waitForTurn(askedHz: number, fromDbfs: number | null): Promise<boolean> {
  return new Promise((resolve) => {
    let watch = fromDbfs === null ? null : watchTurn(askedHz, fromDbfs);
    const stopHearing = onHeard((reading) => {
      const tone = reading.channels[measuredChannel(reading)]?.tone ?? null;
      if (watch === null) return;
      const seen = turnSeen(watch, {
        seconds: reading.endFrame / reading.sampleRateHz,
        grade: reading.grade,
        motion: reading.motion,
        frequencyHz: tone?.frequencyHz ?? null,
        levelDbfs: tone?.levelDbfs ?? null,
      });
      watch = seen.watch;
      if (seen.isDone) end(true);
    });
    // A radio's own track is not ours to stop, so a hand may take its time there.
    const timer =
      signalMaker() === 'this-device' ? setTimeout(() => end(false), 1000 * PATIENCE_SECONDS) : null;
    const stopWatching = soundEngine.subscribe(() => {
      if (whyNothingIsHeard() !== null) end(false);
    });
    const end = (isHere: boolean) => {
      stopHearing();
      stopWatching();
      if (timer !== null) clearTimeout(timer);
      endWait = null;
      resolve(isHere);
    };
    endWait = end;
  });
}
