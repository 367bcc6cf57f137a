import { expect, test } from 'vitest';
import { BLOCK_FRAMES } from '../../src/audio/blocks.ts';
import { BlockGatherer, type Buffers } from '../../src/audio/capture/block-gatherer.ts';
import { RigPacer } from '../../src/audio/sources/rig-pacer.ts';
import { DEMO_CONTROLS, DEMO_RIG, DEMO_TONE } from '../../src/rig/demo-rig.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';

/** A pacer whose blocks are kept as copies; buffers go back only when `giveBack` is on. */
function paced(giveBack = true) {
  const starts: number[] = [];
  const missed: number[] = [];
  const samples: number[] = [];
  const held: Buffers[] = [];
  const gatherer = new BlockGatherer((message) => {
    starts.push(message.startFrame);
    missed.push(message.facts.missedFrames);
    samples.push(...message.channels[0]!);
    if (giveBack) gatherer.recycle(message.channels);
    else held.push(message.channels);
  });
  const rig = new PracticeRig(DEMO_RIG, DEMO_CONTROLS, DEMO_TONE);
  return {
    pacer: new RigPacer(rig, gatherer, DEMO_RIG.sampleRateHz),
    gatherer,
    starts,
    missed,
    samples,
    held,
  };
}

const continuous = (starts: number[]) => starts.every((start, index) => start === index * BLOCK_FRAMES);

test('keeps real time, whatever the timer does', () => {
  const { pacer, starts } = paced();
  let nowMs = 1000;
  pacer.run(nowMs);
  // Uneven turns that add up to ten seconds: 468 whole blocks of 1024 at 48 kHz.
  while (nowMs < 11_000) {
    nowMs = Math.min(11_000, nowMs + 3 + ((nowMs * 7) % 41));
    pacer.turn(nowMs);
  }
  expect(starts.length).toBe(468);
  expect(continuous(starts)).toBe(true);
});

test('after a stall it makes up a little, lets the rest go, and leaves no hole', () => {
  const { pacer, starts, missed, samples } = paced();
  pacer.run(0);
  pacer.turn(100);
  const before = starts.length;
  pacer.turn(60_000);
  expect(starts.length - before).toBe(8);
  expect(continuous(starts)).toBe(true);
  expect(missed.every((frames) => frames === 0)).toBe(true);
  // The samples are those of a rig that never stalled.
  const straight = new Float32Array(samples.length);
  new PracticeRig(DEMO_RIG, DEMO_CONTROLS, DEMO_TONE).fill([straight], straight.length);
  expect(Float32Array.from(samples)).toEqual(straight);
});

test('waits while no buffer comes back, instead of losing frames or asking for memory', () => {
  const { pacer, gatherer, starts, missed, held } = paced(false);
  pacer.run(0);
  for (let nowMs = 10; nowMs <= 2000; nowMs += 10) pacer.turn(nowMs);
  const stuck = starts.length;
  expect(stuck).toBeLessThan(20);
  for (const buffers of held.splice(0)) gatherer.recycle(buffers);
  pacer.turn(2010);
  expect(starts.length).toBeGreaterThan(stuck);
  expect(continuous(starts)).toBe(true);
  expect(missed.every((frames) => frames === 0)).toBe(true);
});

test('paused, it stands still and owes nothing', () => {
  const { pacer, starts } = paced();
  pacer.run(0);
  pacer.turn(100);
  const before = starts.length;
  pacer.pause();
  pacer.turn(5000);
  expect(starts.length).toBe(before);
  pacer.run(5000);
  pacer.turn(5010);
  expect(starts.length).toBeLessThanOrEqual(before + 1);
});

test('tells once so many frames are made, however late, and which frame is next', () => {
  const { pacer, samples } = paced();
  const told: string[] = [];
  pacer.run(0);
  pacer.after(0, (frame) => told.push(`at once ${frame}`));
  pacer.after(3000, (frame) => told.push(`3000: ${frame}`));
  pacer.turn(40);
  // A stall: time passes, nothing is made, so nothing is told.
  expect(told).toEqual(['at once 0']);
  pacer.turn(400);
  expect(told).toEqual(['at once 0', `3000: ${samples.length}`]);
  expect(samples.length).toBeGreaterThanOrEqual(3000);
});

test('held, it stands still, and what it owes it makes up for as after a stall', () => {
  const { pacer, starts, samples } = paced();
  pacer.run(0);
  pacer.turn(100);
  const before = samples.length;
  pacer.hold();
  const told: number[] = [];
  pacer.after(0, (frame) => told.push(frame));
  pacer.turn(130);
  expect(samples.length).toBe(before);
  expect(told).toEqual([before]);
  pacer.release();
  pacer.turn(200);
  // 200 ms at 48 kHz are 9 whole blocks.
  expect(starts.length).toBe(9);
  expect(continuous(starts)).toBe(true);
});
