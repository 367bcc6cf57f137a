import { describe, expect, it } from 'vitest';
import type { ComplexValue } from '../../src/dsp/filters/filter-response.ts';
import { withoutDelay } from '../../src/dsp/response/transfer.ts';
import { responseSweep } from '../../src/plan/tone/response-sweep.ts';
import { readTake } from '../../src/procedure/take/read-take.ts';
import type { SweepResponse, SweepTakeRequest } from '../../src/procedure/take/sweep-take.ts';
import { type Chain, chainAt, filter, RATE_HZ, SWEEP, sweptSamples, takeOf } from './swept-chain.ts';

/** 60 dB under the sweep at the terminals of a channel at set gain. */
const NOISE = 1e-5;
const REQUEST: SweepTakeRequest = { kind: 'sweep', channelIndex: 0, sweep: SWEEP, reference: null };

function responseOf(samples: Float32Array, request: Partial<SweepTakeRequest> = {}): SweepResponse {
  const { response } = readTake({ ...REQUEST, ...request }, takeOf(samples));
  if (response === null) throw new Error('the sweep was not found');
  return response;
}

const SUBWOOFER = [filter('high-pass', 'butterworth', 2, 25), filter('low-pass', 'linkwitz-riley', 4, 80)];
const DOOR = [filter('high-pass', 'linkwitz-riley', 4, 80)];

/** A radio that takes bass away and lifts the treble: a shelf each, in closed form. */
function radio(hertz: number): ComplexValue {
  const shelf = (lowGain: number, turnHz: number) => {
    const f = hertz / turnHz;
    const square = 1 + f * f;
    return { re: (lowGain + f * f) / square, im: ((1 - lowGain) * f) / square };
  };
  const bass = shelf(0.4, 120);
  const treble = shelf(0.6, 4000);
  return { re: bass.re * treble.re - bass.im * treble.im, im: bass.re * treble.im + bass.im * treble.re };
}

describe('the filters in a swept take', () => {
  it.each([
    ['a door', DOOR],
    ['a subwoofer', SUBWOOFER],
    ['a tweeter', [filter('high-pass', 'butterworth', 3, 3500)]],
    ['a midrange', [filter('high-pass', 'bessel', 2, 200), filter('low-pass', 'butterworth', 4, 3000)]],
  ])('of %s come out by name, their corners within two parts in a thousand', (_, filters) => {
    const { finding, whole, startSeconds } = responseOf(
      sweptSamples({ filters, gain: -0.4, delaySeconds: 0.02, noiseRms: NOISE }),
    );
    expect(whole).toBe(true);
    expect(finding?.filters.map(({ kind, alignment, order }) => ({ kind, alignment, order }))).toEqual(
      filters.map(({ kind, alignment, order }) => ({ kind, alignment, order })),
    );
    finding?.filters.forEach((found, index) => {
      // A tenth of a percent from what the gate smears at 25 Hz, as much again for noise.
      expect(Math.abs(found.cutoffHz / filters[index]!.cutoffHz - 1)).toBeLessThan(0.002);
    });
    // Ahead of it 0.4 s of quiet and 20 ms of delay; a band-limited response peaks up to 20 ms later.
    expect(startSeconds).toBeGreaterThan(0.41);
    expect(startSeconds).toBeLessThan(0.445);
  });

  it('are none where the chain is flat, and none that are known where an equaliser is in the way', () => {
    expect(responseOf(sweptSamples({ noiseRms: NOISE })).finding?.verdict).toBe('flat');
    // A boost of 12 dB at 50 Hz, Q 1: 1 + 3 s / (s^2 + s + 1) at s = jf/50.
    const boost = (hertz: number): ComplexValue => {
      const f = hertz / 50;
      const re = 1 - f * f;
      const square = re * re + f * f;
      return { re: 1 + (3 * f * f) / square, im: (3 * f * re) / square };
    };
    const odd = responseOf(sweptSamples({ filters: SUBWOOFER, other: boost, noiseRms: NOISE }));
    expect(odd.finding?.verdict).toBe('none of these');
    expect(odd.delay).toBeNull();
  });

  it('are those behind the reference, whatever the radio does to its sound', () => {
    const reference = responseOf(sweptSamples({ other: radio, gain: 0.07, noiseRms: NOISE, seed: 2 }));
    const samples = sweptSamples({ filters: DOOR, other: radio, gain: 0.5, noiseRms: NOISE });
    const bare = responseOf(samples).finding?.filters[0];
    expect(bare?.alignment === 'linkwitz-riley' && Math.abs(bare.cutoffHz / 80 - 1) < 0.01).toBe(false);
    const { finding, divided, transfer } = responseOf(samples, { reference: reference.transfer });
    expect(divided).toBe(true);
    expect(finding?.filters[0]).toMatchObject({ alignment: 'linkwitz-riley', order: 4 });
    expect(Math.abs(finding!.filters[0]!.cutoffHz / 80 - 1)).toBeLessThan(0.001);
    const at = transfer.frequenciesHz.findIndex((hertz) => hertz >= 1000);
    expect(transfer.magnitudesDb[at]).toBeCloseTo(20 * Math.log10(0.5 / 0.07), 2);
  });

  it('have their delay and their polarity told apart from the rest of the phase', () => {
    const chain: Chain = { filters: SUBWOOFER, gain: -0.5, delaySeconds: 0.0123, noiseRms: NOISE };
    const { delay, startSeconds, transfer } = responseOf(sweptSamples(chain));
    expect(delay?.inverted).toBe(true);
    // A frame is 21 us; the band's noise leaves some tens of microseconds.
    expect(Math.abs(startSeconds + delay!.delaySeconds - 0.4 - 0.0123)).toBeLessThan(1e-4);
    const straight = withoutDelay(transfer, delay!.delaySeconds);
    straight.frequenciesHz.forEach((hertz, index) => {
      if (hertz < 30 || hertz > 160) return;
      const { re, im } = chainAt({ ...chain, delaySeconds: 0 }, hertz);
      const off = straight.phasesDeg[index]! - (Math.atan2(im, re) * 180) / Math.PI;
      // 0.1 ms is 6 degrees at 160 Hz; the gate smears a degree or two at 30 Hz.
      expect(Math.abs(off - 360 * Math.round(off / 360))).toBeLessThan(6);
    });
  });
});

describe('the take', () => {
  it('may hold the sweep anywhere, and is told where it holds a part only, or none', () => {
    const samples = sweptSamples({ filters: DOOR, noiseRms: NOISE });
    const late = new Float32Array(samples.length + 5 * RATE_HZ);
    late.set(samples, 5 * RATE_HZ);
    const found = responseOf(late);
    expect(found.startSeconds).toBeCloseTo(5.4, 3);
    expect(found.finding?.filters[0]?.cutoffHz).toBeCloseTo(80, 0);
    expect(responseOf(samples.subarray(0, 2.5 * RATE_HZ)).whole).toBe(false);
    expect(responseOf(samples.subarray(0.9 * RATE_HZ)).whole).toBe(false);
    const hum = Float32Array.from({ length: 3 * RATE_HZ }, (_, n) => 0.1 * Math.sin(n / 100));
    expect(readTake(REQUEST, takeOf(hum)).response).toBeNull();
    expect(readTake(REQUEST, takeOf(new Float32Array(3 * RATE_HZ))).response).toBeNull();
  });

  it('is invalid where the input itself is overloaded', () => {
    const loud = sweptSamples({ gain: 20, through: (x) => Math.max(-1, Math.min(1, x)) });
    expect(readTake(REQUEST, takeOf(loud))).toMatchObject({ grade: 'invalid', doubts: ['input-overload'] });
    expect(readTake(REQUEST, takeOf(sweptSamples()))).toMatchObject({ grade: 'valid', doubts: [] });
  });

  it('reads on one grid whatever part of the band was swept, so that one reference serves all', () => {
    const sweep = { kind: 'sweep' as const, ...responseSweep({ highPassHz: 3500, lowPassHz: null }) };
    expect(sweep.startHz).toBe(875);
    const reference = responseOf(sweptSamples({ other: radio, noiseRms: NOISE }));
    const filters = [filter('high-pass', 'linkwitz-riley', 4, 3500)];
    const samples = sweptSamples({ filters, other: radio, noiseRms: NOISE, sweep });
    const { finding, transfer } = responseOf(samples, { sweep, reference: reference.transfer });
    expect(finding?.filters[0]).toMatchObject({ kind: 'high-pass', alignment: 'linkwitz-riley', order: 4 });
    expect(Math.abs(finding!.filters[0]!.cutoffHz / 3500 - 1)).toBeLessThan(0.002);
    expect(transfer.frequenciesHz[0]).toBeGreaterThan(875);
    expect(transfer.frequenciesHz.length).toBeGreaterThan(100);
  });

  it('tells the harmonics of a stage that bends: x + 0.2 x^3 has -20 lg((0.05 A^2) / (1 + 0.15 A^2)) in its third', () => {
    const sweep = { ...SWEEP, levelDbfs: 0 };
    const { harmonics, harmonicsAtHz } = responseOf(
      sweptSamples({ sweep, gain: 0.9, through: (x) => x + 0.2 * x ** 3 }),
      { sweep },
    );
    const third = harmonics.find(({ order }) => order === 3)!.levelsDbc;
    const square = 0.9 ** 2;
    const expected = 20 * Math.log10((0.05 * square) / (1 + 0.15 * square));
    for (const hertz of [100, 300, 1000]) {
      const at = harmonicsAtHz.findIndex((one) => one >= hertz);
      // The harmonic's own gate is shorter than what it rings for at the lowest of them.
      expect(Math.abs(third[at]! - expected)).toBeLessThan(0.3);
    }
  });

  it('gives the same reading from the same samples, also where the request went through a file', () => {
    const reference = responseOf(sweptSamples({ other: radio, gain: 0.07, noiseRms: NOISE, seed: 2 }));
    const samples = sweptSamples({ filters: SUBWOOFER, other: radio, noiseRms: NOISE });
    const request = { ...REQUEST, reference: reference.transfer };
    const kept = JSON.parse(JSON.stringify(request)) as SweepTakeRequest;
    expect(JSON.stringify(readTake(kept, takeOf(samples)))).toBe(
      JSON.stringify(readTake(request, takeOf(samples))),
    );
  });
});
