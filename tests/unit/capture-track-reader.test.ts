import { expect, it, vi } from 'vitest';
import { BLOCK_FRAMES, type BlockMessage } from '../../src/audio/blocks.ts';
import { BlockGatherer } from '../../src/audio/capture/block-gatherer.ts';
import type { AudioFrames } from '../../src/audio/capture/track-command.ts';
import { TrackReader } from '../../src/audio/capture/track-reader.ts';

const LOT = 441;

function lot(
  start: number,
  change: Partial<AudioFrames> = {},
): AudioFrames & { close: ReturnType<typeof vi.fn> } {
  return {
    numberOfFrames: LOT,
    numberOfChannels: 2,
    sampleRate: 44_100,
    copyTo: (target, { planeIndex }) => {
      for (let i = 0; i < LOT; i++) target[i] = (start + i + 1) * (planeIndex === 0 ? 1 : -1);
    },
    close: vi.fn(),
    ...change,
  } as AudioFrames & { close: ReturnType<typeof vi.fn> };
}

function reading() {
  const blocks: BlockMessage[] = [];
  const gatherer: BlockGatherer = new BlockGatherer((message) => {
    blocks.push(structuredClone(message));
    gatherer.recycle(message.channels);
  });
  return { reader: new TrackReader(gatherer), blocks };
}

it('keeps every frame of both channels, tells the format once, and closes each lot', () => {
  const { reader, blocks } = reading();
  const lots = Array.from({ length: 12 }, (_, i) => lot(i * LOT));
  const formats = lots.map((each) => reader.take(each));
  expect(formats.filter((format) => format !== null)).toEqual([{ sampleRateHz: 44_100, channelCount: 2 }]);
  expect(formats[0]).not.toBeNull();
  expect(blocks).toHaveLength(5);
  const heard = blocks.flatMap((block) => [...(block.channels[1] as Float32Array)]);
  expect(heard).toEqual(Array.from({ length: 5 * BLOCK_FRAMES }, (_, n) => -(n + 1)));
  // An unclosed lot holds the browser's buffer, and after a few the input stalls.
  for (const each of lots) expect(each.close).toHaveBeenCalledOnce();
});

it('throws a paused lot away, and lets no block span the pause', () => {
  const { reader, blocks } = reading();
  for (let i = 0; i < 3; i++) reader.take(lot(i * LOT));
  reader.pause();
  const ignored = lot(9000);
  reader.take(ignored);
  expect(ignored.close).toHaveBeenCalledOnce();
  reader.resume();
  for (let i = 0; i < 3; i++) reader.take(lot(20_000 + i * LOT));
  expect(blocks[1]?.channels[0]?.[0]).toBe(20_001);
});

it('refuses to go on at another rate, which would read as another frequency', () => {
  const { reader } = reading();
  reader.take(lot(0));
  const other = lot(LOT, { sampleRate: 48_000 });
  expect(() => reader.take(other)).toThrow(/from 44100 to 48000 Hz/);
  expect(other.close).toHaveBeenCalledOnce();
});
