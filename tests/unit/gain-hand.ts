/**
 * Somebody at the controls of one channel of the practice rig, with the live analyser and the Gain station
 * looking on: samples in, states out, no clock. What the input delivered and what the hand did is kept, so
 * that it can be replayed.
 */
import { readFileSync } from 'node:fs';
import { LiveAnalyser } from '../../src/dsp/live/live-analyser.ts';
import { WindowAnalyser } from '../../src/dsp/measure/window-analyser.ts';
import { AUDIO_BAND } from '../../src/dsp/reading.ts';
import type { ToneSpec } from '../../src/dsp/tones/spec.ts';
import { gainTask } from '../../src/job/job-plan.ts';
import { readJob } from '../../src/job/read-job.ts';
import type { GainEvent, GainState, GainTask } from '../../src/procedure/gain/gain.ts';
import { gainStart, gainStep } from '../../src/procedure/gain/gain-steps.ts';
import { gainReading } from '../../src/procedure/gain/reading.ts';
import { wantedDbfs } from '../../src/procedure/gain/wanted-tone.ts';
import { controlsAsFound, DEMO_RIG } from '../../src/rig/demo-rig.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';
import type { RigConfig, RigControls, RigSineTone } from '../../src/rig/rig.ts';
import { amplifierGainDb, gainSetting } from '../../src/rig/settings.ts';

export const HATCHBACK = readJob(
  readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'),
);
export const BLOCK = 1200;
export const SCALE = { voltsPerFs: DEMO_RIG.input.voltsPerFs, uncertaintyDb: 0.05 };

export interface HandOptions {
  config?: RigConfig;
  controls?: Partial<RigControls>;
  /** Sides on which the radio plays, whatever the plan says. */
  sides?: 'left' | 'right' | 'both';
}

/** The analyser in front of the station, as the app runs it. */
export function analyserFor(task: GainTask, sampleRateHz: number): LiveAnalyser {
  return new LiveAnalyser(
    { sampleRateHz, channelCount: 1, band: AUDIO_BAND, expectedHz: task.toneHz, warmUpSeconds: 0 },
    (frames, rate) => new WindowAnalyser({ frames, sampleRateHz: rate }),
  );
}

export class Hand {
  readonly #id: string;
  readonly #config: RigConfig;
  readonly #sides: 'left' | 'right' | 'both';
  readonly #rig: PracticeRig;
  readonly #live: LiveAnalyser;
  #controls: RigControls;
  #frame = 0;
  #isTrack = false;
  #toneDbfs: number | null;
  #gainDb: number;
  state: GainState;
  /** All that the input delivered. */
  readonly recorded: Float32Array[] = [];
  /** What the hand told the station, and after which frame. */
  readonly told: { frame: number; event: GainEvent }[] = [];
  /** Levels that the station asked for, and from which frame. */
  readonly asked: { frame: number; toneDbfs: number | null }[] = [];

  constructor(id: string, options: HandOptions = {}) {
    const task = gainTask(HATCHBACK, id, 'wire');
    this.#id = id;
    this.#config = options.config ?? DEMO_RIG;
    this.#sides = options.sides ?? HATCHBACK.channels.find((one) => one.id === id)!.fedBy;
    this.#controls = { ...controlsAsFound(this.#config), ...options.controls, probe: id };
    this.#gainDb = amplifierGainDb(this.#channel, this.#controls.gains[id] ?? 0);
    this.state = gainStart(task);
    this.#toneDbfs = wantedDbfs(this.state);
    this.#rig = new PracticeRig(this.#config, this.#controls, this.#tone());
    this.#live = analyserFor(task, this.#config.sampleRateHz);
  }

  /** Voltage gain at which the control stands, dB. */
  get gainDb(): number {
    return this.#gainDb;
  }

  get #channel() {
    return this.#config.channels.find((one) => one.id === this.#id)!;
  }

  #tone(): RigSineTone {
    const { toneHz, toneDbfs } = this.state.task;
    const kind = this.#toneDbfs === null ? 'silence' : 'sine';
    return { kind, frequencyHz: toneHz, levelDbfs: this.#toneDbfs ?? toneDbfs, channels: this.#sides };
  }

  /** The hand starts a track on the radio; from then on the station only listens. */
  playTrack(spec: ToneSpec): void {
    this.#isTrack = true;
    this.#rig.setTone({ kind: 'track', spec, channels: this.#sides, loop: false });
  }

  /** The radio plays what the station asks for. */
  #obey(): void {
    if (this.#isTrack) return;
    const wanted = wantedDbfs(this.state);
    if (wanted === this.#toneDbfs) return;
    this.#toneDbfs = wanted;
    this.asked.push({ frame: this.#frame, toneDbfs: wanted });
    this.#rig.setTone(this.#tone());
  }

  #listen(): void {
    const block = new Float32Array(BLOCK);
    this.#rig.fill([block], BLOCK);
    this.recorded.push(block);
    const live = this.#live.push({
      sequence: this.#frame / BLOCK,
      startFrame: this.#frame,
      channels: [block],
      facts: { emptyQuanta: 0, missedFrames: 0, notANumber: 0 },
    });
    this.#frame += BLOCK;
    if (live === null) return;
    this.state = gainStep(this.state, { type: 'reading', reading: gainReading(live, 0, SCALE) });
    this.#obey();
  }

  tell(event: GainEvent): void {
    this.told.push({ frame: this.#frame, event });
    this.state = gainStep(this.state, event);
    this.#obey();
  }

  rest(seconds: number): void {
    const end = this.#frame + seconds * this.#config.sampleRateHz;
    while (this.#frame < end) this.#listen();
  }

  /** Waits, at most so long. */
  restUntil(isSo: (state: GainState) => boolean, seconds: number): void {
    const end = this.#frame + seconds * this.#config.sampleRateHz;
    while (this.#frame < end && !isSo(this.state)) this.#listen();
  }

  change(controls: Partial<RigControls>): void {
    this.#controls = { ...this.#controls, ...controls };
    this.#rig.setControls(this.#controls);
  }

  /** Turns by so much at this speed, or until the station says otherwise. */
  turn(byDb: number, dbPerSecond: number, until: (state: GainState) => boolean = () => false): void {
    const goal = this.#gainDb + byDb;
    const step = (Math.sign(byDb) * dbPerSecond * BLOCK) / this.#config.sampleRateHz;
    while (Math.abs(goal - this.#gainDb) > Math.abs(step) && !until(this.state)) {
      this.#gainDb += step;
      const gains = { ...this.#controls.gains, [this.#id]: gainSetting(this.#channel, this.#gainDb) };
      this.change({ gains });
      this.#listen();
    }
  }

  /** Turns to the aim as somebody does who looks at the pointer, and lets it rest. */
  aim(): void {
    this.rest(1);
    for (let turn = 0; turn < 3; turn++) {
      this.turn(-(this.state.aim.errorDb ?? 0), 6);
      this.rest(1.2);
    }
  }
}
