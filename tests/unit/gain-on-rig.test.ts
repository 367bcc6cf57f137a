/**
 * The whole way of a gain: samples of the practice rig, the live analyser, the
 * station. What it finds is held against what the rig was built from.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { LiveAnalyser } from '../../src/dsp/live/live-analyser.ts';
import { WindowAnalyser } from '../../src/dsp/measure/window-analyser.ts';
import { AUDIO_BAND } from '../../src/dsp/reading.ts';
import { gainTask } from '../../src/job/job-plan.ts';
import { readJob } from '../../src/job/read-job.ts';
import type { GainState } from '../../src/procedure/gain/gain.ts';
import { gainStart, gainStep } from '../../src/procedure/gain/gain-steps.ts';
import { gainReading } from '../../src/procedure/gain/reading.ts';
import { gainResult } from '../../src/procedure/gain/result.ts';
import { DEMO_CONTROLS, DEMO_RIG } from '../../src/rig/demo-rig.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';
import { gainSetting } from '../../src/rig/settings.ts';

const JOB = readJob(
  readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'),
);
const BLOCK = 1200;

/** Somebody at the controls of one channel, with the station looking on. */
class Hand {
  readonly #id: string;
  readonly #rig: PracticeRig;
  readonly #live: LiveAnalyser;
  readonly #block = [new Float32Array(BLOCK)];
  #frame = 0;
  #gainDb: number;
  #volumeStep: number;
  state: GainState;

  constructor(id: string, volumeStep = DEMO_CONTROLS.volumeStep) {
    const task = gainTask(JOB, id, 'wire');
    const channel = DEMO_RIG.channels.find((one) => one.id === id)!;
    this.#id = id;
    this.#gainDb = channel.lowestGainDb;
    this.#volumeStep = volumeStep;
    const tone = {
      kind: 'sine',
      frequencyHz: task.toneHz,
      levelDbfs: task.toneDbfs,
      channels: 'both',
    } as const;
    this.#rig = new PracticeRig(DEMO_RIG, this.#controls(), tone);
    this.#live = new LiveAnalyser(
      {
        sampleRateHz: DEMO_RIG.sampleRateHz,
        channelCount: 1,
        band: AUDIO_BAND,
        expectedHz: task.toneHz,
        warmUpSeconds: 0,
      },
      (frames, sampleRateHz) => new WindowAnalyser({ frames, sampleRateHz }),
    );
    this.state = gainStart(task);
  }

  #controls() {
    const channel = DEMO_RIG.channels.find((one) => one.id === this.#id)!;
    const gains = { ...DEMO_CONTROLS.gains, [this.#id]: gainSetting(channel, this.#gainDb) };
    return { ...DEMO_CONTROLS, volumeStep: this.#volumeStep, gains, probe: this.#id };
  }

  #listen(): void {
    this.#rig.fill(this.#block, BLOCK);
    const live = this.#live.push({
      sequence: this.#frame / BLOCK,
      startFrame: this.#frame,
      channels: this.#block,
      facts: { emptyQuanta: 0, missedFrames: 0, notANumber: 0 },
    });
    this.#frame += BLOCK;
    if (live === null) return;
    const reading = gainReading(live, 0, { voltsPerFs: DEMO_RIG.input.voltsPerFs, uncertaintyDb: 0.05 });
    this.state = gainStep(this.state, { type: 'reading', reading });
  }

  rest(seconds: number): void {
    const end = this.#frame + seconds * DEMO_RIG.sampleRateHz;
    while (this.#frame < end) this.#listen();
  }

  volume(step: number): void {
    this.#volumeStep = step;
    this.#rig.setControls(this.#controls());
  }

  /** Turns by so much at this speed, or until the station says otherwise. */
  turn(byDb: number, dbPerSecond: number, until: (state: GainState) => boolean = () => false): void {
    const goal = this.#gainDb + byDb;
    const step = (Math.sign(byDb) * dbPerSecond * BLOCK) / DEMO_RIG.sampleRateHz;
    while (Math.abs(goal - this.#gainDb) > Math.abs(step) && !until(this.state)) {
      this.#gainDb += step;
      this.#rig.setControls(this.#controls());
      this.#listen();
    }
  }
}

describe('a gain set on the practice rig', () => {
  it.each([
    ['front-left', 18.4, 17.3205],
    ['subwoofer', 30.5, 28.2843],
  ])(
    '%s: up, past the knee, back by what it says, accepted inside the brackets',
    (id, kneeVolts, targetVolts) => {
      const hand = new Hand(id);
      hand.rest(1);
      expect(hand.state.aim.zone).toBe('under');
      hand.turn(28, 3, (state) => state.aim.zone === 'past-knee');
      hand.rest(1);
      expect(hand.state.aim.zone).toBe('past-knee');
      expect(hand.state.instruction).toMatch(/^Stop: \d\.\d dB past the knee\. Turn back \d\.\d dB\.$/);
      hand.turn(-(hand.state.aim.turnBackDb ?? 0), 1);
      hand.rest(2);
      expect(hand.state.instruction).toMatch(/^Inside the brackets and at rest/);
      const result = gainResult(hand.state);
      expect(result.inside).toBe(true);
      expect(result.clippingVerdict).toBe('clean');
      expect(Math.abs(20 * Math.log10(result.volts / targetVolts))).toBeLessThan(0.5);
      const kneeErrorDb = 20 * Math.log10((result.knee?.volts ?? 0) / kneeVolts);
      // Three of its own standard uncertainties of 0.02 dB.
      expect(Math.abs(kneeErrorDb)).toBeLessThan(0.06);
      expect(result.knee?.disputed).toBe(false);
    },
  );

  it('with the radio clipping from the start: the station names an earlier stage, and goes on once it is turned down', () => {
    const hand = new Hand('front-left', 36);
    hand.rest(1);
    hand.turn(8, 3);
    hand.rest(1);
    expect(hand.state.clippingStage).toBe('earlier');
    expect(hand.state.knee).toBeNull();
    hand.volume(30);
    hand.rest(1.5);
    expect(hand.state.clippingStage).toBeNull();
    expect(hand.state.aim.zone).toBe('under');
  });
});
