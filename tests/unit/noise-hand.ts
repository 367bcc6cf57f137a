/** Somebody at the practice rig's Quiet station: turns the key, pulls the lead, records. */

import hatchback from '../../shared/examples/hatchback.job.json' with { type: 'json' };
import { noiseTask } from '../../src/job/noise-task.ts';
import { parseJob } from '../../src/job/read-job.ts';
import type { SessionEntry } from '../../src/job/session-log.ts';
import type { NoisePurpose, NoiseState } from '../../src/procedure/noise/noise.ts';
import { noiseStart, noiseStep } from '../../src/procedure/noise/noise-steps.ts';
import { readNoiseTake } from '../../src/procedure/take/noise-take.ts';
import { DEMO_CONTROLS, DEMO_RIG } from '../../src/rig/demo-rig.ts';
import { faultyRig, type RigFaultId } from '../../src/rig/faults.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';
import type { RigConfig, RigControls, RigTone } from '../../src/rig/rig.ts';

const REQUEST = { kind: 'noise', channelIndex: 0 } as const;
const SILENCE = { kind: 'silence', frequencyHz: 997, levelDbfs: -5, channels: 'both' } as const;
export const RATE_HZ = DEMO_RIG.sampleRateHz;
const SECONDS = 4;
const JOB = parseJob(hatchback);
/** A stamp as the app makes for the practice rig, whose scale is known. */
const SCALE = {
  id: 'practice-rig',
  voltsPerFs: DEMO_RIG.input.voltsPerFs,
  uncertaintyDb: 0.01,
  deviceLabel: 'Practice rig',
  at: '2026-03-14T09:30:00.000Z',
  basis: 'practice-rig',
} as const;

export class NoiseHand {
  readonly config: RigConfig;
  readonly entries: SessionEntry[] = [];
  readonly takes: Float32Array[] = [];
  state: NoiseState;
  #controls: RigControls;
  readonly #rig: PracticeRig;
  #frame = 0;

  /** @param channelId whose terminals are read; `null` stands a microphone in the cabin */
  constructor(channelId: string | null, faults: readonly RigFaultId[], gain = 0.6) {
    this.config = faults.reduce(faultyRig, DEMO_RIG);
    const gains = Object.fromEntries(DEMO_RIG.channels.map(({ id }) => [id, gain]));
    this.#controls = { ...DEMO_CONTROLS, gains, probe: channelId ?? 'cabin' };
    this.#rig = new PracticeRig(this.config, this.#controls, SILENCE);
    const task = noiseTask(JOB, channelId, SCALE);
    this.state = noiseStart(task);
    this.entries.push({ type: 'start', task: { ...task } });
  }

  controls(part: Partial<RigControls>): RigControls {
    return { ...this.#controls, ...part };
  }

  record(purpose: NoisePurpose): void {
    const muted = purpose.lead === 'unplugged' ? DEMO_RIG.channels.map(({ id }) => id) : [];
    this.#controls = this.controls({ engine: purpose.engine, muted });
    this.#rig.setControls(this.#controls);
    // What the ramp and the filters still ring with is not the floor.
    this.#run(0.5);
    const startFrame = this.#frame;
    const samples = this.#run(SECONDS);
    const reading = readNoiseTake(REQUEST, {
      sampleRateHz: RATE_HZ,
      startFrame,
      channels: [samples],
      doubts: [],
    });
    this.state = noiseStep(this.state, { type: 'take', purpose, request: REQUEST, reading });
    this.entries.push({
      type: 'take',
      purpose: { ...purpose },
      request: REQUEST,
      startFrame,
      frames: samples.length,
      atFrame: this.takes.reduce((sum, take) => sum + take.length, 0),
      doubts: [],
    });
    this.takes.push(samples);
  }

  play(tone: RigTone): void {
    this.#rig.setTone(tone);
  }

  /** Does what the station asks for until it asks for nothing more. */
  followThrough(): void {
    for (let left = 6; this.state.wanted !== null; left -= 1) {
      if (left === 0) throw new Error(`The station goes on asking: ${this.state.instruction}`);
      this.record(this.state.wanted);
    }
  }

  type(engine: NoisePurpose['engine'], rpm: number): void {
    const event = { type: 'rpm', engine, rpm } as const;
    this.state = noiseStep(this.state, event);
    this.entries.push({ type: 'hand', event: { ...event } });
  }

  #run(seconds: number): Float32Array {
    const samples = new Float32Array(Math.round(seconds * RATE_HZ));
    this.#rig.fill([samples], samples.length);
    this.#frame += samples.length;
    return samples;
  }
}
