/** Somebody at the practice rig with the Balance station's folds: moves lead and microphone, mutes, records, keeps logs. */
import { readFileSync } from 'node:fs';
import { arrivalTask, levelTask, polarityTask, trainOf } from '../../src/job/balance/tasks.ts';
import { readJob } from '../../src/job/read-job.ts';
import type { SessionEntry, SessionLog } from '../../src/job/session-log.ts';
import { ARRIVAL } from '../../src/procedure/arrival/arrival-steps.ts';
import { ambientBands, type LevelPurpose, type LevelTask } from '../../src/procedure/level/level.ts';
import { LEVEL } from '../../src/procedure/level/level-steps.ts';
import { POLARITY } from '../../src/procedure/polarity/polarity-steps.ts';
import type { Procedure, StationState } from '../../src/procedure/procedure.ts';
import { pulseChannel, pulseRequest } from '../../src/procedure/pulses/pulse-channel.ts';
import { readTake, type TakeRequest } from '../../src/procedure/take/read-take.ts';
import type { Take } from '../../src/procedure/take/take.ts';
import { controlsAsFound, DEMO_RIG } from '../../src/rig/demo-rig.ts';
import { faultyRig, type RigFaultId } from '../../src/rig/faults.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';
import type { RigConfig, RigControls, RigTone } from '../../src/rig/rig.ts';

const HATCHBACK = readJob(
  readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'),
);
const { sampleRateHz } = DEMO_RIG;
/** As the app waits on the rig. */
const SETTLE_SECONDS = 0.25;
/** Shorter than the app's, because the rig takes as long as it sounds. */
const NOISE_SECONDS = 2;
const PULSES_SECONDS = 4;
const SILENCE: RigTone = { kind: 'silence', frequencyHz: 997, levelDbfs: 0, channels: 'both' };
const CHANNEL_IDS = HATCHBACK.channels.map((channel) => channel.id);

/** One fold with its log and its takes. */
class Session<T, E, S extends StationState, R> {
  readonly takes: Take[] = [];
  readonly entries: SessionEntry[];
  state: S;

  readonly kind: string;
  readonly procedure: Procedure<T, E, S, R>;

  constructor(kind: string, procedure: Procedure<T, E, S, R>, task: T) {
    this.kind = kind;
    this.procedure = procedure;
    this.state = procedure.start(task);
    this.entries = [{ type: 'start', task: task as never }];
  }

  fold(purpose: unknown, request: TakeRequest, take: Take): void {
    const event = { type: 'take', purpose, request, reading: readTake(request, take) };
    this.state = this.procedure.step(this.state, event as E);
    const { startFrame, channels, doubts } = take;
    this.entries.push({
      type: 'take',
      purpose: purpose as never,
      request: request as never,
      startFrame,
      frames: channels[0]!.length,
      atFrame: this.takes.reduce((sum, one) => sum + one.channels[0]!.length, 0),
      doubts: [...doubts],
    });
    this.takes.push(take);
  }

  /** As `expectReplays` wants it. */
  accept() {
    const stamp = { id: 'record-1', at: '2026-03-14T12:00:00.000Z', conditions: CONDITIONS };
    const result = this.procedure.result(this.state);
    this.entries.push({ type: 'accept', ...stamp });
    return { kind: this.kind, ...stamp, result };
  }

  recording(): { log: SessionLog; channels: Float32Array[] } {
    const log: SessionLog = {
      format: 'kneepoint-session',
      version: 1,
      kind: this.kind,
      sampleRateHz,
      file: `${this.kind}.wav`,
      entries: this.entries,
    };
    const samples = Float32Array.from(this.takes.flatMap((take) => [...take.channels[0]!]));
    return { log, channels: [samples] };
  }
}

export class BalanceHand {
  readonly config: RigConfig;
  readonly polarity = new Session('polarity', POLARITY, polarityTask(HATCHBACK));
  readonly arrival = new Session('arrival', ARRIVAL, arrivalTask(HATCHBACK));
  #controls: RigControls;
  readonly #rig: PracticeRig;
  #frame = 0;

  constructor(faults: readonly RigFaultId[] = []) {
    this.config = faults.reduce(faultyRig, DEMO_RIG);
    this.#controls = controlsAsFound(this.config);
    this.#rig = new PracticeRig(this.config, this.#controls, SILENCE);
  }

  get controls(): RigControls {
    return this.#controls;
  }

  levels(way: LevelTask['way'], lessened: (task: LevelTask) => LevelTask = (task) => task) {
    const task = levelTask(HATCHBACK, way, { weighting: 'C', voltsPerFs: this.config.input.voltsPerFs });
    const session = new Session('level', LEVEL, lessened(task));
    for (let wanted = session.state.wanted; wanted !== null; wanted = session.state.wanted) {
      const before = session.takes.length;
      this.#level(session, wanted);
      if (session.state.refused !== null) throw new Error(session.state.refused);
      if (session.takes.length === before) throw new Error('Nothing was recorded.');
    }
    return session;
  }

  #level(session: Session<LevelTask, never, ReturnType<typeof LEVEL.start>, unknown>, purpose: LevelPurpose) {
    const { task } = session.state;
    if (purpose.what === 'ambient') {
      this.#turn({ probe: 'cabin', muted: [], position: 0 });
      this.#rig.setTone(SILENCE);
      const request = {
        kind: 'pink',
        channelIndex: 0,
        bands: ambientBands(task),
        weighting: task.weighting,
      } satisfies TakeRequest;
      session.fold(purpose, request, this.#record(NOISE_SECONDS));
      return;
    }
    const channel = task.channels.find((one) => one.channelId === purpose.channelId)!;
    const { fedBy } = HATCHBACK.channels.find((one) => one.id === purpose.channelId)!;
    if (purpose.placeId === null) {
      this.#turn({ probe: purpose.channelId });
      this.#rig.setTone({
        kind: 'sine',
        frequencyHz: channel.toneHz,
        levelDbfs: channel.toneDbfs,
        channels: fedBy,
      });
      this.#skip(SETTLE_SECONDS);
      session.fold(purpose, { kind: 'tone', channelIndex: 0, frequencyHz: channel.toneHz }, this.#record(1));
      return;
    }
    const position = task.places.findIndex((place) => place.placeId === purpose.placeId);
    this.#alone(purpose.channelId, position);
    const spec = { kind: 'pink', ...channel.band, levelDbfs: -20, seed: 1, durationSeconds: 20 } as const;
    this.#rig.setTone({ kind: 'track', spec, channels: fedBy, loop: true });
    this.#skip(SETTLE_SECONDS);
    const request = {
      kind: 'pink',
      channelIndex: 0,
      bands: [channel.band],
      weighting: task.weighting,
    } satisfies TakeRequest;
    session.fold(purpose, request, this.#record(NOISE_SECONDS));
  }

  /** The train starts and runs on; each channel alone, then the first once more. Both folds hear each take. */
  pulses(): void {
    const { spec } = trainOf(HATCHBACK);
    const train = { ...spec, durationSeconds: 10 };
    this.#rig.setTone({ kind: 'track', spec: train, channels: 'both', loop: true });
    while (this.arrival.state.wanted !== null) {
      const channelId = this.arrival.state.wanted;
      this.#alone(channelId, 0);
      this.#skip(SETTLE_SECONDS);
      const { channels, everySeconds } = this.arrival.state.task;
      const request = pulseRequest(pulseChannel(channels, channelId), everySeconds, 0);
      const take = this.#record(PULSES_SECONDS);
      this.polarity.fold({ channelId }, request, take);
      this.arrival.fold({ channelId }, request, take);
      if (this.arrival.state.refused !== null) throw new Error(this.arrival.state.refused);
    }
  }

  #alone(channelId: string, position: number): void {
    this.#turn({ probe: 'cabin', muted: CHANNEL_IDS.filter((id) => id !== channelId), position });
  }

  #turn(part: Partial<RigControls>): void {
    this.#controls = { ...this.#controls, ...part };
    this.#rig.setControls(this.#controls);
  }

  #skip(seconds: number): void {
    this.#record(seconds);
  }

  #record(seconds: number): Take {
    const startFrame = this.#frame;
    const samples = new Float32Array(Math.round(seconds * sampleRateHz));
    this.#rig.fill([samples], samples.length);
    this.#frame += samples.length;
    return { sampleRateHz, startFrame, channels: [samples], doubts: [] };
  }
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
