/**
 * A whole gain, kept as a WAV file and read back: the record is the same, byte for byte. What the app records
 * can so be had again from a recording and the list of what the hand did.
 */
import { expect, it, vi } from 'vitest';
import { openWav } from '../../src/audio/wav/open-wav.ts';
import { wavBlocks } from '../../src/audio/wav/read-frames.ts';
import { gainTask } from '../../src/job/job-plan.ts';
import { gainResult as recordedShape } from '../../src/job/records/gain.ts';
import type { GainState } from '../../src/procedure/gain/gain.ts';
import { gainStart, gainStep } from '../../src/procedure/gain/gain-steps.ts';
import { gainReading } from '../../src/procedure/gain/reading.ts';
import { gainResult } from '../../src/procedure/gain/result.ts';
import { analyserFor, BLOCK, HATCHBACK, Hand, SCALE } from './gain-hand.ts';
import { byteSource, chunk, formatBody, riff } from './wav-bytes.ts';

// A minute of the rig's sound takes its time on a busy machine.
vi.setConfig({ testTimeout: 180_000 });

/** Samples as a WAV file of 32-bit floats (format tag 3), which holds them exactly. */
function floatWav(blocks: readonly Float32Array[], sampleRateHz: number): Uint8Array {
  const samples = new Float32Array(blocks.length * BLOCK);
  for (const [index, block] of blocks.entries()) samples.set(block, index * BLOCK);
  const format = chunk('fmt ', formatBody({ tag: 3, sampleRateHz, bits: 32 }));
  const head = riff([format, chunk('data', new Uint8Array(0), samples.byteLength)]);
  const file = new Uint8Array(head.length + samples.byteLength);
  file.set(head);
  file.set(new Uint8Array(samples.buffer), head.length);
  return file;
}

/** The same hand at the same frames, and the samples from the file. */
async function replayed(id: string, wav: Uint8Array, told: Hand['told']): Promise<GainState> {
  const info = await openWav(byteSource(wav));
  let state = gainStart(gainTask(HATCHBACK, id, 'wire'));
  const live = analyserFor(state.task, info.sampleRateHz);
  const waiting = [...told];
  for await (const { startFrame, channels } of wavBlocks(info, { blockFrames: BLOCK })) {
    while (waiting[0] !== undefined && waiting[0].frame <= startFrame) {
      state = gainStep(state, waiting.shift()!.event);
    }
    const facts = { emptyQuanta: 0, missedFrames: 0, notANumber: 0 };
    const reading = live.push({ sequence: startFrame / BLOCK, startFrame, channels, facts });
    if (reading !== null)
      state = gainStep(state, { type: 'reading', reading: gainReading(reading, 0, SCALE) });
  }
  return state;
}

it.each([
  ['front-left', (hand: Hand) => setPastTheKneeAndBack(hand)],
  ['subwoofer', (hand: Hand) => setReducedWithBursts(hand)],
])('%s: the record from the file equals the one from the samples', async (id, work) => {
  const hand = new Hand(id);
  work(hand);
  const record = JSON.stringify(gainResult(hand.state));
  const wav = floatWav(hand.recorded, 48_000);
  const again = await replayed(id, wav, hand.told);
  expect(JSON.stringify(gainResult(again))).toBe(record);
  expect(recordedShape.safeParse(JSON.parse(record)).error).toBeUndefined();
  // A sample that differs is not overlooked: the comparison can fail.
  const louder = floatWav(
    hand.recorded.map((block) => block.map((sample) => sample * 1.0001)),
    48_000,
  );
  expect(JSON.stringify(gainResult(await replayed(id, louder, hand.told)))).not.toBe(record);
});

function setPastTheKneeAndBack(hand: Hand): void {
  hand.rest(1);
  hand.turn(28, 3, (state) => state.aim.zone === 'past-knee');
  hand.rest(1);
  hand.turn(-(hand.state.aim.turnBackDb ?? 0), 1);
  hand.rest(2);
  hand.tell({ type: 'new-turn', seconds: hand.state.seconds });
  hand.rest(1);
}

function setReducedWithBursts(hand: Hand): void {
  hand.tell({ type: 'tone-level', level: 'reduced' });
  hand.aim();
  hand.tell({ type: 'bursts', driver: 'app', seconds: hand.state.seconds });
  hand.restUntil((state) => state.bursts?.phase === 'done', 60);
  hand.rest(1.5);
}
