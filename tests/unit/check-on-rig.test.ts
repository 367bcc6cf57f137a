/** The practice rig plays the demo job's run track; what is recorded at its points is given to the check. */
import { describe, expect, test } from 'vitest';
import { checkTask } from '../../src/job/check-task.ts';
import type { RunTrack } from '../../src/job/manifest.ts';
import { type RunContent, usualRunOptions } from '../../src/job/run-track/options.ts';
import { runTrack } from '../../src/job/run-track/run-track.ts';
import type { CheckReport } from '../../src/procedure/check/check.ts';
import { checkRecording } from '../../src/procedure/check/check-recording.ts';
import { controlsAsFound, DEMO_CONTROLS, DEMO_RIG } from '../../src/rig/demo-rig.ts';
import { faultyRig, type RigFaultId } from '../../src/rig/faults.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';
import type { RigConfig, RigControls, RigTone } from '../../src/rig/rig.ts';
import { amplifierGainDb, gainSetting } from '../../src/rig/settings.ts';
import { rigTruth } from '../../src/rig/truth.ts';
import { samplesOf } from './rig-listening.ts';
import { failedAt, HATCHBACK, named } from './run-recordings.ts';

/** A minute of the rig and its check; other work may slow the machine fourfold. */
const SLOW = { timeout: 240_000 };

/** As the app plays it: made for the tone set's rate, sampled by the rig at its own. */
const SET_RATE_HZ = 44_100;
const AHEAD_SECONDS = 0.5;

function runOf(contents?: readonly RunContent[]): RunTrack {
  const options = usualRunOptions(HATCHBACK);
  const chosen = contents === undefined ? options : { ...options, contents };
  return { file: 'run.wav', ...runTrack(HATCHBACK, chosen, SET_RATE_HZ) };
}

/** Where each gain control stands on the healthy vehicle once its channel reads its target. */
const SET_GAINS = Object.fromEntries(
  HATCHBACK.channels.map(({ id, tone }) => {
    const channel = DEMO_RIG.channels.find((one) => one.id === id)!;
    const [point] = checkTask(runOf(['reduced']), HATCHBACK, {
      at: [id],
      channelCount: 1,
      voltsPerFs: null,
    }).points;
    const targetVolts = point?.at === 'terminals' ? point.targetVolts! : Number.NaN;
    const fullyDown = rigTruth(
      DEMO_RIG,
      { ...DEMO_CONTROLS, probe: id },
      { kind: 'sine', channels: 'both', ...tone },
    );
    const missingDb = 20 * Math.log10(targetVolts / fullyDown.outputVolts);
    return [id, gainSetting(channel, amplifierGainDb(channel, 0) + missingDb)];
  }),
);

type Engine = RigControls['engine'];

/** A recording at a point, begun a moment before the track; what was left turned up, or off, stays so. */
function recordedAt(point: string, run: RunTrack, config: RigConfig, engine: Engine): Float32Array {
  const gains = { ...SET_GAINS, ...config.asFound.gains };
  const silence: RigTone = { kind: 'silence', frequencyHz: 997, levelDbfs: 0, channels: 'both' };
  const controls = { ...controlsAsFound(config), gains, probe: point, engine };
  const rig = new PracticeRig(config, controls, silence);
  const ahead = samplesOf(rig, AHEAD_SECONDS);
  rig.setTone({ kind: 'run', run });
  const whole = samplesOf(rig, run.durationSeconds + AHEAD_SECONDS);
  return Float32Array.from([...ahead, ...whole]);
}

function checkAt(
  at: readonly string[],
  run: RunTrack,
  config: RigConfig,
  voltsPerFs: number | null = config.input.voltsPerFs,
  engine?: Engine,
): Promise<CheckReport> {
  const channels = at.map((point) => recordedAt(point, run, config, engine));
  return checkRecording(checkTask(run, HATCHBACK, { at, channelCount: at.length, voltsPerFs }), {
    sampleRateHz: config.sampleRateHz,
    channelCount: at.length,
    frames: channels[0]!.length,
    read: async (start, frames) => channels.map((samples) => samples.slice(start, start + frames)),
  });
}

describe('a healthy vehicle', SLOW, () => {
  test.each(['front-left', 'subwoofer'])('passes at %s, nothing named, every part read', async (point) => {
    const report = await checkAt([point], runOf(), DEMO_RIG);
    expect(named(report)).toEqual([]);
    expect(report.missing).toEqual([]);
    expect(report.pass).toBe(true);
    // Both clocks are the rig's own; the markers' own uncertainty, taken three times.
    const { startFound, endFound, clockSkewPpm, clockSkewUncertaintyPpm } = report.markers;
    expect([startFound, endFound]).toEqual([true, true]);
    expect(Math.abs(clockSkewPpm!)).toBeLessThan(3 * clockSkewUncertaintyPpm! + 0.5);
    const judged = report.parts.filter(({ verdict }) => verdict === 'passed').map(({ kind }) => kind);
    expect(new Set(judged)).toEqual(new Set(report.parts.map(({ kind }) => kind)));
  });
});

describe('a converter that falls asleep after six seconds of silence, through eight of them', SLOW, () => {
  const usual = usualRunOptions(HATCHBACK);
  const contents = ['reduced', 'noise', 'full'] as const;
  const runWith = (keepAlive: typeof usual.keepAlive): RunTrack => ({
    file: 'run.wav',
    ...runTrack(HATCHBACK, { ...usual, contents, silenceSeconds: 8, keepAlive }, SET_RATE_HZ),
  });
  const sleepy = faultyRig(DEMO_RIG, 'converter-sleeps');

  test('held awake by the low tone under the silence, it passes', async () => {
    const report = await checkAt(['front-left'], runWith(usual.keepAlive), sleepy);
    expect(named(report)).toEqual([]);
    expect(report.pass).toBe(true);
  });

  test('without it the tone behind the silence is lost, and named', async () => {
    const report = await checkAt(['front-left'], runWith(null), sleepy);
    expect(named(report)).toEqual(['front-left: fell-silent']);
    expect(failedAt(report, 'front-left')).toEqual(['front-left-level']);
    expect(report.pass).toBe(false);
  });
});

interface FaultCase {
  fault: RigFaultId;
  at: string;
  contents: readonly RunContent[];
  /** What supplies the vehicle while the track plays: a charger where left out. */
  engine?: Engine;
  /** All that is named, and nothing else. */
  named: readonly string[];
  words: RegExp;
}

const CASES: readonly FaultCase[] = [
  {
    fault: 'channel-reversed',
    at: 'front-right',
    contents: ['reduced', 'polarity', 'response'],
    named: ['front-right: channel-reversed'],
    words: /Front right door is the wrong way round/,
  },
  {
    // Alone at its terminals a channel has no partner: what is judged is its target.
    fault: 'left-low',
    at: 'front-left',
    contents: ['reduced', 'full'],
    named: ['front-left: level-off'],
    words: /1\.5 dB below its target/,
  },
  {
    fault: 'filter-octave-off',
    at: 'front-left',
    contents: ['reduced', 'response'],
    named: ['front-left: filter-octave-off'],
    words: /^Front left door: the high-pass sits 1\.0 octave too high: 160 Hz where 80 Hz is wanted/,
  },
  {
    // Set with the fourth order, whose loss at the tone's 43 Hz is 0.7 dB; the second's is 2.2 dB.
    fault: 'filter-order-low',
    at: 'subwoofer',
    contents: ['reduced', 'response'],
    named: ['subwoofer: filter-order-low', 'subwoofer: level-off'],
    words: /reads 1\.5 dB below its target.*Subwoofer: the low-pass falls by 12 dB per octave/,
  },
  {
    // Turned up too far, it clips on the full tone and reads too high on the reduced one.
    fault: 'amplifier-past-knee',
    at: 'front-left',
    contents: ['reduced', 'full'],
    named: ['front-left: clipped', 'front-left: level-off'],
    words: /clips by/,
  },
  {
    fault: 'radio-clips-early',
    at: 'front-left',
    contents: ['reduced', 'full'],
    named: ['front-left: clipped'],
    words: /clips by/,
  },
  {
    fault: 'mains-hum',
    at: 'front-left',
    contents: ['reduced', 'noise'],
    named: ['front-left: mains-hum'],
    words: /mains hum of 50\.0 Hz/,
  },
  {
    // 790 turns a minute, 90 crests in each. Nobody says to a track whether the engine ran.
    fault: 'engine-whine',
    at: 'front-left',
    contents: ['reduced', 'noise'],
    engine: 'idle',
    named: ['front-left: steady-tone'],
    words: /steady tone of 1185\.0 Hz.*alternator.*If the engine ran/,
  },
  {
    // Twelve steps past the last whole one: a first-order shelf of 12 dB, and filters as they should be.
    fault: 'radio-cuts-bass',
    at: 'front-left',
    contents: ['reduced', 'response'],
    named: ['front-left: bass-cut'],
    words: /shelf of −12\.0 dB around 100 Hz.*Leave the filters/,
  },
  {
    // Its tone of 43 Hz lies on the shelf: no gain is blamed for what that takes away.
    fault: 'radio-cuts-bass',
    at: 'subwoofer',
    contents: ['reduced', 'response'],
    named: ['subwoofer: bass-cut'],
    words: /shelf of −1[12]\.\d dB around (99|100|101)/,
  },
  {
    // 5 dB over the whole band, and a shelf of 6 dB below 250 Hz.
    fault: 'radio-unloaded',
    at: 'front-left',
    contents: ['reduced', 'response'],
    named: ['front-left: bass-cut', 'front-left: level-off'],
    words: /5\.2 dB below its target.*Mend the response first.*shelf of −(5\.9|6\.0) dB.*load resistors/,
  },
  {
    // Two doors at 75 W draw some 20 A: a volt on 50 mOhm, half a decibel of 14.2 V, and more than the knee has to spare.
    fault: 'poor-ground',
    at: 'front-left',
    contents: ['reduced', 'full'],
    engine: 'idle',
    named: ['front-left: clipped'],
    words: /clips by 0\.[1-4] dB.*this gain is where it should be.*a ground that sags/,
  },
];

describe('a vehicle with a fault', SLOW, () => {
  test.each(CASES)(
    '$fault, recorded at $at: $named',
    async ({ fault, at, contents, engine, named: wanted, words }) => {
      const config = faultyRig(DEMO_RIG, fault);
      const report = await checkAt([at], runOf(contents), config, config.input.voltsPerFs, engine);
      expect(named(report)).toEqual(wanted);
      expect(report.pass).toBe(false);
      const told = report.faults.map(({ sentence, evidence, remedy }) => `${sentence} ${evidence} ${remedy}`);
      expect(told.join(' ')).toMatch(words);
      // Parts that fail are those that a named fault points at.
      const pointedAt = new Set(report.faults.flatMap(({ parts }) => parts));
      expect(failedAt(report, at).every((id) => pointedAt.has(id))).toBe(true);
    },
  );

  test('with the engine idling, nothing else is named: a healthy door, and a subwoofer whose filter keeps the whine out', async () => {
    const { voltsPerFs } = DEMO_RIG.input;
    const run = runOf(['reduced', 'noise', 'full']);
    const whining = faultyRig(DEMO_RIG, 'engine-whine');
    for (const report of [
      await checkAt(['front-left'], run, DEMO_RIG, voltsPerFs, 'idle'),
      await checkAt(['subwoofer'], run, whining, voltsPerFs, 'idle'),
    ]) {
      expect(named(report)).toEqual([]);
      expect(report.pass).toBe(true);
    }
  });

  test('left-low, recorded at both front doors with no scale known: the left one is named against the right', async () => {
    const run = runOf(['reduced']);
    const report = await checkAt(['front-left', 'front-right'], run, faultyRig(DEMO_RIG, 'left-low'), null);
    expect(named(report)).toEqual(['front-left: left-low']);
    expect(report.faults[0]?.sentence).toMatch(/1\.5 dB lower than front right door/);
  });
});

describe('by microphone in the cabin', SLOW, () => {
  test('a healthy vehicle passes: room and drivers are not named', async () => {
    const report = await checkAt(['cabin'], runOf(['reduced', 'full', 'polarity']), DEMO_RIG, null);
    expect(named(report)).toEqual([]);
    expect(report.pass).toBe(true);
  });

  test.each<[RigFaultId, string[]]>([
    ['radio-clips-early', ['front-left+rear-left: clipped', 'front-right+rear-right: clipped']],
    ['amplifier-past-knee', ['front-left+rear-left: clipped']],
  ])('%s is named where it can be heard, and never passed over', async (fault, wanted) => {
    const report = await checkAt(['cabin'], runOf(['reduced', 'full']), faultyRig(DEMO_RIG, fault), null);
    expect(named(report)).toEqual(wanted);
    // A subwoofer's own filter leaves no harmonics to tell a limit by: of that nothing is said.
    const subwoofer = report.parts.find(({ id }) => id === 'subwoofer-level');
    expect(subwoofer?.verdict).toBe(fault === 'radio-clips-early' ? 'not-judged' : 'passed');
  });
});

describe('by microphone, what only terminals show', SLOW, () => {
  test('a whine is not judged, but told with its frequency', async () => {
    const run = runOf(['reduced', 'noise']);
    const report = await checkAt(['cabin'], run, faultyRig(DEMO_RIG, 'engine-whine'), null, 'idle');
    expect(named(report)).toEqual([]);
    expect(report.parts.find(({ kind }) => kind === 'silence')).toMatchObject({
      verdict: 'not-judged',
      why: expect.stringMatching(/surroundings.*steady tone of 1185\.0 Hz/),
      reading: { steadyHz: expect.closeTo(1185, 0) },
    });
  });

  test('bass that a radio takes away, a filter too shallow and a side 1.5 dB low: no response passes, nothing is named', async () => {
    const faults = ['radio-cuts-bass', 'filter-order-low', 'left-low'] as const;
    const config = faults.reduce(faultyRig, DEMO_RIG);
    const report = await checkAt(['cabin'], runOf(['reduced', 'response']), config, null);
    expect(named(report)).toEqual([]);
    const sweeps = report.parts.filter(({ kind }) => kind === 'sweep');
    expect(sweeps.map(({ verdict }) => verdict)).toEqual(sweeps.map(() => 'not-judged'));
    expect(sweeps).not.toEqual([]);
  });
});

// A subwoofer's terminals hear no stepped tone: there the soft tone gives the input away.
test.each(['front-left', 'subwoofer', 'cabin'])(
  'an input that gains itself, at %s: it alone is blamed, and nothing passes by its levels',
  async (point) => {
    const run = runOf(['reduced', 'honesty', 'full', 'polarity']);
    const report = await checkAt([point], run, faultyRig(DEMO_RIG, 'input-gains-itself'), null);
    expect(named(report)).toEqual([`${point}: input-not-honest`]);
    const passed = report.parts.filter(({ verdict }) => verdict === 'passed').map(({ kind }) => kind);
    expect(passed.every((kind) => kind === 'polarity')).toBe(true);
  },
  SLOW.timeout,
);
