/** The Quiet station's noise part on the practice rig, held against what the rig is made with. */
import { describe, expect, it } from 'vitest';
import { noiseResult } from '../../src/procedure/noise/result.ts';
import type { RigFaultId } from '../../src/rig/faults.ts';
import { rippleHz } from '../../src/rig/noise-truth.ts';
import { NoiseHand } from './noise-hand.ts';

function worked(channelId: string | null, faults: readonly RigFaultId[], gain?: number): NoiseHand {
  const hand = new NoiseHand(channelId, faults, gain);
  hand.followThrough();
  return hand;
}

const faultsOf = (hand: NoiseHand) => hand.state.findings.map(({ fault }) => fault);
const share = (hz: number | null | undefined, truth: number | null) =>
  Math.abs((hz ?? Number.NaN) / (truth ?? Number.NaN) - 1);

describe('the healthy rig', () => {
  it.each([
    ['front-left', 0.6],
    ['front-left', 0],
    ['subwoofer', 0.6],
  ])('%s, gain at %s: nothing is named', (channelId, gain) => {
    const hand = worked(channelId, [], gain);
    expect(hand.state.findings).toEqual([]);
    expect(noiseResult(hand.state).inside).toBe(true);
  });

  it('by microphone: an engine that is heard as noise is no whine', () => {
    const hand = worked(null, []);
    expect(hand.state.findings).toEqual([]);
    const result = noiseResult(hand.state);
    expect(result.inside).toBeNull();
    // 52 dB with the engine against 40 without, white both; the microphone's own 32 dB are under both.
    const rise = 10 * Math.log10((10 ** 5.2 + 10 ** 3.2) / (10 ** 4 + 10 ** 3.2));
    const [idle] = result.rises;
    const [twoK] = idle!.octaves.filter(({ nominalHz }) => nominalHz === 2000);
    expect(Math.abs(twoK!.riseDb - rise)).toBeLessThan(1);
  });
});

describe('a rig whose engine whines', () => {
  it('is named with both frequencies within 0.1 %, and traced to the input', () => {
    const hand = worked('front-left', ['engine-whine']);
    expect(faultsOf(hand)).toEqual(['engine-whine']);
    const { ripple } = noiseResult(hand.state);
    expect(share(ripple?.idleHz, rippleHz(hand.config, hand.controls({ engine: 'idle' })))).toBeLessThan(
      0.001,
    );
    expect(share(ripple?.revvedHz, rippleHz(hand.config, hand.controls({ engine: 'revved' })))).toBeLessThan(
      0.001,
    );
    expect(ripple?.course).toBe('follows');
    // The rig's whine gets in at the amplifiers' inputs: pulled out, it is gone.
    expect(ripple?.wayIn).toBe('signal-lead');
  });

  it('is named by microphone as well', () => {
    const hand = worked(null, ['engine-whine']);
    expect(faultsOf(hand)).toEqual(['engine-whine']);
    const { ripple } = noiseResult(hand.state);
    expect(share(ripple?.idleHz, rippleHz(hand.config, hand.controls({ engine: 'idle' })))).toBeLessThan(
      0.001,
    );
  });
});

it('a rig that hums is named with 50 Hz, whatever the engine does', () => {
  const hand = worked('front-left', ['mains-hum']);
  expect(faultsOf(hand)).toEqual(['mains-hum']);
  const { hum } = noiseResult(hand.state);
  expect(hum?.nominalHz).toBe(50);
  expect(share(hum?.fundamentalHz, hand.config.mains.frequencyHz)).toBeLessThan(0.001);
  expect(hum?.heardIn).toEqual(['off', 'idle', 'revved']);
});

it('both at once are told apart', () => {
  const hand = worked('front-right', ['engine-whine', 'mains-hum']);
  expect(faultsOf(hand)).toEqual(['engine-whine', 'mains-hum']);
});

it('a radio that plays on is heard: the floor is asked for again, until the hand goes on', () => {
  const hand = new NoiseHand('front-left', []);
  hand.play({ kind: 'sine', frequencyHz: 997, levelDbfs: -5, channels: 'both' });
  hand.record({ engine: 'off', lead: 'plugged' });
  expect(hand.state.instruction).toMatch(/^A tone of 997 Hz drowns the floor/);
  expect(hand.state.wanted).toEqual({ engine: 'off', lead: 'plugged' });
  expect(faultsOf(hand)).toContain('steady-tone');
  hand.record({ engine: 'idle', lead: 'plugged' });
  expect(hand.state.wanted).toEqual({ engine: 'revved', lead: 'plugged' });
  expect(hand.state.ripple).toBeNull();
  hand.followThrough();
  expect(hand.state.acceptance.why).toMatch(/source is paused/);
  hand.play({ kind: 'silence', frequencyHz: 997, levelDbfs: -5, channels: 'both' });
  hand.record({ engine: 'off', lead: 'plugged' });
  expect(hand.state.instruction).not.toMatch(/drowns/);
});
