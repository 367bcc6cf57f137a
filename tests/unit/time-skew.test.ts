import { describe, expect, test } from 'vitest';
import { clockSkew, playerSecondsAt, recorderFrameAt } from '../../src/dsp/time/clock-skew.ts';
import { onPlayerClock } from '../../src/dsp/time/player-clock.ts';
import { MARKER_SECONDS } from '../../src/dsp/tones/marker.ts';
import { findMarkers, noiseForInBandSnr, recordingOf } from './time-signals.ts';

const RATE_HZ = 48_000;

describe('clock skew from two markers', () => {
  test.each([-200, 0, 31.2, 200])(
    '%d ppm, 60 s apart at 20 dB: within 2 ppm and as uncertain as stated',
    (skewPpm) => {
      const ownRateHz = RATE_HZ * (1 + skewPpm * 1e-6);
      const frameOf = (seconds: number): number => 1234.4 + seconds * ownRateHz;
      const noiseRms = noiseForInBandSnr(20, RATE_HZ);
      // Searched in two pieces, so that 60 s need not be rendered; each piece begins at a whole frame.
      const seen = (
        [
          ['start', 1],
          ['end', 61],
        ] as const
      ).map(([end, seconds], index) => {
        const pieceFrame = Math.floor(frameOf(seconds)) - 20_000;
        const markers = [{ end, frame: frameOf(seconds) - pieceFrame }];
        const recipe = { sampleRateHz: RATE_HZ, frames: 60_000, markers, skewPpm, noiseRms, seed: index + 3 };
        const [finding] = findMarkers(recordingOf(recipe), RATE_HZ);
        return {
          frame: finding!.middleFrame + pieceFrame,
          frameUncertainty: finding!.frameUncertainty,
          playerSeconds: seconds + MARKER_SECONDS / 2,
        };
      });
      const found = clockSkew(seen[0]!, seen[1]!, RATE_HZ);
      // Asked: 2 ppm. Two markers of 0.3 µs each over 60 s give 0.01 ppm; the stretched markers' own shift 0.05.
      expect(Math.abs(found.skewPpm - skewPpm)).toBeLessThan(0.1);
      expect(found.skewUncertaintyPpm).toBeGreaterThan(0.001);
      expect(found.skewUncertaintyPpm).toBeLessThan(0.1);
      expect(Math.abs(playerSecondsAt(found.timeline, frameOf(30)) - 30)).toBeLessThan(5e-6);
      expect(recorderFrameAt(found.timeline, playerSecondsAt(found.timeline, 777.7))).toBeCloseTo(777.7, 8);
    },
  );

  test('instants in the wrong order are refused', () => {
    const at = (frame: number, playerSeconds: number) => ({ frame, frameUncertainty: 1, playerSeconds });
    expect(() => clockSkew(at(100, 1), at(50, 2), RATE_HZ)).toThrow(RangeError);
    expect(() => clockSkew(at(100, 1), at(200, 1), RATE_HZ)).toThrow(RangeError);
  });

  test('a recording is put on the clock of the player', () => {
    const timeline = { originFrame: 500.3, framesPerSecond: RATE_HZ * 1.0001 };
    const tone = (seconds: number): number =>
      Math.sin(2 * Math.PI * 997 * seconds) + 0.3 * Math.cos(2 * Math.PI * 20_000 * seconds);
    const recording = Float64Array.from({ length: RATE_HZ }, (_, at) => tone(playerSecondsAt(timeline, at)));
    const back = onPlayerClock(recording, timeline, {
      fromSeconds: 0.1,
      frames: 20_000,
      sampleRateHz: RATE_HZ,
    });
    let worst = 0;
    back.forEach((value, at) => {
      worst = Math.max(worst, Math.abs(value - tone(0.1 + at / RATE_HZ)));
    });
    // -98 dB of 1.3.
    expect(worst).toBeLessThan(2e-5);
    expect(() =>
      onPlayerClock(recording, timeline, { fromSeconds: 0, frames: 1, sampleRateHz: 44_100 }),
    ).toThrow(RangeError);
  });
});
