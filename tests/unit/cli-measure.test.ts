import { writeFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { wavPieces } from '../../src/audio/wav/wav-encoder.ts';
import type { MeasureDocument } from '../../src/cli/measure/measure-document.ts';
import { renderTone } from '../../src/dsp/tones/render-tone.ts';
import { builtCli } from './built-cli.ts';

const cli = builtCli();
const RATE_HZ = 48_000;

function write(
  name: string,
  channels: (Float64Array | null)[],
  frames: number,
  sampleRateHz = RATE_HZ,
): void {
  const encoding = { sampleRateHz, bits: 24 as const, frames, ditherSeed: 3 };
  writeFileSync(cli.work(name), Buffer.concat([...wavPieces(encoding, channels)]));
}

/** Without the fades of a test tone: the level is the same throughout. */
function steadySine(
  frequencyHz: number,
  levelDbfs: number,
  frames: number,
  sampleRateHz = RATE_HZ,
): Float64Array {
  const margin = sampleRateHz / 10;
  const durationSeconds = (frames + 2 * margin) / sampleRateHz;
  const whole = renderTone({ kind: 'sine', frequencyHz, levelDbfs, durationSeconds }, sampleRateHz);
  return whole.slice(margin, margin + frames);
}

beforeAll(() => {
  const frames = 4 * RATE_HZ;
  const tone = steadySine(997, -6, frames);
  const ceiling = 10 ** (-9 / 20);
  write('clean.wav', [tone], frames);
  write('clipped.wav', [tone.map((sample) => Math.max(-ceiling, Math.min(ceiling, sample)))], frames);
  write('tone-and-silence.wav', [tone, null], frames);
  write('slow.wav', [steadySine(440, -6, 32_000, 8_000)], 32_000, 8_000);
  const loudLater = Float64Array.from(tone, (sample, frame) => (frame < frames / 2 ? 0.1 * sample : sample));
  write('two-levels.wav', [loudLater], frames);
});

function measured(...args: string[]): MeasureDocument {
  const ended = cli.run('measure', ...args, '--json');
  expect(ended.stderr).toBe('');
  expect(ended.status).toBe(0);
  return JSON.parse(ended.stdout);
}

test('prints every field of the contract, in its unit, and nothing but the document', () => {
  const { files } = measured('clean.wav');
  expect(files).toHaveLength(1);
  expect(files[0]).toMatchObject({
    file: 'clean.wav',
    sampleRateHz: 48_000,
    frames: 192_000,
    durationSeconds: 4,
    measured: { fromSeconds: 0, toSeconds: 4 },
  });
  const [channel] = files[0]!.channels;
  expect(Object.keys(channel!)).toEqual([
    'index',
    'levelDbfs',
    'levelVolts',
    'samplePeakDbfs',
    'truePeakDbtp',
    'crestFactorDb',
    'dcFullScale',
    'tone',
    'clipping',
  ]);
  expect(Object.keys(channel!.tone!)).toEqual([
    'frequencyHz',
    'levelDbfs',
    'levelVolts',
    'thdPercent',
    'thdPlusNoisePercent',
    'sinadDb',
    'noiseDbfs',
    'harmonicsDbc',
    'uncertainty',
  ]);
  expect(channel!.tone!.harmonicsDbc.length).toBeGreaterThanOrEqual(9);
  // Every figure has its standard uncertainty: 24-bit dither lies 135 dB under the tone, 20,000 Hz times 4 s of it.
  const { uncertainty, harmonicsDbc } = channel!.tone!;
  expect(Object.keys(uncertainty)).toEqual([
    'levelDb',
    'frequencyHz',
    'thdPercent',
    'thdPlusNoisePercent',
    'sinadDb',
    'noiseDb',
    'harmonicsDb',
  ]);
  expect(uncertainty.levelDb).toBeLessThan(1e-7);
  expect(uncertainty.noiseDb).toBeGreaterThan(4.34 / Math.sqrt(20_000 * 4));
  expect(uncertainty.noiseDb).toBeLessThan(0.05);
  expect(uncertainty.harmonicsDb).toHaveLength(harmonicsDbc.length);
  expect(channel!.clipping.uncertainty).toBeNull();
  expect(channel!.levelVolts).toBeNull();
  expect(channel!.tone!.levelVolts).toBeNull();
  // Issue 2: level under 0.005 dB, crest of a sine 10 lg 2.
  expect(Math.abs(channel!.levelDbfs! + 6)).toBeLessThan(0.005);
  expect(Math.abs(channel!.tone!.levelDbfs + 6)).toBeLessThan(0.005);
  expect(Math.abs(channel!.tone!.frequencyHz - 997)).toBeLessThan(1e-4);
  expect(Math.abs(channel!.crestFactorDb! - 3.0103)).toBeLessThan(0.02);
  expect(channel!.clipping).toMatchObject({
    verdict: 'clean',
    side: null,
    overdriveDb: null,
    kneeVolts: null,
  });
});

test('with the volts of full scale, every level has its volts: V * 10^(dBFS / 20)', () => {
  const plain = measured('clipped.wav').files[0]!.channels[0]!;
  const channel = measured('clipped.wav', '--volts-per-fs', '20').files[0]!.channels[0]!;
  const volts = (levelDbfs: number) => 20 * 10 ** (levelDbfs / 20);
  expect(channel.levelVolts).toBeCloseTo(volts(plain.levelDbfs!), 5);
  expect(channel.tone!.levelVolts).toBeCloseTo(volts(plain.tone!.levelDbfs), 5);
  expect(channel.clipping.verdict).toBe('clipped');
  expect(channel.clipping.shape).toBe('hard');
  // References 3.2: 3 dB over, the fundamental stands 1.2664 dB over the clip level's instead of 3 dB.
  expect(channel.clipping.compressionDb).toBeCloseTo(3 - 1.2664, 2);
  // The limiter stands at -9 dBFS, 3 dB under the tone it was given.
  expect(Math.abs(channel.clipping.overdriveDb! - 3)).toBeLessThan(0.02);
  expect(Math.abs(channel.clipping.kneeVolts! - volts(-9))).toBeLessThan(0.01 * volts(-9));
  expect(plain.clipping.kneeVolts).toBeNull();
  // 0.05 % of trust in the path, divided by what harmonics change with overdrive: thousandths of a decibel.
  const { overdriveDb, kneeDb } = plain.clipping.uncertainty!;
  expect(overdriveDb).toBeGreaterThan(1e-5);
  expect(overdriveDb).toBeLessThan(0.01);
  expect(kneeDb).toBeLessThan(0.01);
});

test('what cannot be measured is null: a silent channel has no level, no tone', () => {
  const [, silent] = measured('tone-and-silence.wav', '--volts-per-fs', '1').files[0]!.channels;
  expect(silent).toMatchObject({
    index: 1,
    levelDbfs: null,
    levelVolts: null,
    samplePeakDbfs: null,
    truePeakDbtp: null,
    crestFactorDb: null,
    dcFullScale: 0,
    tone: null,
  });
});

test('measures the stretch asked for and no more', () => {
  const level = (...args: string[]) => measured('two-levels.wav', ...args).files[0]!.channels[0]!.levelDbfs!;
  expect(Math.abs(level('--to', '2') + 26)).toBeLessThan(0.005);
  expect(Math.abs(level('--from', '2') + 6)).toBeLessThan(0.005);
  expect(Math.abs(level('--from', '0.5', '--to', '1.5') + 26)).toBeLessThan(0.005);
});

test('takes several files, in the order given', () => {
  const { files } = measured('slow.wav', 'clean.wav');
  expect(files.map((file) => [file.file, file.sampleRateHz])).toEqual([
    ['slow.wav', 8_000],
    ['clean.wav', 48_000],
  ]);
});

test('a narrower band leaves out the distortion above it', () => {
  const thd = (...args: string[]) => measured('clipped.wav', ...args).files[0]!.channels[0]!.tone!.thdPercent;
  // The band holds no harmonic: what is left is the rounding of 53-bit arithmetic.
  expect(thd('--band', '20:1500')).toBeLessThan(1e-9);
  expect(thd('--band', '20:4000')).toBeLessThan(thd());
  expect(thd('--band', '20:4000')).toBeGreaterThan(5);
});

describe('the table for people', () => {
  test('says level, tone and verdict of each channel, and leaves out volts that nobody asked for', () => {
    const ended = cli.run('measure', 'clean.wav', 'tone-and-silence.wav');
    expect(ended.status).toBe(0);
    expect(ended.stderr).toBe('');
    expect(ended.stdout).toMatch(/^clean\.wav: 48000 Hz, 4\.000 s$/m);
    expect(ended.stdout).toMatch(/^ *0 +-6\.000 .* 997\.0000 +-6\.000 .*clean$/m);
    expect(ended.stdout).toMatch(/^ *1 +- /m);
    expect(ended.stdout).not.toMatch(/ V /);
  });

  test('gives volts when asked, and how far to turn back', () => {
    const { stdout } = cli.run('measure', 'clipped.wav', '--volts-per-fs', '20', '--from', '1');
    expect(stdout).toMatch(/^clipped\.wav: .*, measured from 1\.000 to 4\.000 s$/m);
    expect(stdout).toMatch(/ V .* tone V /);
    expect(stdout).toMatch(/ clipped +3\.0\d$/m);
  });

  test('help says what every column means', () => {
    const { stdout, status } = cli.run('measure', '--help');
    expect(status).toBe(0);
    for (const option of ['--volts-per-fs', '--from', '--to', '--band', '--json'])
      expect(stdout).toContain(option);
    const header = cli.run('measure', 'clipped.wav', '--volts-per-fs', '20').stdout.split('\n')[1]!;
    const columns = header
      .trim()
      .split(/ {2,}/)
      .map((title) => title.replace(/ (dBFS|V)$/, ''));
    expect(columns.length).toBeGreaterThan(10);
    for (const column of columns) expect(stdout, column).toContain(column);
  });
});
