import { median } from '../../dsp/statistics/median.ts';
import { acceptanceOf } from './acceptance.ts';
import { aimAt } from './aim.ts';
import type { BurstDriver, BurstRun } from './burst/burst.ts';
import { burstConclusion } from './burst/burst-conclusion.ts';
import { burstRefusal, isBursting } from './burst/burst-plan.ts';
import { beginBursts, burstsHeard, restUntilSeconds, stopBursts } from './burst/burst-steps.ts';
import { findingsOf, namedByTurning, oneInputHint } from './findings.ts';
import type { Aim, GainEvent, GainReading, GainState, GainTask } from './gain.ts';
import { instructionFor } from './instruction.ts';
import { clippingStage, findKnee, withOverdriven } from './knee.ts';
import { SETTLED_READINGS } from './settled.ts';
import { beginStageCheck, lookAtRadio, stageHeard } from './stage/stage-steps.ts';
import { atToneLevel } from './tone-level.ts';
import { tracePoint, withPoint } from './trace.ts';
import { isSound, obstacle } from './usable.ts';
import { usedVolts, voltsOffsetDb } from './volts.ts';

/** What has been seen and typed, before anything is concluded from it. */
type Seen = Omit<
  GainState,
  'knee' | 'clippingStage' | 'burstConclusion' | 'aim' | 'instruction' | 'findings' | 'hint' | 'acceptance'
>;

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
    bursts: null,
    restUntilSeconds: 0,
    stageCheck: null,
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
      return withTypedVolts(state, event.volts, event.seconds);
    case 'new-turn':
      return { ...anewTurn(state), seconds: event.seconds, earlierKnee: state.knee };
    case 'way':
      return {
        ...anewTurn(state),
        task: { ...state.task, way: event.way },
        meterVolts: null,
        meterLevelDbfs: null,
        earlierKnee: null,
      };
    case 'tone-level':
      // A typed voltage belongs to the tone that was measured.
      return {
        ...anewTurn(state),
        task: atToneLevel(state.task, event.level),
        meterVolts: null,
        meterLevelDbfs: null,
        earlierKnee: state.knee,
      };
    case 'bursts':
      return withBursts(state, event.driver, event.seconds);
    case 'bursts-stop':
      return { ...state, bursts: state.bursts === null ? null : stopBursts(state.bursts, event.seconds) };
    case 'stage-check':
      return isBursting(state) ? state : { ...state, stageCheck: beginStageCheck(namedByTurning(state)) };
    case 'stage-radio':
      return { ...state, stageCheck: state.stageCheck === null ? null : lookAtRadio(state.stageCheck) };
    case 'stage-done':
      return { ...state, stageCheck: null };
  }
}

function anewTurn(state: GainState): Seen {
  const bursts = state.bursts;
  return {
    ...state,
    turn: state.turn + 1,
    overdriven: [],
    bursts: null,
    restUntilSeconds: bursts === null ? state.restUntilSeconds : restUntilSeconds(bursts),
    stageCheck: null,
  };
}

function withTypedVolts(state: GainState, volts: number, seconds: number): Seen {
  if (!(volts > 0) || !Number.isFinite(volts)) {
    throw new RangeError(`${volts} V was typed; a multimeter's reading is a positive number of volts.`);
  }
  const heardDbfs = obstacle(state.latest, state.task) === null ? (state.latest?.levelDbfs ?? null) : null;
  return { ...state, seconds, meterVolts: volts, meterLevelDbfs: heardDbfs };
}

/** @throws RangeError with the reason where no bursts may begin. */
function withBursts(state: GainState, driver: BurstDriver, seconds: number): Seen {
  const refusal = burstRefusal(state);
  const setVolts = usedVolts(state)?.volts ?? null;
  const setLevelDbfs = state.latest?.levelDbfs ?? null;
  if (refusal !== null || setVolts === null || setLevelDbfs === null) throw new RangeError(refusal ?? '');
  const { task } = state;
  const restUntil = state.bursts === null ? state.restUntilSeconds : restUntilSeconds(state.bursts);
  const begin = { task, driver, seconds, setVolts, setLevelDbfs, restUntilSeconds: restUntil };
  return { ...state, bursts: beginBursts(begin), stageCheck: null };
}

function withReading(state: GainState, reading: GainReading): Seen {
  if (state.bursts !== null && isBursting(state)) return withBurstReading(state, state.bursts, reading);
  const { stageCheck } = state;
  const checked = stageCheck === null ? null : stageHeard(stageCheck, reading, state.task);
  // The lead is elsewhere: what it reads there is not this channel's.
  if (stageCheck?.isLeadAway) return { ...state, seconds: reading.seconds, stageCheck: checked };
  return withTurnReading({ ...state, stageCheck: checked }, reading);
}

/** The reduced tone's reading stays on the aim while bursts sound; what settled in a burst joins the trace. */
function withBurstReading(state: GainState, run: BurstRun, reading: GainReading): Seen {
  const next = burstsHeard(run, reading, state.task);
  const seen: Seen = { ...state, seconds: reading.seconds, bursts: next };
  if (next.bursts.length === run.bursts.length) return seen;
  const told = [...run.heard, reading].slice(-SETTLED_READINGS).filter(isSound);
  let known: GainState = state;
  for (const one of told) known = { ...known, ...traced(known, one) };
  const { trace, overdriven, earlierKnee } = known;
  return { ...seen, trace, overdriven, earlierKnee };
}

function withTurnReading(state: GainState, reading: GainReading): Seen {
  const heard: Seen = { ...state, seconds: reading.seconds, latest: reading };
  if (obstacle(reading, state.task) !== null || !isSound(reading)) return heard;
  return { ...heard, ...traced(state, reading) };
}

/** Trace, clipped readings and the knee of turns before, with this reading added. */
function traced(state: GainState, reading: GainReading): Pick<Seen, 'trace' | 'overdriven' | 'earlierKnee'> {
  const point = tracePoint(reading, state.turn, usedVolts({ ...state, latest: reading })?.volts ?? null);
  return {
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
    burstConclusion: conclusionOf(seen),
  };
  const withAim = { ...withKnee, aim: aimAt(withKnee, before?.limitedByKnee ?? false) };
  const withFindings = { ...withAim, findings: findingsOf(withAim), hint: oneInputHint(withAim) };
  const withAcceptance = { ...withFindings, acceptance: acceptanceOf(withFindings) };
  return { ...withAcceptance, instruction: instructionFor(withAcceptance) };
}

/** Turned up by more than this since, the bursts prove nothing any more, dB. */
const SAME_SETTING_DB = 0.2;

function conclusionOf(seen: Seen): GainState['burstConclusion'] {
  if (seen.bursts === null) return null;
  const now = seen.latest?.levelDbfs ?? null;
  const isTurnedUp = now !== null && now > seen.bursts.setLevelDbfs + SAME_SETTING_DB;
  return isTurnedUp ? null : burstConclusion(seen.bursts, seen.task);
}
