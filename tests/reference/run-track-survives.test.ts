import { readFileSync, writeFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { openWav } from '../../src/audio/wav/open-wav.ts';
import { readFrames } from '../../src/audio/wav/read-frames.ts';
import { runWav } from '../../src/audio/wav/run-wav.ts';
import { clockSkew, type RecorderTimeline, type SeenInstant } from '../../src/dsp/time/clock-skew.ts';
import { MarkerFinder, type MarkerFinding } from '../../src/dsp/time/marker-finder.ts';
import { onPlayerClock } from '../../src/dsp/time/player-clock.ts';
import { pulsePlace } from '../../src/dsp/tones/polarity.ts';
import type { RunPart } from '../../src/job/manifest.ts';
import { readJob } from '../../src/job/read-job.ts';
import { usualRunOptions } from '../../src/job/run-track/options.ts';
import { runTrack } from '../../src/job/run-track/run-track.ts';
import { readTake } from '../../src/procedure/take/read-take.ts';
import { byteSource } from '../unit/wav-bytes.ts';
import { lacks, runFfmpeg, runSox } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

const scratch = scratchFolder();
const HATCHBACK = readJob(
  readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'),
);
const run = runTrack(HATCHBACK, usualRunOptions(HATCHBACK), 44_100);
const FORM = { sampleRateHz: 44_100, bits: 16, ditherSeed: 1 } as const;
const SKEW_PPM = 150;
/** The recorder runs at another rate than the track. */
const RECORDER_HZ = 48_000;

type Sides = [Float32Array, Float32Array];

interface Heard {
  sides: Sides;
  found: readonly MarkerFinding[];
  timeline: RecorderTimeline;
  skewPpm: number;
}

/** Coded and decoded, then recorded at another rate by a clock that runs fast. */
async function heardThrough(coder: string[], extension: string): Promise<Heard> {
  const coded = scratch(`run.${extension}`);
  runFfmpeg('-i', scratch('run.wav'), ...coder, '-b:a', '128k', coded);
  const decoded = scratch(`${extension}-decoded.wav`);
  runFfmpeg('-i', coded, '-c:a', 'pcm_s24le', decoded);
  const recorded = scratch(`${extension}-recorded.wav`);
  const slower = String(1 - SKEW_PPM * 1e-6);
  runSox('-V1', decoded, '-b', '24', recorded, 'speed', slower, 'rate', '-v', String(RECORDER_HZ));
  const info = await openWav(byteSource(new Uint8Array(readFileSync(recorded))));
  const sides: Sides = [new Float32Array(info.frames), new Float32Array(info.frames)];
  await readFrames(info, 0, info.frames, sides);
  const finder = new MarkerFinder(RECORDER_HZ);
  finder.push(sides[0], sides[0].length);
  const found = finder.finish();
  const { startSeconds, endSeconds } = run.markers;
  const skew = clockSkew(seen(found[0]!, startSeconds), seen(found.at(-1)!, endSeconds), RECORDER_HZ);
  return { sides, found, timeline: skew.timeline, skewPpm: skew.skewPpm };
}

function seen({ middleFrame, frameUncertainty }: MarkerFinding, startSeconds: number): SeenInstant {
  return {
    frame: middleFrame,
    frameUncertainty,
    playerSeconds: startSeconds + run.markers.durationSeconds / 2,
  };
}

function cut({ sides, timeline }: Heard, part: RunPart, margin: { start: number; end: number }) {
  const seconds = part.durationSeconds - margin.start - margin.end;
  const samples = onPlayerClock(sides[part.channels === 'right' ? 1 : 0], timeline, {
    fromSeconds: part.startSeconds + margin.start,
    frames: Math.round(seconds * RECORDER_HZ),
    sampleRateHz: RECORDER_HZ,
  });
  return {
    sampleRateHz: RECORDER_HZ,
    startFrame: 0,
    channels: [Float32Array.from(samples)],
    doubts: [],
  };
}

const partsOf = <K extends RunPart['kind']>(kind: K) =>
  run.parts.filter((part): part is Extract<RunPart, { kind: K }> => part.kind === kind);
const WHOLE = { start: 0, end: 0 };
const GUARDED = { start: -run.guardSeconds / 2, end: -run.guardSeconds / 2 };

describe.skipIf(lacks('ffmpeg', 'sox')).each([
  { coder: 'MP3', args: ['-c:a', 'libmp3lame'], extension: 'mp3' },
  { coder: 'AAC', args: ['-c:a', 'aac'], extension: 'm4a' },
])(
  'a run track through $coder at 128 kbit/s, recorded at 48 kHz by a clock 150 ppm fast',
  ({ args, extension }) => {
    let heard: Heard;

    beforeAll(async () => {
      writeFileSync(scratch('run.wav'), Buffer.concat([...runWav(run, FORM)]));
      heard = await heardThrough(args, extension);
    }, 120_000);

    test('shows both markers, and the skew to 2 ppm', () => {
      expect(heard.found.map(({ end }) => end)).toEqual(['start', 'end']);
      expect(Math.abs(heard.skewPpm - SKEW_PPM)).toBeLessThan(2);
    });

    test('gives every level within 0.1 dB of the others, clean', () => {
      const gainsDb = partsOf('sine').map((part) => {
        const request = { kind: 'tone', channelIndex: 0, frequencyHz: part.frequencyHz } as const;
        const { tone, clipping } = readTake(request, cut(heard, part, run.marginSeconds)).channel;
        expect(clipping.verdict, part.id).toBe('clean');
        return tone!.levelDbfs! - part.levelDbfs;
      });
      // A coder may scale all of it, as LAME does at this rate by 0.45 dB, and that is no fault of the chain.
      expect(Math.max(...gainsDb) - Math.min(...gainsDb)).toBeLessThan(0.1);
    });

    test('shows levels that step as they should, polarity, and a flat response', () => {
      const [steps] = partsOf('steps');
      const { judgement } = readTake({ kind: 'steps', steps: steps! }, cut(heard, steps!, GUARDED));
      // That the noise ends where the coder ends it is all there is to find, and is true.
      expect(judgement.findings.map(({ fault }) => fault)).toEqual(['resampled']);
      for (const errorDb of judgement.figures!.stepErrorsDb) expect(Math.abs(errorDb)).toBeLessThan(0.1);
      for (const part of partsOf('polarity')) {
        const { heard: pulses } = readTake(
          {
            kind: 'pulses',
            channelIndex: 0,
            frequencyHz: part.frequencyHz,
            place: pulsePlace(0, 1),
            everySeconds: part.everySeconds,
            path: 'wire',
            // The coder's own: next to nothing.
            bands: [[{ kind: 'high-pass', alignment: 'butterworth', order: 1, cutoffHz: 4 }]],
          },
          cut(heard, part, WHOLE),
        );
        expect(pulses?.polarity, part.id).toBe('upright');
      }
      for (const part of partsOf('sweep')) {
        const request = { kind: 'sweep', channelIndex: 0, sweep: part, reference: null } as const;
        const { response } = readTake(request, cut(heard, part, GUARDED));
        expect(response?.whole, part.id).toBe(true);
        expect(response?.finding?.verdict, part.id).toBe('flat');
      }
    });

    test('gives the same loudness left and right, and the bass within what its noise leaves open', () => {
      const levels = partsOf('pink').map((part) => {
        const bands = [{ lowHz: part.lowHz, highHz: part.highHz }];
        const request = { kind: 'pink', channelIndex: 0, bands, weighting: 'Z' } as const;
        return readTake(request, cut(heard, part, run.marginSeconds)).levels[0]!;
      });
      const [left, right, bass] = levels;
      // The same noise was cut at the same places.
      expect(Math.abs(left!.levelDbfs! - right!.levelDbfs!)).toBeLessThan(0.02);
      expect(Math.abs(bass!.levelDbfs! - left!.levelDbfs!)).toBeLessThan(3 * bass!.uncertaintyDb);
    });
  },
);
