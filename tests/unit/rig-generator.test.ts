import { describe, expect, test } from 'vitest';
import { DEMO_CONTROLS, DEMO_RIG, DEMO_TONE } from '../../src/rig/demo-rig.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';
import type { RigConfig, RigControls, RigTone } from '../../src/rig/rig.ts';

/** Every noise off and every stage sharp, so that only the limiter under test is left. */
const QUIET: RigConfig = {
  ...DEMO_RIG,
  radio: { ...DEMO_RIG.radio, softness: 0, noiseVolts: 0 },
  converter: { ...DEMO_RIG.converter, noiseVolts: 0 },
  channels: DEMO_RIG.channels.map((channel) => ({ ...channel, noiseVolts: 0 })),
  input: { ...DEMO_RIG.input, noiseDbfs: Number.NEGATIVE_INFINITY },
};
const FRONT_LEFT = QUIET.channels[0]!;
/** Decimator's delay, and the ramp. */
const SETTLE_FRAMES = 2400;

/** One second of the rig once it has settled. */
function oneSecond(config: RigConfig, controls: RigControls, tone: RigTone): Float32Array {
  const rig = new PracticeRig(config, controls, tone);
  rig.fill([new Float32Array(SETTLE_FRAMES)], SETTLE_FRAMES);
  const samples = new Float32Array(config.sampleRateHz);
  rig.fill([samples], samples.length);
  return samples;
}

/** Peak amplitude at `hz`, a whole number, over one second: a plain discrete Fourier sum. */
function amplitude(samples: Float32Array, hz: number): number {
  let cosine = 0;
  let sine = 0;
  for (let n = 0; n < samples.length; n += 1) {
    const angle = (2 * Math.PI * ((hz * n) % samples.length)) / samples.length;
    cosine += samples[n]! * Math.cos(angle);
    sine += samples[n]! * Math.sin(angle);
  }
  return (2 * Math.hypot(cosine, sine)) / samples.length;
}

function meanSquare(samples: Float32Array): number {
  let sum = 0;
  for (const sample of samples) sum += sample * sample;
  return sum / samples.length;
}

/** Controls that drive the front left amplifier past its ceiling by `overdriveDb`, every earlier stage clean. */
function amplifierDriven(overdriveDb: number): RigControls {
  const into = 45 * 10 ** ((-5 - 10 * 1.5) / 20) * 10 ** (-14 / 20);
  const wanted = 20 * Math.log10(18.4 / into) + overdriveDb;
  const setting = (wanted - FRONT_LEFT.lowestGainDb) / (FRONT_LEFT.highestGainDb - FRONT_LEFT.lowestGainDb);
  // The closed forms know a limiter and no filter ahead of it.
  return { ...DEMO_CONTROLS, gains: { ...DEMO_CONTROLS.gains, 'front-left': setting }, filtersOff: true };
}

const decibels = (ratio: number) => 20 * Math.log10(ratio);

// Symmetric hard clip, references 3.2: overdrive, fundamental against the clip level's sine,
// third and fifth harmonic in dBc, THD to the 20th harmonic (all that a 20 kHz band holds at 997 Hz).
const HARD_CLIP = [
  { overdriveDb: 0.1, fundamentalDb: 0.0872, thirdDbc: -56.815, fifthDbc: -57.137, thdPercent: 0.3303 },
  { overdriveDb: 0.5, fundamentalDb: 0.3621, thirdDbc: -36.714, fifthDbc: -38.374, thdPercent: 2.1854 },
  { overdriveDb: 1, fundamentalDb: 0.6242, thirdDbc: -28.673, fifthDbc: -32.14, thdPercent: 4.6275 },
  { overdriveDb: 3, fundamentalDb: 1.2664, thirdDbc: -17.772, fifthDbc: -31.67, thdPercent: 13.3749 },
  { overdriveDb: 10, fundamentalDb: 1.9499, thirdDbc: -10.767, fifthDbc: -17.898, thdPercent: 32.1486 },
];

describe.each([48_000, 44_100])('at %d Hz', (sampleRateHz) => {
  const config = { ...QUIET, sampleRateHz };

  test.each(HARD_CLIP)(
    'an amplifier $overdriveDb dB past its ceiling reads as the closed form',
    (published) => {
      const samples = oneSecond(config, amplifierDriven(published.overdriveDb), DEMO_TONE);
      const harmonics = Array.from({ length: 20 }, (_, index) => amplitude(samples, 997 * (index + 1)));
      const fundamental = harmonics[0]!;
      const volts = fundamental * 35;
      // The table's last digit is 1e-4 dB.
      expect(Math.abs(decibels(volts / 18.4) - published.fundamentalDb)).toBeLessThan(2e-4);
      // The table's last digit is 1e-3 dB; at 0.1 dB a third harmonic 57 dB down moves by 0.001 dB for
      // each harmonic 115 dB under the ceiling that folds onto it.
      expect(Math.abs(decibels(harmonics[2]! / fundamental) - published.thirdDbc)).toBeLessThan(0.005);
      expect(Math.abs(decibels(harmonics[4]! / fundamental) - published.fifthDbc)).toBeLessThan(0.005);
      const thdPercent = (100 * Math.hypot(...harmonics.slice(1))) / fundamental;
      // 0.1 % of the figure: a twentieth of what issue 2 allows the whole measuring path (0.5 %), rounded.
      expect(Math.abs(thdPercent / published.thdPercent - 1)).toBeLessThan(0.001);
    },
  );

  test('what folds back into the band is 95 dB down in all, from 6 dB past the ceiling', () => {
    const samples = oneSecond(config, amplifierDriven(6), DEMO_TONE);
    const fundamental = amplitude(samples, 997);
    let rest = meanSquare(samples);
    // Harmonics, and those just past half the rate, which may fold to above 20 kHz.
    for (let hz = 997; hz < 28_000; hz += 997)
      rest -= amplitude(samples, Math.min(hz, sampleRateHz - hz)) ** 2 / 2;
    // Closed form 3.2: (4/pi) cot(asin r) / n^2 at n near 770 is -109 dB against the ceiling, some twenty
    // of them in the band. Clipped at the sample rate itself, the same wave leaves -35 dB.
    expect(10 * Math.log10(Math.abs(rest) / (fundamental ** 2 / 2))).toBeLessThan(-95);
  });
});

test('a clean tone is clean: nothing but the fundamental and a 24-bit converter', () => {
  const samples = oneSecond(QUIET, amplifierDriven(-1), DEMO_TONE);
  const fundamental = amplitude(samples, 997);
  const rest = meanSquare(samples) - fundamental ** 2 / 2;
  // Steps of 2^-23 and Float32 both lie near -146 dB; the decimator's ripple does not reach a tone.
  expect(10 * Math.log10(Math.abs(rest) / (fundamental ** 2 / 2))).toBeLessThan(-125);
});

test('every noise is as large as it says', () => {
  const silent: RigTone = { ...DEMO_TONE, kind: 'silence' };
  const band = 20_000 / 24_000;
  const only = (noise: Partial<Record<'radio' | 'converter' | 'amplifier', number>>, noiseDbfs: number) =>
    oneSecond(
      {
        ...QUIET,
        radio: { ...QUIET.radio, noiseVolts: noise.radio ?? 0 },
        converter: { ...QUIET.converter, noiseVolts: noise.converter ?? 0 },
        channels: QUIET.channels.map((channel) => ({ ...channel, noiseVolts: noise.amplifier ?? 0 })),
        input: { ...QUIET.input, noiseDbfs },
      },
      { ...DEMO_CONTROLS, gains: { 'front-left': 0.5 } },
      silent,
    );
  const off = Number.NEGATIVE_INFINITY;
  // 48 000 values: the standard error of their RMS is 0.03 dB, three times that allowed; the
  // decimator's slope lets a little through between 20 and 24 kHz, which the band's share bounds.
  const volts = (samples: Float32Array) => Math.sqrt(2 * meanSquare(samples)) * 35;
  const fromAmplifier = decibels(volts(only({ amplifier: 0.01 }, off)) / 0.01);
  expect(fromAmplifier).toBeGreaterThan(-0.1);
  expect(fromAmplifier).toBeLessThan(-10 * Math.log10(band) + 0.1);
  // At half turn the amplifier's gain is (9 + 37)/2 = 23 dB; the converter's is -14 dB.
  expect(decibels(volts(only({ converter: 0.001 }, off)) / 0.001) - fromAmplifier).toBeCloseTo(23, 0);
  expect(decibels(volts(only({ radio: 0.001 }, off)) / 0.001) - fromAmplifier).toBeCloseTo(23 - 14, 0);
  const input = only({}, -60);
  expect(Math.abs(10 * Math.log10(2 * meanSquare(input)) - -60)).toBeLessThan(0.1);
});

test('the input stands still at full scale', () => {
  const narrow = { ...QUIET, input: { ...QUIET.input, voltsPerFs: 10 } };
  const samples = oneSecond(narrow, amplifierDriven(-1), DEMO_TONE);
  const highest = Math.max(...samples);
  const run = longestRunOf(samples, highest);
  expect(highest).toBe(1 - 2 ** -23);
  expect(Math.min(...samples)).toBe(-1);
  expect(run).toBeGreaterThan(10);
});

function longestRunOf(samples: Float32Array, value: number): number {
  let run = 0;
  let longest = 0;
  for (const sample of samples) {
    run = sample === value ? run + 1 : 0;
    longest = Math.max(longest, run);
  }
  return longest;
}

test('the same seed gives the same samples, bit for bit, however they are asked for', () => {
  const inOne = new Float32Array(4096);
  new PracticeRig(DEMO_RIG, DEMO_CONTROLS, DEMO_TONE).fill([inOne], 4096);
  const rig = new PracticeRig(DEMO_RIG, DEMO_CONTROLS, DEMO_TONE);
  const piece = new Float32Array(512);
  for (let start = 0; start < 4096; start += 512) {
    rig.fill([piece], 512);
    expect(piece).toEqual(inOne.slice(start, start + 512));
  }
  const other = new Float32Array(4096);
  new PracticeRig({ ...DEMO_RIG, seed: 2 }, DEMO_CONTROLS, DEMO_TONE).fill([other], 4096);
  expect(other).not.toEqual(inOne);
});

test('turning a control, moving the probe or changing the tone makes no click', () => {
  const controls = amplifierDriven(-6);
  const changes: ((rig: PracticeRig) => void)[] = [
    (rig) => rig.setControls(amplifierDriven(-1)),
    (rig) => rig.setControls({ ...controls, volumeStep: 20 }),
    (rig) => rig.setControls({ ...controls, volumeStep: 0 }),
    (rig) => rig.setControls({ ...controls, probe: 'front-right' }),
    (rig) => rig.setTone({ ...DEMO_TONE, levelDbfs: -40 }),
    (rig) => rig.setTone({ ...DEMO_TONE, frequencyHz: 1009 }),
    (rig) => rig.setTone({ ...DEMO_TONE, kind: 'silence' }),
  ];
  for (const change of changes) {
    const rig = new PracticeRig(QUIET, controls, DEMO_TONE);
    rig.fill([new Float32Array(SETTLE_FRAMES)], SETTLE_FRAMES);
    change(rig);
    const samples = new Float32Array(4096);
    rig.fill([samples], samples.length);
    // A sine obeys x[n+1] - 2 cos(w) x[n] + x[n-1] = 0. A step of 1 % of the tone's peak would leave
    // 0.01 of it here; a ramp of 20 ms leaves the product of both slopes, 2 sin(w) * (pi/2)/960 = 4e-4.
    const twiceCosine = 2 * Math.cos((2 * Math.PI * 997) / 48_000);
    const peak = Math.max(...samples.map(Math.abs));
    let worst = 0;
    for (let n = 1; n < 4095; n += 1) {
      worst = Math.max(worst, Math.abs(samples[n + 1]! - twiceCosine * samples[n]! + samples[n - 1]!));
    }
    expect(worst / peak).toBeLessThan(0.0015);
  }
});

test('a change is complete after 20 ms and the decimator', () => {
  const rig = new PracticeRig(QUIET, amplifierDriven(-6), DEMO_TONE);
  rig.fill([new Float32Array(SETTLE_FRAMES)], SETTLE_FRAMES);
  rig.setControls(amplifierDriven(-1));
  rig.fill([new Float32Array(1200)], 1200);
  const samples = new Float32Array(48_000);
  rig.fill([samples], samples.length);
  // 0.001 dB: a ramp cut short by one frame in 960 would leave 0.01 dB.
  expect(Math.abs(decibels((amplitude(samples, 997) * 35) / 18.4) + 1)).toBeLessThan(0.001);
});

test('what cannot be simulated is refused in one sentence, and the rig plays on', () => {
  const rig = new PracticeRig(QUIET, DEMO_CONTROLS, DEMO_TONE);
  expect(() => rig.setControls({ ...DEMO_CONTROLS, probe: 'centre' })).toThrow(/no channel "centre"/);
  expect(() => rig.setControls({ ...DEMO_CONTROLS, volumeStep: 41 })).toThrow(/volume step of 41/);
  expect(() => rig.setControls({ ...DEMO_CONTROLS, gains: { 'front-left': Number.NaN } })).toThrow(
    RangeError,
  );
  expect(() => rig.setTone({ ...DEMO_TONE, frequencyHz: 24_000 })).toThrow(/below 24000 Hz/);
  expect(() => rig.setTone({ ...DEMO_TONE, levelDbfs: 1 })).toThrow(/0 dBFS or lower/);
  expect(() => new PracticeRig({ ...QUIET, channels: [] }, DEMO_CONTROLS, DEMO_TONE)).toThrow(RangeError);
  const samples = new Float32Array(4096);
  rig.fill([samples], 4096);
  expect(meanSquare(samples)).toBeGreaterThan(0);
});
