/** Markers and skew after independent programs have coded, filtered and resampled the recording. */
import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { clockSkew } from '../../src/dsp/time/clock-skew.ts';
import { MARKER_SECONDS, renderMarker } from '../../src/dsp/tones/marker.ts';
import { findMarkers, noiseForInBandSnr, recordingOf } from '../unit/time-signals.ts';
import { lacks, runFfmpeg, runPython, runSox } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

const scratch = scratchFolder();
const RATE_HZ = 48_000;
const START_FRAME = 40_000.3;
const END_FRAME = 400_000.7;
const RAW = ['-f', 'f64le', '-ar', `${RATE_HZ}`, '-ac', '1'];

function written(name: string, samples: Float64Array): string {
  writeFileSync(scratch(name), new Uint8Array(samples.buffer));
  return scratch(name);
}

function read(path: string): Float64Array {
  const bytes = readFileSync(path);
  return new Float64Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
}

const markers = [
  { end: 'start', frame: START_FRAME },
  { end: 'end', frame: END_FRAME },
] as const;

function pair(noiseRms = 0): Float64Array {
  return recordingOf({ sampleRateHz: RATE_HZ, frames: 10 * RATE_HZ, markers, noiseRms });
}

describe.skipIf(lacks('ffmpeg'))('lossy coding and band limits, by ffmpeg', () => {
  const clean = pair();
  test.each([
    { codec: 'libmp3lame', file: 'm.mp3', rate: '128k', delayFrames: 0 },
    { codec: 'aac', file: 'm.m4a', rate: '128k', delayFrames: 0 },
    // The coder that wireless headsets and radios must have; it delays by its filter bank: 73 frames.
    { codec: 'sbc', file: 'm.sbc', rate: '128k', delayFrames: 73 },
  ])('$codec at $rate', ({ codec, file, rate, delayFrames }) => {
    runFfmpeg(...RAW, '-i', written('clean.f64', clean), '-c:a', codec, '-b:a', rate, scratch(file));
    runFfmpeg('-i', scratch(file), '-f', 'f64le', '-ar', `${RATE_HZ}`, scratch('decoded.f64'));
    const found = findMarkers(read(scratch('decoded.f64')), RATE_HZ);
    expect(found.map((finding) => finding.end)).toEqual(['start', 'end']);
    // Coding noise is 20 to 30 dB below: at most 0.3 µs by the Cramér-Rao bound, 0.015 of a frame; five of these.
    expect(Math.abs(found[0]!.frame - delayFrames - START_FRAME)).toBeLessThan(0.08);
    expect(Math.abs(found[1]!.frame - delayFrames - END_FRAME)).toBeLessThan(0.08);
  });

  test('a telephone band of 300 to 3400 Hz', () => {
    const band = 'highpass=f=300,lowpass=f=3400,lowpass=f=3400';
    runFfmpeg(...RAW, '-i', written('clean.f64', clean), '-af', band, '-f', 'f64le', scratch('band.f64'));
    const found = findMarkers(read(scratch('band.f64')), RATE_HZ);
    expect(found.map((finding) => finding.end)).toEqual(['start', 'end']);
    // Both markers are late by the filters' delay, which depends on frequency: 0.02 ms of difference is 1 frame.
    expect(Math.abs(found[1]!.frame - found[0]!.frame - (END_FRAME - START_FRAME))).toBeLessThan(1);
  });

  test("behind a subwoofer's low-pass filter of 24 dB per octave at 80 Hz, with 90 dB of noise", () => {
    const half = 'lowpass=f=80:width_type=q:width=0.7071';
    runFfmpeg(
      ...RAW,
      '-i',
      written('clean.f64', clean),
      '-af',
      `${half},${half}`,
      '-f',
      'f64le',
      scratch('sub.f64'),
    );
    const noise = recordingOf({
      sampleRateHz: RATE_HZ,
      frames: 10 * RATE_HZ,
      markers: [],
      noiseRms: 10 ** (-90 / 20),
    });
    const found = findMarkers(
      read(scratch('sub.f64')).map((sample, at) => sample + noise[at]!),
      RATE_HZ,
      900,
    );
    expect(found.map((finding) => finding.end)).toEqual(['start', 'end']);
    const interval = found[1]!.frame - found[0]!.frame;
    const uncertainty = Math.hypot(found[0]!.frameUncertainty, found[1]!.frameUncertainty);
    expect(Math.abs(interval - (END_FRAME - START_FRAME))).toBeLessThan(4 * uncertainty);
  });
});

describe.skipIf(lacks('sox'))('a recorder that runs slow, by sox speed', () => {
  test.each([1.0001, 0.9998])('speed %d', (speed) => {
    const path = written('noisy.f64', pair(noiseForInBandSnr(20, RATE_HZ)));
    const format = ['-t', 'f64', '-r', `${RATE_HZ}`, '-c', '1'];
    runSox(
      ...format,
      path,
      ...format,
      scratch('skewed.f64'),
      'speed',
      `${speed}`,
      'rate',
      '-v',
      `${RATE_HZ}`,
    );
    const found = findMarkers(read(scratch('skewed.f64')), RATE_HZ);
    const seen = found.map(({ middleFrame, frameUncertainty, end }) => ({
      frame: middleFrame,
      frameUncertainty,
      playerSeconds: (end === 'start' ? START_FRAME : END_FRAME) / RATE_HZ + MARKER_SECONDS / 2,
    }));
    const { skewPpm, skewUncertaintyPpm } = clockSkew(seen[0]!, seen[1]!, RATE_HZ);
    // Over 7.5 s; four standard uncertainties, and 0.4 ppm for the markers' stretch of 200 ppm (0.13 of a frame in 360 000).
    expect(Math.abs(skewPpm - (1 / speed - 1) * 1e6)).toBeLessThan(4 * skewUncertaintyPpm + 0.4);
    expect(skewUncertaintyPpm).toBeLessThan(0.2);
  });
});

test.skipIf(lacks('python'))('a marker at 0 dB stands where scipy.signal.correlate finds it', () => {
  const frame = 31_234;
  const one = [{ end: 'end', frame }] as const;
  const samples = recordingOf({
    sampleRateHz: RATE_HZ,
    frames: 2 * RATE_HZ,
    markers: one,
    noiseRms: noiseForInBandSnr(0, RATE_HZ),
  });
  const template = written('template.f64', renderMarker('end', RATE_HZ, -12));
  const scipy = runPython('time_delay.py', ['marker', template, written('noisy.f64', samples)]) as {
    frame: number;
  };
  const found = findMarkers(samples, RATE_HZ);
  expect(found).toHaveLength(1);
  // scipy answers in whole frames, without whitening: half a frame, and both scatter by 0.1.
  expect(Math.abs(found[0]!.frame - scipy.frame)).toBeLessThan(1);
  expect(Math.abs(scipy.frame - frame)).toBeLessThanOrEqual(1);
});
