import { expect, test } from 'vitest';
import { filterResponse } from '../../src/dsp/filters/filter-response.ts';
import { DEMO_CONTROLS } from '../../src/rig/demo-rig.ts';
import { FilterChain } from '../../src/rig/filter-section.ts';
import { rigFilterResponse } from '../../src/rig/filter-truth.ts';
import type { RigFilter } from '../../src/rig/rig-parts.ts';
import { decibels, heard, QUIET_RIG, toneIn } from './rig-listening.ts';

const RATE_HZ = 768_000;

/** A quarter second of the impulse response, by which the slowest of these has rung down by 200 dB. */
function impulseOf(kind: 'high-pass' | 'low-pass', filter: RigFilter): Float64Array {
  const chain = new FilterChain(RATE_HZ);
  chain.add(kind, filter);
  const impulse = new Float64Array(RATE_HZ / 4);
  impulse[0] = 1;
  chain.run(impulse);
  return impulse;
}

function responseAt(impulse: Float64Array, hz: number): { re: number; im: number } {
  const stepRe = Math.cos((2 * Math.PI * hz) / RATE_HZ);
  const stepIm = -Math.sin((2 * Math.PI * hz) / RATE_HZ);
  let turnRe = 1;
  let turnIm = 0;
  let re = 0;
  let im = 0;
  for (const value of impulse) {
    re += value * turnRe;
    im += value * turnIm;
    [turnRe, turnIm] = [turnRe * stepRe - turnIm * stepIm, turnRe * stepIm + turnIm * stepRe];
  }
  return { re, im };
}

const ALIGNMENTS = [
  ...[1, 2, 3, 4, 5, 8].map((order) => ({ alignment: 'butterworth' as const, order })),
  ...[2, 4, 8].map((order) => ({ alignment: 'linkwitz-riley' as const, order })),
  ...[1, 2, 3, 4, 7, 8].map((order) => ({ alignment: 'bessel' as const, order })),
];

test.each(ALIGNMENTS)('$alignment of order $order is the analogue prototype', ({ alignment, order }) => {
  for (const kind of ['high-pass', 'low-pass'] as const) {
    for (const cutoffHz of [80, 2500]) {
      const impulse = impulseOf(kind, { alignment, order, cutoffHz });
      for (const ratio of [0.5, 0.8, 1, 1.3, 2]) {
        const measured = responseAt(impulse, ratio * cutoffHz);
        const analogue = filterResponse({ kind, alignment, order, cutoffHz }, ratio * cutoffHz);
        // Prewarped at the corner; at 5 kHz the bilinear axis is 0.01 % off, which an 8th order's slope of
        // 48 dB per octave turns into 0.01 dB and 0.05 degrees.
        const error = Math.hypot(measured.re - analogue.re, measured.im - analogue.im);
        expect(error / Math.hypot(analogue.re, analogue.im)).toBeLessThan(0.0015);
      }
    }
  }
});

test('at the terminals, each channel is filtered as its config says, and not at all with the filters bypassed', () => {
  const gains = { 'front-left': 0.3, subwoofer: 0.3 };
  for (const [probe, tones] of [
    ['front-left', [40, 80, 120, 160, 400]],
    ['subwoofer', [20, 40, 80, 120, 160]],
  ] as const) {
    const channel = QUIET_RIG.channels.find((one) => one.id === probe)!;
    for (const hz of tones) {
      const controls = { ...DEMO_CONTROLS, probe, gains };
      const tone = { kind: 'sine', frequencyHz: hz, levelDbfs: -30, channels: 'both' } as const;
      const flat = toneIn(heard(QUIET_RIG, { ...controls, filtersOff: true }, tone, 0.5), hz);
      const filtered = toneIn(heard(QUIET_RIG, controls, tone, 0.5), hz);
      const { re, im } = rigFilterResponse(channel, hz);
      expect(Math.abs(decibels(filtered.peak / flat.peak / Math.hypot(re, im)))).toBeLessThan(0.005);
      // Same chain but for the filter, so the rest of the phase drops out; a degree's hundredth for 24-bit codes.
      const turned = filtered.phase - flat.phase - Math.atan2(im, re);
      expect(Math.abs(Math.sin(turned))).toBeLessThan(0.0002);
      expect(Math.cos(turned)).toBeGreaterThan(0);
    }
  }
});
