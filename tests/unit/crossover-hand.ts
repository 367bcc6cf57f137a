/** A hand at the Crossover station of the practice rig: moves the lead, plays what the fold asks for, folds what came back. */

import hatchback from '../../shared/examples/hatchback.job.json' with { type: 'json' };
import { crossoverTask } from '../../src/job/crossover-task.ts';
import type { Job } from '../../src/job/document.ts';
import { readJob } from '../../src/job/read-job.ts';
import type { SessionEntry } from '../../src/job/session-log.ts';
import type { CrossoverEvent, CrossoverState } from '../../src/procedure/crossover/crossover.ts';
import { CROSSOVER } from '../../src/procedure/crossover/crossover-steps.ts';
import { channelOf, nextRequest } from '../../src/procedure/crossover/next.ts';
import { readTake } from '../../src/procedure/take/read-take.ts';
import { controlsAsFound, DEMO_RIG, DEMO_TONE } from '../../src/rig/demo-rig.ts';
import { faultyRig, type RigFaultId } from '../../src/rig/faults.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';

const HATCHBACK: Job = readJob(JSON.stringify(hatchback));
const BLOCK = 1024;
const SILENCE = { ...DEMO_TONE, kind: 'silence' as const };

export class CrossoverHand {
  state: CrossoverState = CROSSOVER.start(crossoverTask(HATCHBACK));
  readonly entries: SessionEntry[] = [{ type: 'start', task: crossoverTask(HATCHBACK) as never }];
  readonly recorded: Float32Array[] = [];
  readonly #controls;
  readonly #rig: PracticeRig;
  #frame = 0;

  constructor(faults: readonly RigFaultId[] = []) {
    const config = faults.reduce(faultyRig, DEMO_RIG);
    this.#controls = controlsAsFound(config);
    this.#rig = new PracticeRig(config, this.#controls, SILENCE);
  }

  tell(event: Exclude<CrossoverEvent, { type: 'take' }>): void {
    this.state = CROSSOVER.step(this.state, event);
    this.entries.push({ type: 'hand', event: event as never });
  }

  /** What the fold asks for next, at the place that it names. */
  sweep(): void {
    const { purpose, request } = nextRequest(this.state, 0);
    const { fedBy } = channelOf(this.state.task, purpose.channelId);
    const converter = fedBy === 'right' ? 'converter-right' : 'converter-left';
    const probe = purpose.what === 'reference' ? converter : purpose.channelId;
    this.#rig.setControls({ ...this.#controls, probe });
    this.#rig.setTone(SILENCE);
    this.#run(0.3);
    const startFrame = this.#frame;
    const quiet = this.#run(0.2);
    this.#rig.setTone({ kind: 'track', spec: request.sweep, channels: fedBy, loop: false });
    const played = this.#run(request.sweep.durationSeconds + 0.8);
    const samples = Float32Array.from([...quiet, ...played]);
    const doubts: [] = [];
    const reading = readTake(request, { sampleRateHz: 48_000, startFrame, channels: [samples], doubts });
    this.state = CROSSOVER.step(this.state, { type: 'take', purpose, request, reading });
    this.entries.push({
      ...{ type: 'take', purpose: purpose as never, request: request as never, startFrame, doubts },
      frames: samples.length,
      atFrame: this.recorded.reduce((sum, one) => sum + one.length, 0),
    });
    this.recorded.push(samples);
  }

  channel(channelId: string): void {
    this.tell({ type: 'channel', channelId });
    this.sweep();
  }

  #run(seconds: number): Float32Array {
    const samples = new Float32Array(Math.round(seconds * 48_000));
    for (let from = 0; from < samples.length; from += BLOCK) {
      const block = samples.subarray(from, Math.min(samples.length, from + BLOCK));
      this.#rig.fill([block], block.length);
    }
    this.#frame += samples.length;
    return samples;
  }
}
