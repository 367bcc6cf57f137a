import { describe, expect, it } from 'vitest';
import { BLOCK_FRAMES, type BlockMessage } from '../../src/audio/blocks.ts';
import { BlockGatherer, type Buffers } from '../../src/audio/capture/block-gatherer.ts';

function counting(): { gatherer: BlockGatherer; blocks: BlockMessage[]; held: Buffers[] } {
  const blocks: BlockMessage[] = [];
  const held: Buffers[] = [];
  const gatherer = new BlockGatherer((message) => {
    blocks.push(structuredClone(message));
    held.push(message.channels);
  });
  return { gatherer, blocks, held };
}

function ramp(start: number, frames: number, scale = 1): Float32Array {
  return Float32Array.from({ length: frames }, (_, i) => (start + i + 1) * scale);
}

describe('gathering blocks', () => {
  it.each([128, 441, 1024, 1000, 3000])(
    'keeps every sample of every channel, bit for bit, from lots of %i',
    (lot) => {
      const { gatherer, blocks } = counting();
      for (let frame = 0; frame < 9000; frame += lot)
        gatherer.write([ramp(frame, lot, 1 / 3), ramp(frame, lot, -1)], lot);
      expect(blocks.length).toBeGreaterThanOrEqual(8);
      for (const [index, block] of blocks.entries()) {
        expect(block.sequence).toBe(index);
        expect(block.startFrame).toBe(index * BLOCK_FRAMES);
        expect(block.channels[0]).toEqual(ramp(index * BLOCK_FRAMES, BLOCK_FRAMES, 1 / 3));
        expect(block.channels[1]).toEqual(ramp(index * BLOCK_FRAMES, BLOCK_FRAMES, -1));
        expect(block.facts).toEqual({ longestZeroRun: 0, emptyQuanta: 0, missedFrames: 0, notANumber: 0 });
      }
    },
  );

  it('counts frames it had no buffer for, and says so with the next block', () => {
    const { gatherer, blocks, held } = counting();
    const lot = ramp(0, BLOCK_FRAMES);
    // Nobody gives buffers back: 16 sets, then nothing.
    for (let i = 0; i < 18; i++) gatherer.write([lot], BLOCK_FRAMES);
    expect(blocks).toHaveLength(16);
    expect(gatherer.hasRoom).toBe(false);
    gatherer.recycle(held[0] as Buffers);
    expect(gatherer.hasRoom).toBe(true);
    gatherer.write([lot], BLOCK_FRAMES);
    expect(blocks.at(-1)?.facts.missedFrames).toBe(2 * BLOCK_FRAMES);
    expect(blocks.at(-1)?.startFrame).toBe(18 * BLOCK_FRAMES);
    expect(blocks.at(-1)?.sequence).toBe(16);
  });

  it('fills again the buffers that come back, and makes none of its own', () => {
    const { gatherer, held } = counting();
    const made = new Set<Float32Array>();
    for (let i = 0; i < 200; i++) {
      gatherer.write([ramp(i, BLOCK_FRAMES)], BLOCK_FRAMES);
      const back = held.pop() as Buffers;
      made.add(back[0] as Float32Array);
      gatherer.recycle(back);
    }
    expect(made.size).toBeLessThanOrEqual(16);
  });

  it('keeps time through empty quanta, with zeros, and counts them', () => {
    const { gatherer, blocks } = counting();
    gatherer.write([ramp(0, 512)], 512);
    for (let i = 0; i < 4; i++) gatherer.writeEmpty(128);
    expect(blocks[0]?.facts.emptyQuanta).toBe(4);
    expect(blocks[0]?.channels[0]?.subarray(512)).toEqual(new Float32Array(512));
  });

  it('counts a jump of the clock and starts the next block after it', () => {
    const { gatherer, blocks } = counting();
    gatherer.write([ramp(0, 100)], 100);
    gatherer.skip(256);
    gatherer.write([ramp(356, BLOCK_FRAMES)], BLOCK_FRAMES);
    expect(blocks[0]?.startFrame).toBe(356);
    // The 100 frames before the hole had to go as well: no block spans it.
    expect(blocks[0]?.facts.missedFrames).toBe(356);
    expect(blocks[0]?.channels[0]?.[0]).toBe(357);
  });

  it('counts NaN and the longest run of zeros, across blocks', () => {
    const { gatherer, blocks } = counting();
    const lot = ramp(0, 2 * BLOCK_FRAMES);
    lot.fill(0, BLOCK_FRAMES - 20, BLOCK_FRAMES + 30);
    lot[1500] = Number.NaN;
    gatherer.write([lot], lot.length);
    expect(blocks[0]?.facts).toMatchObject({ longestZeroRun: 20, notANumber: 0 });
    expect(blocks[1]?.facts).toMatchObject({ longestZeroRun: 50, notANumber: 1 });
  });

  it('follows a channel that comes later, and lets go buffers of the old shape', () => {
    const { gatherer, blocks, held } = counting();
    gatherer.write([ramp(0, BLOCK_FRAMES)], BLOCK_FRAMES);
    gatherer.write([ramp(0, BLOCK_FRAMES), ramp(5, BLOCK_FRAMES)], BLOCK_FRAMES);
    gatherer.recycle(held[0] as Buffers);
    for (let i = 0; i < 16; i++) gatherer.write([ramp(0, BLOCK_FRAMES), ramp(5, BLOCK_FRAMES)], BLOCK_FRAMES);
    expect(blocks.slice(1).every((block) => block.channels.length === 2)).toBe(true);
  });
});
