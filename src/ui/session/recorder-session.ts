/** The recording under way, and those that are kept; outside React, so that leaving the station ends nothing. */

import { soundEngine } from '../../audio/engine/sound-engine.ts';
import { openRecording, repairRecordings } from '../../audio/recording/recorder-link.ts';
import type { RecordedSoFar } from '../../audio/recording/recording-writer.ts';
import { deleteRecording, type KeptRecording, keptRecordings } from '../../audio/recording/recordings.ts';
import { askToKeep } from '../../job/store/keep.ts';
import { sentenceOf } from '../format/sentence-of.ts';
import { observable } from '../live/observable.ts';
import { calibration } from './calibration.ts';
import { inputIdentity } from './input-identity.ts';

export interface RecorderState {
  phase: 'idle' | 'opening' | 'recording' | 'stopping';
  /** `null` before the first samples. */
  soFar: (RecordedSoFar & { sampleRateHz: number; channelCount: number }) | null;
  /** Why it could not begin, or why it ended by itself; `null` where all is well. */
  fault: string | null;
  /** The last one that ended. */
  endedName: string | null;
}

const IDLE: RecorderState = { phase: 'idle', soFar: null, fault: null, endedName: null };

export const recorder = observable<RecorderState>(IDLE);
/** `null` before they have been looked at. */
export const recordings = observable<readonly KeptRecording[] | null>(null);
/** Why they cannot be looked at, one sentence. */
export const recordingsFault = observable<string | null>(null);

function change(part: Partial<RecorderState>): void {
  recorder.set({ ...recorder.get(), ...part });
}

async function listAgain(): Promise<void> {
  try {
    recordings.set(await keptRecordings());
    recordingsFault.set(null);
  } catch (fault) {
    recordingsFault.set(sentenceOf(fault));
  }
}

let looked: Promise<void> | null = null;

/** Once for a page: what a page that died left behind is repaired before anything is listed. */
export function lookForRecordings(): Promise<void> {
  looked ??= repairRecordings()
    .catch((fault: unknown) => recordingsFault.set(sentenceOf(fault)))
    .then(listAgain);
  return looked;
}

function fileName(at: string): string {
  return `run-${at.slice(0, 19).replaceAll(/[:T]/g, '-')}.wav`;
}

/**
 * Records the open input from now on, every channel of it.
 *
 * @param at for each channel, where its lead or microphone is
 */
export async function beginRecording(at: readonly string[]): Promise<void> {
  const { phase } = recorder.get();
  if (phase !== 'idle') return;
  const device = inputIdentity(soundEngine.getState());
  if (device === null) return change({ fault: 'Nothing is heard: open an input first.' });
  recorder.set({ ...IDLE, phase: 'opening' });
  void askToKeep();
  const startedAt = new Date().toISOString();
  const note = {
    startedAt,
    source: device.label || 'Unnamed input',
    voltsPerFs: calibration.get()?.voltsPerFs ?? null,
    at: [...at],
    overloads: 0,
    gapFrames: 0,
    ending: 'open',
  };
  try {
    const { port, lend } = await openRecording(fileName(startedAt), note, (report) => {
      if (report.type === 'so-far') {
        const { soFar, sampleRateHz, channelCount } = report;
        change({ soFar: { ...soFar, sampleRateHz, channelCount } });
        return;
      }
      change({ phase: 'idle', fault: report.sentence, endedName: report.name });
      void listAgain();
    });
    lendRunning = lend;
    change({ phase: 'recording' });
    soundEngine.record(port);
  } catch (fault) {
    recorder.set({ ...IDLE, fault: sentenceOf(fault) });
  }
}

let lendRunning: (() => MessagePort) | null = null;

/** What is written so far of the recording under way, to be checked; `null` where none runs. */
export function runningRecording() {
  const { phase, soFar } = recorder.get();
  if (phase !== 'recording' || soFar === null || lendRunning === null) return null;
  const { sampleRateHz, channelCount, frames } = soFar;
  return { kind: 'running', port: lendRunning(), sampleRateHz, channelCount, frames } as const;
}

export function stopRecording(): void {
  if (recorder.get().phase !== 'recording') return;
  change({ phase: 'stopping' });
  soundEngine.endRecord();
}

export async function forgetRecording(name: string): Promise<void> {
  try {
    await deleteRecording(name);
  } catch (fault) {
    recordingsFault.set(`It was not deleted: ${sentenceOf(fault)}`);
    return;
  }
  if (recorder.get().endedName === name) change({ endedName: null });
  await listAgain();
}
