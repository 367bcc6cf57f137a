import { describe, expect, test } from 'vitest';
import { MarkerCorrelator } from '../../src/dsp/time/marker-correlator.ts';
import { MarkerFinder } from '../../src/dsp/time/marker-finder.ts';
import { MARKER_HIGH_HZ, MARKER_SECONDS, renderMarker } from '../../src/dsp/tones/marker.ts';
import { renderTone } from '../../src/dsp/tones/render-tone.ts';
import type { ToneSpec } from '../../src/dsp/tones/spec.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';
import { findMarkers, noiseForInBandSnr, recordingOf } from './time-signals.ts';

const RATE_HZ = 48_000;

describe('markers in a recording', () => {
  test.each([8_000, 16_000, 44_100, 48_000, 96_000, 192_000])(
    'both are found and told apart at %i Hz',
    (sampleRateHz) => {
      const [start, end] = [0.31 * sampleRateHz + 0.3, 3.3 * sampleRateHz + 0.7];
      const markers = [
        { end: 'start', frame: start },
        { end: 'end', frame: end },
      ] as const;
      const found = findMarkers(
        recordingOf({ sampleRateHz, frames: 4 * sampleRateHz, markers }),
        sampleRateHz,
      );
      expect(found.map((finding) => finding.end)).toEqual(['start', 'end']);
      // No noise: what is left is the cut of the band, 0.2 µs.
      expect(Math.abs(found[0]!.frame - start) / sampleRateHz).toBeLessThan(0.8e-6);
      expect(Math.abs(found[1]!.frame - end) / sampleRateHz).toBeLessThan(0.8e-6);
    },
  );

  test('at 0 dB in the band every marker is found, as exactly as the uncertainty says', () => {
    const noiseRms = noiseForInBandSnr(0, RATE_HZ);
    const scaled = Array.from({ length: 40 }, (_, seed) => {
      const frame = 20_000 + 0.37 * seed;
      const markers = [{ end: 'start', frame }] as const;
      const found = findMarkers(
        recordingOf({ sampleRateHz: RATE_HZ, frames: 60_000, markers, noiseRms, seed: seed + 1 }),
        RATE_HZ,
      );
      expect(found).toHaveLength(1);
      return (found[0]!.frame - frame) / found[0]!.frameUncertainty;
    });
    const rms = Math.sqrt(scaled.reduce((sum, x) => sum + x * x, 0) / scaled.length);
    // Chi-squared with 40 degrees of freedom: 0.67 to 1.36 holds all but 1 in 1000; the bound may be missed by 20 % at 0 dB.
    expect(rms).toBeGreaterThan(0.67);
    expect(rms).toBeLessThan(1.36 * 1.2);
  });

  test.each([0.05, 0.128, 0.19])(
    'a marker that had begun %d s before the recording is not misplaced',
    (cutSeconds) => {
      const frame = -cutSeconds * RATE_HZ + 0.3;
      const markers = [{ end: 'start', frame }] as const;
      const found = findMarkers(
        recordingOf({ sampleRateHz: RATE_HZ, frames: RATE_HZ, markers, noiseRms: 0.01 }),
        RATE_HZ,
      );
      expect(found).toHaveLength(1);
      expect(Math.abs(found[0]!.frame - frame)).toBeLessThan(5 * found[0]!.frameUncertainty);
    },
  );

  test('a marker cut at the end, a turned-over one and pieces of one sample each change nothing', () => {
    const markers = [{ end: 'end', frame: 20_000.25 }] as const;
    const samples = recordingOf({ sampleRateHz: RATE_HZ, frames: 20_000 + 9_000, markers });
    const finder = new MarkerFinder(RATE_HZ);
    for (const sample of samples) finder.push([-sample], 1);
    const found = finder.finish();
    expect(found.map((finding) => finding.end)).toEqual(['end']);
    expect(Math.abs(found[0]!.middleFrame - 20_000.25 - (MARKER_SECONDS / 2) * RATE_HZ)).toBeLessThan(0.2);
  });

  test('a marker under a steady tone 20 dB stronger is found, because the spectrum is levelled', () => {
    const markers = [{ end: 'start', frame: 30_000.4 }] as const;
    const samples = recordingOf({ sampleRateHz: RATE_HZ, frames: 90_000, markers });
    const found = findMarkers(
      samples.map((sample, at) => sample + 5 * Math.sin((2 * Math.PI * 1300 * at) / RATE_HZ)),
      RATE_HZ,
    );
    expect(found.map((finding) => finding.end)).toEqual(['start']);
    // Losing 200 Hz of 5400 costs little: half a microsecond.
    expect(Math.abs(found[0]!.frame - 30_000.4)).toBeLessThan(0.025);
  });

  test('24 ms left of a marker are too little to be taken for one', () => {
    // Their likeness is below sqrt(24 / 256) = 0.306, the faded end taken off: as that of a sound with one matching glide.
    const markers = [{ end: 'start', frame: -(MARKER_SECONDS - 0.024) * RATE_HZ }] as const;
    expect(findMarkers(recordingOf({ sampleRateHz: RATE_HZ, frames: RATE_HZ, markers }), RATE_HZ)).toEqual(
      [],
    );
  });

  test('a marker in every place of a long recording is found once', () => {
    const markers = Array.from({ length: 40 }, (_, at) => ({
      end: 'start' as const,
      frame: 5_000 + at * 17_777.7,
    }));
    const frames = 5_000 + 41 * 17_778;
    const found = findMarkers(recordingOf({ sampleRateHz: RATE_HZ, frames, markers }), RATE_HZ);
    expect(found).toHaveLength(40);
    found.forEach((finding, at) => {
      expect(Math.abs(finding.frame - markers[at]!.frame)).toBeLessThan(0.2);
    });
  });
});

/** Highest likeness to either marker anywhere in the recording. */
function highestLikeness(samples: Float64Array): { highest: number; above: number; places: number } {
  const correlator = new MarkerCorrelator(RATE_HZ, MARKER_HIGH_HZ);
  const block = new Float64Array(correlator.blockFrames);
  let highest = 0;
  let above = 0;
  let places = 0;
  for (
    let from = 0;
    from + block.length <= samples.length;
    from += correlator.endFrame - correlator.firstFrame
  ) {
    block.set(samples.subarray(from, from + block.length));
    if (!correlator.correlate(block)) continue;
    const first = Math.ceil(correlator.firstFrame / correlator.framesPerPlace);
    for (let place = first; place < correlator.endFrame / correlator.framesPerPlace; place += 1) {
      for (const end of ['start', 'end'] as const) {
        const likeness = correlator.likeness(end, place);
        highest = Math.max(highest, likeness);
        above += likeness > 0.06 ? 1 : 0;
        places += 1;
      }
    }
  }
  return { highest, above, places };
}

describe('no marker where there is none', () => {
  test('noise exceeds a likeness as often as stated, which the threshold of 0.3 leaves at 1e-53', () => {
    const gauss = seededGauss(seededUniform(7));
    const noise = Float64Array.from({ length: 60 * RATE_HZ }, () => gauss());
    const { above, places, highest } = highestLikeness(noise);
    // exp(-B T r^2) with B T = 5400 Hz times 0.256 s, at r = 0.06: 0.69 %. Some 2 * 5400 * 60 independent places: 1.5 %;
    // the whitening takes part of the noise's own scatter out, the fades of the marker shorten it: 10 %.
    const expected = Math.exp(-5400 * MARKER_SECONDS * 0.06 ** 2);
    expect(above / places / expected).toBeGreaterThan(0.85);
    expect(above / places / expected).toBeLessThan(1.15);
    // Highest of 6.5e5 places: sqrt(ln(6.5e5) / 1382) = 0.098.
    expect(highest).toBeLessThan(0.125);
  });

  test.each<ToneSpec>([
    { kind: 'sine', frequencyHz: 997, levelDbfs: 0, durationSeconds: 5 },
    { kind: 'steps', frequencyHz: 997, levelsDbfs: [-30, -20, -10], stepSeconds: 1, pauseSeconds: 0.3 },
    { kind: 'pink', lowHz: 20, highHz: 20_000, levelDbfs: -12, durationSeconds: 20, seed: 3 },
    { kind: 'polarity', frequencyHz: 500, peakDbfs: -3, everySeconds: 0.5, durationSeconds: 5 },
    { kind: 'identification', frequencyHz: 997, levelDbfs: -12, beeps: 3, durationSeconds: 10 },
    { kind: 'sweep', startHz: 20, endHz: 20_000, levelDbfs: -6, durationSeconds: 10 },
    { kind: 'sweep', startHz: 200, endHz: 5_600, levelDbfs: -6, durationSeconds: 0.2 },
    { kind: 'silence', durationSeconds: 5 },
  ])('$kind', (spec) => {
    const tone = renderTone(spec, RATE_HZ);
    const padded = new Float64Array(Math.max(tone.length, 3 * RATE_HZ));
    padded.set(tone);
    // Half of the threshold, 0.3: what resembles a marker in part is still far from one.
    expect(highestLikeness(padded).highest).toBeLessThan(0.2);
    expect(findMarkers(padded, RATE_HZ)).toEqual([]);
  });

  test('music-like sound: decaying chords of many harmonics, drum-like bursts, a bass', () => {
    const uniform = seededUniform(5);
    const gauss = seededGauss(uniform);
    const music = new Float64Array(30 * RATE_HZ);
    for (let beat = 0; beat < 118; beat += 1) {
      const from = Math.floor(beat * 0.25 * RATE_HZ);
      const rootHz = 55 * 2 ** (Math.floor(uniform() * 36) / 12);
      for (let at = 0; at < 0.9 * RATE_HZ && from + at < music.length; at += 1) {
        const t = at / RATE_HZ;
        for (let harmonic = 1; harmonic <= 10; harmonic += 1) {
          music[from + at]! += (Math.exp(-4 * t) / harmonic) * Math.sin(2 * Math.PI * rootHz * harmonic * t);
        }
        music[from + at]! += Math.exp(-60 * t) * gauss();
      }
    }
    expect(findMarkers(music, RATE_HZ)).toEqual([]);
    expect(highestLikeness(music).highest).toBeLessThan(0.2);
  });

  test('samples that are no numbers count as silence', () => {
    expect(findMarkers(new Float64Array(RATE_HZ).fill(Number.NaN), RATE_HZ)).toEqual([]);
    expect(findMarkers([], RATE_HZ)).toEqual([]);
  });

  test('too little of the band is refused', () => {
    expect(() => new MarkerFinder(RATE_HZ, 500)).toThrow(RangeError);
    expect(() => renderMarker('start', 8_000, -12)).toThrow(RangeError);
  });
});
