import { expect, it } from 'vitest';
import type { BlockMessage } from '../../src/audio/blocks.ts';
import { BlockGatherer, type Buffers } from '../../src/audio/capture/block-gatherer.ts';
import { FilePacer } from '../../src/audio/sources/file-pacer.ts';
import { openWav } from '../../src/audio/wav/open-wav.ts';

const RATE_HZ = 48_000;

/** A mono float32 WAV whose sample n is n/65536, so that each says where it came from. */
async function numbered(frames: number, spoil?: number) {
  const bytes = Buffer.alloc(44 + 4 * frames);
  bytes.write('RIFF', 0);
  bytes.writeUInt32LE(bytes.length - 8, 4);
  bytes.write('WAVEfmt ', 8);
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(3, 20);
  bytes.writeUInt16LE(1, 22);
  bytes.writeUInt32LE(RATE_HZ, 24);
  bytes.writeUInt32LE(4 * RATE_HZ, 28);
  bytes.writeUInt16LE(4, 32);
  bytes.writeUInt16LE(32, 34);
  bytes.write('data', 36);
  bytes.writeUInt32LE(4 * frames, 40);
  for (let n = 0; n < frames; n++) bytes.writeFloatLE(n === spoil ? Number.NaN : n / 65_536, 44 + 4 * n);
  const size = bytes.length;
  return openWav({
    size,
    read: async (offset, length) => new Uint8Array(bytes.subarray(offset, offset + length)),
  });
}

/** A gatherer whose buffers go round at once, unless `hold` keeps them. */
function collecting() {
  const heard: number[] = [];
  const held: Buffers[] = [];
  const state = { hold: false };
  let missed = 0;
  const gatherer: BlockGatherer = new BlockGatherer((message: BlockMessage) => {
    for (const sample of message.channels[0] as Float32Array) heard.push(Math.round(sample * 65_536));
    missed += message.facts.missedFrames;
    if (state.hold) held.push(message.channels);
    else gatherer.recycle(message.channels);
  });
  const release = () => {
    for (const buffers of held.splice(0)) gatherer.recycle(buffers);
  };
  return { gatherer, heard, state, release, missed: () => missed };
}

const counted = (from: number, frames: number) => Array.from({ length: frames }, (_, n) => from + n);

it('hands out each frame once, in order, no sooner than real time', async () => {
  const { gatherer, heard } = collecting();
  const pacer = new FilePacer(await numbered(10 * 1024), gatherer, false);
  pacer.run(1000);
  await pacer.turn(1000);
  expect(heard).toHaveLength(0);
  await pacer.turn(1000 + 22);
  expect(heard).toEqual(counted(0, 1024));
  await pacer.turn(1000 + 64.1);
  expect(heard).toEqual(counted(0, 3 * 1024));
});

it('ends after the last frame, and says so', async () => {
  const { gatherer, heard } = collecting();
  const pacer = new FilePacer(await numbered(3 * 1024), gatherer, false);
  pacer.run(0);
  expect(await pacer.turn(64.1)).toBe(true);
  expect(await pacer.turn(200)).toBe(false);
  expect(heard).toEqual(counted(0, 3 * 1024));
});

it('looped, goes on with the first frame right after the last', async () => {
  const { gatherer, heard } = collecting();
  const pacer = new FilePacer(await numbered(1500), gatherer, true);
  pacer.run(0);
  for (let ms = 0; ms <= 100; ms += 10) expect(await pacer.turn(ms)).toBe(true);
  expect(heard.slice(1498, 1503)).toEqual([1498, 1499, 0, 1, 2]);
});

it('waits for an analysis that is late, and loses nothing', async () => {
  const { gatherer, heard, state, release, missed } = collecting();
  const pacer = new FilePacer(await numbered(60 * 1024), gatherer, false);
  pacer.run(0);
  state.hold = true;
  for (let ms = 0; ms <= 600; ms += 10) await pacer.turn(ms);
  expect(heard.length).toBe(16 * 1024);
  state.hold = false;
  release();
  for (let ms = 600; ms <= 1000; ms += 10) await pacer.turn(ms);
  expect(heard).toEqual(counted(0, 46 * 1024));
  expect(missed()).toBe(0);
});

it('stands still while paused, and goes on from the same frame', async () => {
  const { gatherer, heard } = collecting();
  const pacer = new FilePacer(await numbered(20 * 1024), gatherer, false);
  pacer.run(0);
  await pacer.turn(22);
  pacer.pause();
  await pacer.turn(5000);
  pacer.run(5000);
  await pacer.turn(5022);
  expect(heard).toEqual(counted(0, 2 * 1024));
});

it('refuses a sample that is not a number, by its place', async () => {
  const { gatherer } = collecting();
  const pacer = new FilePacer(await numbered(4096, 1100), gatherer, false);
  pacer.run(0);
  await expect(pacer.turn(100)).rejects.toThrow(/Frame 1100 .*not a number/);
});
