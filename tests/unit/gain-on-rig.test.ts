/**
 * The whole way of a gain: samples of the practice rig, the live analyser, the
 * station. What it finds is held against what the rig was built from.
 */
import { describe, expect, it } from 'vitest';
import { gainResult } from '../../src/procedure/gain/result.ts';
import { Hand } from './gain-hand.ts';

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
    const hand = new Hand('front-left', { controls: { volumeStep: 36 } });
    hand.rest(1);
    hand.turn(8, 3);
    hand.rest(1);
    expect(hand.state.clippingStage).toBe('earlier');
    expect(hand.state.knee).toBeNull();
    hand.change({ volumeStep: 30 });
    hand.rest(1.5);
    expect(hand.state.clippingStage).toBeNull();
    expect(hand.state.aim.zone).toBe('under');
  });
});
