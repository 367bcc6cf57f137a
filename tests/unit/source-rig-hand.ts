/** Somebody at the practice rig with the Source station's folds: turns, plays, records, and keeps the log. */
import { expect } from 'vitest';
import { blobBytes } from '../../src/audio/wav/blob-bytes.ts';
import { floatWav } from '../../src/audio/wav/float-wav.ts';
import { openWav } from '../../src/audio/wav/open-wav.ts';
import { readFrames } from '../../src/audio/wav/read-frames.ts';
import { toneSeconds } from '../../src/dsp/tones/render-tone.ts';
import type { ToneSpec } from '../../src/dsp/tones/spec.ts';
import { keptRecord } from '../../src/job/kept-record.ts';
import { replay } from '../../src/job/replay.ts';
import { readSessionLog, type SessionEntry, type SessionLog } from '../../src/job/session-log.ts';
import type { Procedure, StationState } from '../../src/procedure/procedure.ts';
import { readTake, type TakeRequest } from '../../src/procedure/take/read-take.ts';
import type { Take } from '../../src/procedure/take/take.ts';
import { controlsAsFound, DEMO_RIG } from '../../src/rig/demo-rig.ts';
import { faultyRig, type RigFaultId } from '../../src/rig/faults.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';
import type { RigControls, RigTone, RigTrackTone } from '../../src/rig/rig.ts';

const { sampleRateHz } = DEMO_RIG;
/** As the app waits on the rig. */
const SETTLE_SECONDS = 0.25;
const SILENCE: RigTone = { kind: 'silence', frequencyHz: 997, levelDbfs: 0, channels: 'both' };

export class RigHand<T, E, S extends StationState, R> {
  readonly #kind: string;
  readonly #procedure: Procedure<T, E, S, R>;
  readonly #rig: PracticeRig;
  #controls: RigControls;
  #frame = 0;
  state: S;
  readonly takes: Take[] = [];
  readonly #entries: SessionEntry[];

  constructor(kind: string, procedure: Procedure<T, E, S, R>, task: T, faults: readonly RigFaultId[] = []) {
    const config = faults.reduce(faultyRig, DEMO_RIG);
    this.#kind = kind;
    this.#procedure = procedure;
    this.#controls = controlsAsFound(config);
    this.#rig = new PracticeRig(config, this.#controls, SILENCE);
    this.state = procedure.start(task);
    this.#entries = [{ type: 'start', task: task as never }];
  }

  turn(part: Partial<RigControls>): void {
    this.#controls = { ...this.#controls, ...part };
    this.#rig.setControls(this.#controls);
  }

  /** A steady tone is recorded once it has settled; any other whole, with room at both ends. */
  take(
    purpose: unknown,
    request: TakeRequest,
    spec: ToneSpec,
    side: RigTrackTone['channels'],
    steadySeconds = 0.6,
  ): void {
    const isSteady = spec.kind === 'sine';
    const ahead = isSteady ? [] : [this.#record(0.3)];
    this.#rig.setTone(
      isSteady
        ? { kind: 'sine', frequencyHz: spec.frequencyHz, levelDbfs: spec.levelDbfs, channels: side }
        : { kind: 'track', spec, channels: side, loop: false },
    );
    if (isSteady) this.#record(SETTLE_SECONDS);
    const startFrame = this.#frame - (ahead[0]?.length ?? 0);
    const heard = this.#record(isSteady ? steadySeconds : toneSeconds(spec) + 0.8);
    this.#rig.setTone(SILENCE);
    const take: Take = { sampleRateHz, startFrame, channels: [joined([...ahead, heard])], doubts: [] };
    const event = { type: 'take', purpose, request, reading: readTake(request, take) };
    this.state = this.#procedure.step(this.state, event as E);
    const frames = take.channels[0]!.length;
    const atFrame = this.takes.reduce((sum, one) => sum + one.channels[0]!.length, 0);
    this.#entries.push({
      type: 'take',
      purpose: purpose as never,
      request: request as never,
      startFrame,
      frames,
      atFrame,
      doubts: [],
    });
    this.takes.push(take);
  }

  /** Accepted, under conditions that nobody noted. */
  accept(): { kind: string; id: string; at: string; conditions: object; result: R } {
    const stamp = { id: 'record-1', at: '2026-03-14T12:00:00.000Z', conditions: CONDITIONS };
    const result = this.#procedure.result(this.state);
    this.#entries.push({ type: 'accept', ...stamp });
    return { kind: this.#kind, ...stamp, result };
  }

  /** Channels of the WAV that the log speaks of. */
  recording(): { log: SessionLog; channels: Float32Array[] } {
    const log: SessionLog = {
      format: 'kneepoint-session',
      version: 1,
      kind: this.#kind,
      sampleRateHz,
      file: `${this.#kind}.wav`,
      entries: this.#entries,
    };
    return { log, channels: [joined(this.takes.map((take) => take.channels[0]!))] };
  }

  #record(seconds: number): Float32Array {
    const samples = new Float32Array(Math.round(seconds * sampleRateHz));
    this.#rig.fill([samples], samples.length);
    this.#frame += samples.length;
    return samples;
  }
}

interface Recorded {
  accept(): object;
  recording(): { log: SessionLog; channels: Float32Array[] };
}

/** The record from the samples, and the one from log and WAV read back: the same, byte for byte. */
export async function expectReplays(hand: Recorded): Promise<void> {
  const accepted = JSON.stringify(keptRecord(hand.accept()));
  const { log, channels } = hand.recording();
  expect(await replayed(log, channels)).toEqual([accepted]);
  // Samples that differ are not overlooked, be it in level or in time: the comparison can fail.
  const other = channels.map((samples) => samples.map((_, i) => 1.01 * (samples[i - 4800] ?? 0)));
  expect(await replayed(log, other)).not.toEqual([accepted]);
}

async function replayed(log: SessionLog, channels: Float32Array[]): Promise<string[]> {
  const wav = await openWav(blobBytes(new Blob([floatWav(channels, sampleRateHz)])));
  const readBack = readSessionLog(JSON.stringify(log));
  const records = await replay(readBack, async (atFrame, frames) => {
    const buffers = channels.map(() => new Float32Array(frames));
    await readFrames(wav, atFrame, frames, buffers);
    return buffers;
  });
  return records.map((one) => JSON.stringify(one));
}

const CONDITIONS = {
  supplyVolts: null,
  engineRunning: null,
  loaded: null,
  volumeStep: null,
  calibration: null,
  input: null,
  note: '',
};

function joined(pieces: readonly Float32Array[]): Float32Array {
  const whole = new Float32Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let place = 0;
  for (const piece of pieces) {
    whole.set(piece, place);
    place += piece.length;
  }
  return whole;
}
