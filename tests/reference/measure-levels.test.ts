/** Level, peak and DC as `measure` gives them, against SoX `stat` and FFmpeg `astats`, on files that they made. */
import { describe, expect, test } from 'vitest';
import { readMeasureRequest } from '../../src/cli/measure/measure-arguments.ts';
import type { MeasuredFile } from '../../src/cli/measure/measure-document.ts';
import { checkForMeasuring } from '../../src/cli/measure/measure-file.ts';
import { measureFiles } from '../../src/cli/measure/measure-files.ts';
import { lacks, runFfmpeg, runSox } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

const scratch = scratchFolder();
const decibels = (ratio: number) => 20 * Math.log10(ratio);
/** AES17: a sine's level is its RMS over the RMS of a full-scale sine. */
const SINE_LEVEL_DB = decibels(Math.SQRT2);

async function measured(path: string): Promise<MeasuredFile> {
  const [file] = await measureFiles([await checkForMeasuring(path, readMeasureRequest([path]))], null);
  return file!;
}

interface Statistics {
  rms: number;
  peak: number;
  mean: number;
}

function soxStatistics(path: string, channel: number): Statistics {
  const { stderr } = runSox(path, '-n', 'remix', `${channel + 1}`, 'stat');
  const figure = (name: string) => Number(new RegExp(`^${name}:\\s+(-?[\\d.]+)$`, 'm').exec(stderr)?.[1]);
  return {
    rms: figure('RMS\\s+amplitude'),
    peak: Math.max(figure('Maximum amplitude'), -figure('Minimum amplitude')),
    mean: figure('Mean\\s+amplitude'),
  };
}

function ffmpegStatistics(path: string, channel: number): Statistics {
  const filter = 'aformat=sample_fmts=dbl,astats=measure_overall=none';
  const { stderr } = runFfmpeg('-i', path, '-af', filter, '-f', 'null', '-');
  const section = stderr.split(/Channel: \d+/)[channel + 1] ?? '';
  const figure = (name: string) => Number(new RegExp(`${name}: (-?[\\d.]+)`).exec(section)?.[1]);
  return {
    rms: 10 ** (figure('RMS level dB') / 20),
    peak: 10 ** (figure('Peak level dB') / 20),
    mean: figure('DC offset'),
  };
}

/**
 * Tones of whole cycles: a part of a cycle at the end adds to the plain mean square that both programs
 * give, while `measure` gives the level of the steady tone itself.
 */
const SIGNALS: [string, number, (path: string) => void][] = [
  [
    'a sine',
    1,
    (path) => void runSox('-r', '48000', '-n', '-b', '24', path, ...'synth 5 sine 997 gain -6'.split(' ')),
  ],
  [
    'a sine with direct current',
    1,
    (path) =>
      void runSox(
        '-r',
        '44100',
        '-n',
        '-b',
        '24',
        path,
        ...'synth 5 sine 50.4 gain -12 dcshift 0.05'.split(' '),
      ),
  ],
  [
    'pink noise',
    1,
    (path) => void runSox('-r', '48000', '-n', '-b', '16', path, ...'synth 10 pinknoise gain -3'.split(' ')),
  ],
  [
    'two channels, a triangle and a faint sine',
    2,
    (path) =>
      void runSox(
        '-r',
        '96000',
        '-n',
        '-b',
        '24',
        '-c',
        '2',
        path,
        ...'synth 5 triangle 313 sine 7000 remix 1v0.5 2v0.001'.split(' '),
      ),
  ],
  [
    'six channels in float, one past full scale',
    6,
    (path) =>
      void runFfmpeg(
        '-v',
        'error',
        '-f',
        'lavfi',
        '-i',
        'aevalsrc=1.5*sin(2*PI*440*t)|0.3*sin(2*PI*60*t)+0.1|0.01*sin(2*PI*1400*t)|0.2*cos(2*PI*3150*t)|0.5*sin(2*PI*110*t)|random(0)-0.5:d=3:s=48000',
        '-c:a',
        'pcm_f32le',
        path,
      ),
  ],
];

describe.skipIf(lacks('sox', 'ffmpeg'))('level, peak and DC', () => {
  test.each(SIGNALS)('of %s', async (name, channelCount, write) => {
    const path = scratch(`${name.replace(/\W+/g, '-')}.wav`);
    write(path);
    const { channels } = await measured(path);
    expect(channels).toHaveLength(channelCount);
    for (const channel of channels) {
      const theirs = [ffmpegStatistics(path, channel.index)];
      // SoX reads into 32-bit integers and would clip what lies past full scale.
      if (!name.includes('past full scale')) theirs.push(soxStatistics(path, channel.index));
      for (const { rms, peak, mean } of theirs) {
        expect(rms).toBeGreaterThan(0);
        // Both print six decimals: half a millionth of full scale (SoX), or of a decibel (FFmpeg).
        const printed = decibels(1 + 1e-6 / rms);
        const level = decibels(Math.sqrt(rms * rms - mean * mean)) + SINE_LEVEL_DB;
        expect(Math.abs(channel.levelDbfs! - level)).toBeLessThan(2 * printed + 2e-6);
        expect(Math.abs(channel.samplePeakDbfs! - decibels(peak))).toBeLessThan(
          decibels(1 + 1e-6 / peak) + 2e-6,
        );
        expect(Math.abs(channel.dcFullScale - mean)).toBeLessThan(1.1e-6);
      }
    }
  });
});

describe.skipIf(lacks('sox'))('true peak, against the peak after SoX has raised the rate eightfold', () => {
  test.each([
    ['a quarter of the rate, crests between the samples', 'synth 2 sine 12000 0 12.5 gain -6'],
    // SoX draws it anew each time; above 0.42 of the rate the standard's filter promises nothing.
    ['pink noise', 'synth 10 pinknoise sinc -18000 gain -6'],
    ['a square, rounded by its band limit', 'synth 2 square 997 gain -9 lowpass 8000'],
  ])('%s', async (name, effects) => {
    const path = scratch(`peak-${name.replace(/\W+/g, '-')}.wav`);
    runSox('-r', '48000', '-n', '-b', '24', path, ...effects.split(' '));
    // The file's ends are cut after resampling: there the two filters see different neighbours.
    const raised = scratch('raised.wav');
    runSox(path, '-e', 'float', '-b', '32', raised, 'rate', '-v', '384k');
    const expected = decibels(ffmpegStatistics(raised, 0).peak);
    const [channel] = (await measured(path)).channels;
    // References item 7: the standard's own 48-tap filter is off by -0.30 to +0.22 dB below 0.42 of the rate.
    expect(channel!.truePeakDbtp! - expected).toBeGreaterThan(-0.31);
    expect(channel!.truePeakDbtp! - expected).toBeLessThan(0.23);
  });
});
