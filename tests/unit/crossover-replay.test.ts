/** The Crossover station on the practice rig: what is right, what is wrong, and the same record from a saved WAV. */
import { describe, expect, it } from 'vitest';
import { blobBytes } from '../../src/audio/wav/blob-bytes.ts';
import { floatWav } from '../../src/audio/wav/float-wav.ts';
import { openWav } from '../../src/audio/wav/open-wav.ts';
import { readFrames } from '../../src/audio/wav/read-frames.ts';
import { keptRecord } from '../../src/job/kept-record.ts';
import type { JobRecord } from '../../src/job/records.ts';
import { replay } from '../../src/job/replay.ts';
import { readSessionLog, SESSION_FORMAT, SESSION_VERSION } from '../../src/job/session-log.ts';
import { CROSSOVER } from '../../src/procedure/crossover/crossover-steps.ts';
import { CrossoverHand } from './crossover-hand.ts';

const CONDITIONS = {
  supplyVolts: 14.4,
  engineRunning: false,
  loaded: true,
  volumeStep: 30,
  calibration: null,
  input: 'Practice rig',
  note: '',
};
const AT = '2026-03-14T10:00:00.000Z';

function accept(hand: CrossoverHand, id: string): JobRecord {
  const result = CROSSOVER.result(hand.state);
  hand.entries.push({ type: 'accept', id, at: AT, conditions: CONDITIONS });
  return keptRecord({ kind: 'crossover', id, at: AT, conditions: CONDITIONS, result });
}

async function replayed(hand: CrossoverHand, change = (sample: number) => sample): Promise<JobRecord[]> {
  const whole = Float32Array.from(
    hand.recorded.flatMap((one) => [...one]),
    change,
  );
  const info = await openWav(blobBytes(new Blob([floatWav([whole], 48_000)])));
  const log = readSessionLog(
    JSON.stringify({
      ...{ format: SESSION_FORMAT, version: SESSION_VERSION, kind: 'crossover', sampleRateHz: 48_000 },
      ...{ file: 'crossover.wav', entries: hand.entries },
    }),
  );
  return replay(log, async (atFrame, frames) => {
    const samples = [new Float32Array(frames)];
    await readFrames(info, atFrame, frames, samples);
    return samples;
  });
}

const faults = (hand: CrossoverHand) => hand.state.findings.map(({ fault }) => fault);

describe('on the practice rig', () => {
  it('a healthy vehicle: front doors and subwoofer right, nothing named, the same records from the WAV', async () => {
    const hand = new CrossoverHand();
    hand.sweep();
    const records = ['front-left', 'front-right', 'subwoofer'].map((id) => {
      hand.channel(id);
      expect([id, faults(hand), hand.state.refused]).toEqual([id, [], null]);
      return accept(hand, `record-of-${id}`);
    });
    for (const one of records) {
      if (one.kind !== 'crossover') throw new Error('another kind of record');
      expect(one.result.inside).toBe(true);
      for (const side of [one.result.highPass, one.result.lowPass]) {
        // The rig's filters are exact; noise 53 dB under the reference leaves a few tenths of a percent at 25 Hz.
        expect(Math.abs(side.errorPercent ?? 0)).toBeLessThan(1);
      }
    }
    expect(hand.state.sums).toHaveLength(2);
    for (const { asWired, turned } of hand.state.sums) {
      expect(asWired.deepestDb).toBeGreaterThan(-1);
      expect(turned.deepestDb).toBeLessThan(-10);
    }
    expect(JSON.stringify(await replayed(hand))).toBe(JSON.stringify(records));
    const louder = await replayed(hand, (sample) => sample * (1 + 0.01 * Math.sin(1e3 * sample)));
    expect(JSON.stringify(louder)).not.toBe(JSON.stringify(records));
  });

  it.each([
    ['filter-octave-off', 'front-left', /1\.0 octave too high: 160 Hz where 80 Hz/],
    ['filter-order-low', 'subwoofer', /low-pass falls by 12 dB per octave; 24 dB/],
  ] as const)('%s is named on %s', (fault, channelId, sentence) => {
    const hand = new CrossoverHand([fault]);
    hand.sweep();
    hand.channel(channelId);
    expect(faults(hand)).toEqual([fault]);
    expect(hand.state.findings[0]?.sentence).toMatch(sentence);
  });

  it('a radio that takes bass away changes nothing: the reference has it too', () => {
    const hand = new CrossoverHand(['radio-cuts-bass']);
    hand.sweep();
    hand.channel('subwoofer');
    expect(faults(hand)).toEqual([]);
    expect(Math.abs(CROSSOVER.result(hand.state).highPass.errorPercent!)).toBeLessThan(2);
    hand.tell({ type: 'reference-way', way: 'none' });
    hand.sweep();
    expect(faults(hand)).not.toEqual([]);
  });

  it('a channel whose wires are crossed cancels its neighbour', () => {
    const hand = new CrossoverHand(['channel-reversed']);
    hand.sweep();
    hand.channel('subwoofer');
    expect(faults(hand)).toEqual([]);
    hand.channel('front-right');
    expect(faults(hand)).toEqual(['neighbours-cancel']);
    expect(CROSSOVER.result(hand.state).inverted).toBe(true);
  });
});
