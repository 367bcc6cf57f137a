import { dbfsToVolts } from '../../plan/units/full-scale.ts';
import type { Procedure } from '../procedure.ts';
import type { PinkTakeReading, PinkTakeRequest } from '../take/pink-take.ts';
import type { ToneTakeReading, ToneTakeRequest } from '../take/tone-take.ts';
import { acceptanceOf } from './acceptance.ts';
import { findingsOf } from './findings.ts';
import { instructionFor } from './instruction.ts';
import {
  ambientBands,
  type LevelChannel,
  type LevelEvent,
  type LevelPurpose,
  type LevelReading,
  type LevelResult,
  type LevelState,
  type LevelTask,
} from './level.ts';
import { levelsOf, readingAt, worstOf } from './levels.ts';
import { whyNotAmbient, whyNotNoise, whyNotTone, withoutAmbient } from './refusal.ts';
import { levelResult } from './result.ts';

type Recorded = Pick<LevelState, 'task' | 'readings' | 'ambientDbfs' | 'refused' | 'chosen'>;

/** A multimeter's last digit and its repeatability between two readings in one range (common practice: 0.5 %). */
const METER_UNCERTAINTY_DB = 0.04;
/** What an input's gain drifts between two takes, and a plug's contact (common practice: a quarter of a per cent). */
const INPUT_UNCERTAINTY_DB = 0.02;

/** @throws RangeError for a task without channels, or by microphone without places */
function levelStart(task: LevelTask): LevelState {
  if (task.channels.length === 0) {
    throw new RangeError(
      'There is no left and right to compare: a pair is fed left and right, plays the same band, and hangs on one amplifier.',
    );
  }
  if (task.way === 'microphone' && task.places.length === 0) {
    throw new RangeError('A microphone needs at least one place to stand at.');
  }
  if (!(task.toleranceDb > 0)) {
    throw new RangeError(`A tolerance of ${task.toleranceDb} dB allows nothing: it must be above 0.`);
  }
  return concluded({ task, readings: [], ambientDbfs: null, refused: null, chosen: null });
}

/** @throws RangeError for a channel or a place that the task does not have, or volts that are no voltage */
function levelStep(state: LevelState, event: LevelEvent): LevelState {
  switch (event.type) {
    case 'take':
      checkMicrophone(state.task, event.request);
      return concluded(withTake(state, event.purpose, event.reading));
    case 'volts':
      return concluded(withVolts(state, event.channelId, event.volts));
    case 'choose': {
      checkPlace(state.task, event.channelId, event.placeId);
      const { channelId, placeId } = event;
      return concluded({ ...state, refused: null, chosen: { what: 'channel', channelId, placeId } });
    }
  }
}

function withTake(
  state: LevelState,
  purpose: LevelPurpose,
  reading: ToneTakeReading | PinkTakeReading,
): Recorded {
  if (purpose.what === 'ambient') return withAmbient(state, reading);
  const { channelId, placeId } = purpose;
  const channel = checkPlace(state.task, channelId, placeId);
  if (reading.kind !== (state.task.way === 'wire' ? 'tone' : 'pink')) {
    throw new RangeError(`A ${reading.kind} says nothing of a level by ${state.task.way}.`);
  }
  const read =
    reading.kind === 'tone'
      ? readTone(reading, channel, state.task)
      : readNoise(reading, ambientIn(state, channel));
  if (typeof read === 'string') return { ...state, refused: read };
  const kept: LevelReading = { channelId, placeId, isSuspect: reading.grade === 'suspect', ...read };
  return { ...state, refused: null, chosen: null, readings: [...state.readings, kept] };
}

type Level = Pick<LevelReading, 'levelDbfs' | 'volts' | 'uncertaintyDb'>;

function readTone(reading: ToneTakeReading, { toneHz }: LevelChannel, task: LevelTask): Level | string {
  const why = whyNotTone(reading, toneHz);
  const { tone } = reading.channel;
  if (why !== null || tone === null) return why ?? 'No tone was heard.';
  const { levelDbfs, uncertainty } = tone;
  return {
    levelDbfs,
    volts: task.voltsPerFs === null ? null : dbfsToVolts(levelDbfs, task.voltsPerFs),
    uncertaintyDb: Math.hypot(uncertainty.levelDb, INPUT_UNCERTAINTY_DB),
  };
}

function readNoise(reading: PinkTakeReading, ambientDbfs: number | null): Level | string {
  const why = whyNotNoise(reading, ambientDbfs);
  const [level] = reading.levels;
  if (why !== null || level == null || level.levelDbfs === null) return why ?? 'No noise was heard.';
  return {
    levelDbfs: withoutAmbient(level.levelDbfs, ambientDbfs),
    volts: null,
    uncertaintyDb: Math.hypot(level.uncertaintyDb, INPUT_UNCERTAINTY_DB),
  };
}

function withAmbient(state: LevelState, reading: ToneTakeReading | PinkTakeReading): Recorded {
  if (reading.kind !== 'pink' || reading.levels.length !== ambientBands(state.task).length) {
    throw new RangeError("The cabin's own noise is read in each band of the task.");
  }
  const why = whyNotAmbient(reading);
  if (why !== null) return { ...state, refused: why };
  return { ...state, refused: null, ambientDbfs: reading.levels.map((level) => level.levelDbfs) };
}

/** Cabin's own level in a channel's band. */
function ambientIn({ task, ambientDbfs }: LevelState, { band }: LevelChannel): number | null {
  const at = ambientBands(task).findIndex((one) => one.lowHz === band.lowHz && one.highHz === band.highHz);
  return ambientDbfs?.[at] ?? null;
}

function withVolts(state: LevelState, channelId: string, volts: number): Recorded {
  checkPlace(state.task, channelId, null);
  if (!(volts > 0 && Number.isFinite(volts))) {
    throw new RangeError(`${volts} V was typed; a multimeter's reading is a positive number of volts.`);
  }
  const typed: LevelReading = {
    channelId,
    placeId: null,
    levelDbfs: null,
    volts,
    uncertaintyDb: METER_UNCERTAINTY_DB,
    isSuspect: false,
  };
  return { ...state, refused: null, chosen: null, readings: [...state.readings, typed] };
}

/** The record names the file that was applied, so every reading must have had it. */
function checkMicrophone({ microphone }: LevelTask, request: ToneTakeRequest | PinkTakeRequest): void {
  if (request.kind !== 'pink') return;
  if (JSON.stringify(request.microphone) === JSON.stringify(microphone?.curve)) return;
  const asked = microphone === undefined ? 'no calibration file' : microphone.file;
  throw new RangeError(`This task takes the microphone with ${asked}; the noise was read otherwise.`);
}

function checkPlace(task: LevelTask, channelId: string, placeId: string | null): LevelChannel {
  const channel = task.channels.find((one) => one.channelId === channelId);
  const isPlace = task.way === 'wire' ? placeId === null : task.places.some((one) => one.placeId === placeId);
  if (channel !== undefined && isPlace) return channel;
  const known = task.channels.map((one) => one.channelId).join(', ');
  throw new RangeError(
    `Channel "${channelId}" at "${placeId}" is not part of this task, which has ${known}.`,
  );
}

function wantedNext({ task, readings, ambientDbfs, chosen }: Recorded): LevelPurpose | null {
  if (chosen !== null) return chosen;
  if (task.way === 'microphone' && ambientDbfs === null) return { what: 'ambient' };
  const placeIds = task.way === 'wire' ? [null] : task.places.map((place) => place.placeId);
  for (const { channelId } of task.channels) {
    const placeId = placeIds.find((id) => readingAt(readings, channelId, id) === null);
    if (placeId !== undefined) return { what: 'channel', channelId, placeId };
  }
  return null;
}

function concluded(recorded: Recorded): LevelState {
  const { task, readings, ambientDbfs, refused, chosen } = recorded;
  const base = { task, readings, ambientDbfs, refused, chosen };
  const facts = { ...base, wanted: wantedNext(recorded), ...levelsOf(recorded) };
  const judged = { ...facts, worst: worstOf(facts.pairs), findings: findingsOf(facts) };
  return { ...judged, acceptance: acceptanceOf(judged), instruction: instructionFor(judged) };
}

export const LEVEL: Procedure<LevelTask, LevelEvent, LevelState, LevelResult> = {
  start: levelStart,
  step: levelStep,
  result: levelResult,
};
