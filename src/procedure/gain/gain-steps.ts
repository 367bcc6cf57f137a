import { median } from '../../dsp/statistics/median.ts';
import { acceptanceOf } from './acceptance.ts';
import { aimAt } from './aim.ts';
import type { Aim, GainEvent, GainReading, GainState, GainTask } from './gain.ts';
import { instructionFor } from './instruction.ts';
import { clippingStage, findKnee, withOverdriven } from './knee.ts';
import { tracePoint, withPoint } from './trace.ts';
import { isSound, obstacle } from './usable.ts';
import { usedVolts, voltsOffsetDb } from './volts.ts';

/** What has been seen and typed, before anything is concluded from it. */
type Seen = Omit<GainState, 'knee' | 'clippingStage' | 'aim' | 'instruction' | 'acceptance'>;

/** A clean reading this far above the knee that clipped readings told of proves that they are out of date. */
const DISPROVED_DB = 0.3;

/**
 * The station before anything is heard.
 *
 * @throws RangeError where a figure of the task is not positive (volts, tone, tolerance) or not finite.
 */
export function gainStart(task: GainTask): GainState {
  for (const name of ['aimVolts', 'targetVolts', 'toneHz', 'toleranceDb'] as const) {
    if (!(task[name] > 0) || !Number.isFinite(task[name])) {
      throw new RangeError(
        `${name} of channel ${task.channelId} is ${task[name]}; it must be a positive number.`,
      );
    }
  }
  const seen: Seen = {
    task,
    turn: 0,
    seconds: 0,
    latest: null,
    meterVolts: null,
    meterLevelDbfs: null,
    trace: [],
    overdriven: [],
    earlierKnee: null,
  };
  return concluded(seen, null);
}

/**
 * The station after one event; the state given is left as it was.
 *
 * @throws RangeError where a typed voltage is not a positive number.
 */
export function gainStep(state: GainState, event: GainEvent): GainState {
  const seen = withEvent(state, event);
  return concluded(seen, state.aim);
}

function withEvent(state: GainState, event: GainEvent): Seen {
  switch (event.type) {
    case 'reading':
      return withReading(state, event.reading);
    case 'meter':
      if (!(event.volts > 0) || !Number.isFinite(event.volts)) {
        throw new RangeError(
          `${event.volts} V was typed; a multimeter's reading is a positive number of volts.`,
        );
      }
      return {
        ...state,
        seconds: event.seconds,
        meterVolts: event.volts,
        meterLevelDbfs:
          obstacle(state.latest, state.task) === null ? (state.latest?.levelDbfs ?? null) : null,
      };
    case 'new-turn':
      return {
        ...state,
        turn: state.turn + 1,
        seconds: event.seconds,
        overdriven: [],
        earlierKnee: state.knee,
      };
    case 'way':
      return {
        ...state,
        task: { ...state.task, way: event.way },
        turn: state.turn + 1,
        meterVolts: null,
        meterLevelDbfs: null,
        overdriven: [],
        earlierKnee: null,
      };
  }
}

function withReading(state: GainState, reading: GainReading): Seen {
  const heard: Seen = { ...state, seconds: reading.seconds, latest: reading };
  if (obstacle(reading, state.task) !== null || !isSound(reading)) return heard;
  const point = tracePoint(reading, state.turn, usedVolts(heard)?.volts ?? null);
  return {
    ...heard,
    trace: point === null ? state.trace : withPoint(state.trace, point, state.knee?.levelDbfs ?? null),
    overdriven: isDisproved(state, reading) ? [] : withOverdriven(state.overdriven, reading),
    earlierKnee: isCleanAbove(reading, state.earlierKnee?.levelDbfs ?? null) ? null : state.earlierKnee,
  };
}

/** Clean well above a supposed knee: it is not there, or not there any more. */
function isCleanAbove(reading: GainReading, kneeDbfs: number | null): boolean {
  if (kneeDbfs === null || reading.clipping.verdict !== 'clean' || reading.levelDbfs === null) return false;
  return reading.levelDbfs > kneeDbfs + DISPROVED_DB;
}

/** Clean above the supposed knee, or clean at all where an earlier stage was clipping: something was changed. */
function isDisproved(state: GainState, reading: GainReading): boolean {
  if (state.overdriven.length === 0) return false;
  if (state.clippingStage === 'earlier') return reading.clipping.verdict === 'clean';
  return isCleanAbove(reading, median(state.overdriven.map((r) => r.kneeDbfs)));
}

function concluded(seen: Seen, before: Aim | null): GainState {
  const running = seen.trace.filter((point) => point.turn === seen.turn);
  const stage = clippingStage(seen.overdriven);
  const found = findKnee(running, seen.overdriven, voltsOffsetDb(seen), seen.task);
  const withKnee = {
    ...seen,
    knee: found ?? (stage === 'earlier' ? null : seen.earlierKnee),
    clippingStage: stage,
  };
  const aim = aimAt(withKnee, before?.limitedByKnee ?? false);
  const withAim = { ...withKnee, aim };
  const withAcceptance = { ...withAim, acceptance: acceptanceOf(withAim) };
  return { ...withAcceptance, instruction: instructionFor(withAcceptance) };
}
