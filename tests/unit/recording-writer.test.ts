/** A recording on its way to disk: what the file holds, whatever stops it. */
import { describe, expect, it } from 'vitest';
import { BLOCK_FRAMES } from '../../src/audio/blocks.ts';
import {
  HEADER_BYTES,
  readRecordingHeader,
  recordingHeader,
} from '../../src/audio/recording/recording-header.ts';
import type { RecordingNote } from '../../src/audio/recording/recording-note.ts';
import {
  NoRoom,
  RecordingWriter,
  repairRecording,
  type SyncFile,
} from '../../src/audio/recording/recording-writer.ts';
import { SlabGatherer } from '../../src/audio/recording/slab-gatherer.ts';
import { SLAB_FRAMES, type SlabMessage } from '../../src/audio/recording/slabs.ts';
import { openWav } from '../../src/audio/wav/open-wav.ts';
import { wavRecording } from '../../src/audio/wav/wav-recording.ts';

const SHAPE = { sampleRateHz: 48_000, channelCount: 2 };
const NOTE: RecordingNote = {
  startedAt: '2026-11-25T10:00:00.000Z',
  source: 'Line in “blue”',
  voltsPerFs: 12.5,
  at: ['front-left', 'none'],
  overloads: 0,
  gapFrames: 0,
  ending: 'open',
};

/** A file that takes `room` bytes and then no more. */
class MemoryFile implements SyncFile {
  bytes = new Uint8Array(0);
  isOpen = true;
  readonly #room: number;
  readonly #tellsShort: boolean;
  constructor(room = Number.POSITIVE_INFINITY, tellsShort = true) {
    this.#room = room;
    this.#tellsShort = tellsShort;
  }
  write(bytes: Uint8Array<ArrayBuffer>, { at }: { at: number }): number {
    const taken = Math.min(bytes.length, Math.max(0, this.#room - at));
    const whole = new Uint8Array(Math.max(this.bytes.length, at + taken));
    whole.set(this.bytes);
    whole.set(bytes.subarray(0, taken), at);
    this.bytes = whole;
    return this.#tellsShort ? taken : bytes.length;
  }
  read(into: Uint8Array<ArrayBuffer>, { at }: { at: number }): number {
    const found = this.bytes.subarray(at, at + into.length);
    into.set(found);
    return found.length;
  }
  truncate(size: number): void {
    const whole = new Uint8Array(size);
    whole.set(this.bytes.subarray(0, size));
    this.bytes = whole;
  }
  getSize = () => this.bytes.length;
  flush(): void {}
  close(): void {
    this.isOpen = false;
  }
}

const bytesOf = (bytes: Uint8Array) => ({
  size: bytes.length,
  read: async (offset: number, length: number) => bytes.slice(offset, offset + length),
});

async function samplesIn(bytes: Uint8Array): Promise<Float32Array[]> {
  const recording = wavRecording(await openWav(bytesOf(bytes)));
  return recording.read(0, recording.frames);
}

/** Every sample tells its frame and its channel. */
const sampleAt = (frame: number, channel: number) => (frame + 1) / 8192 - 0.25 * channel;

function slab(startFrame: number, frames: number): Float32Array<ArrayBuffer> {
  return Float32Array.from({ length: 2 * frames }, (_, i) => sampleAt(startFrame + (i >> 1), i % 2));
}

const expected = (frames: number) =>
  [0, 1].map((channel) => Float32Array.from({ length: frames }, (_, frame) => sampleAt(frame, channel)));

describe('RecordingWriter', () => {
  it('writes a WAV that holds the samples bit for bit, and what is known of them', async () => {
    const file = new MemoryFile();
    const writer = new RecordingWriter(file, SHAPE, NOTE);
    writer.write(slab(0, 300), 300, 0);
    writer.write(slab(300, 100), 100, 7);
    writer.finish('stopped');
    expect(await samplesIn(file.bytes)).toEqual(expected(400));
    expect(readRecordingHeader(file.bytes)).toEqual({
      shape: SHAPE,
      note: { ...NOTE, gapFrames: 7, ending: 'stopped' },
      isFinished: true,
    });
    expect(file.isOpen).toBe(false);
    // The sizes that other programs go by: RIFF counts all behind its own eight bytes.
    const view = new DataView(file.bytes.buffer);
    expect(view.getUint32(4, true)).toBe(file.bytes.length - 8);
    expect(view.getUint32(HEADER_BYTES - 4, true)).toBe(400 * 8);
  });

  it('says its sizes are unknown until it ends, and is readable all the same', async () => {
    const file = new MemoryFile();
    new RecordingWriter(file, SHAPE, NOTE).write(slab(0, 50), 50, 0);
    expect(readRecordingHeader(file.bytes)?.isFinished).toBe(false);
    expect(await samplesIn(file.bytes)).toEqual(expected(50));
  });

  it('is repaired after the page died in the middle of a frame: whole frames, sizes filled in, once', async () => {
    const file = new MemoryFile();
    new RecordingWriter(file, SHAPE, NOTE).write(slab(0, 50), 50, 0);
    file.truncate(HEADER_BYTES + 49 * 8 + 3);
    expect(repairRecording(file)).toBe(true);
    expect(readRecordingHeader(file.bytes)).toMatchObject({ isFinished: true, note: { ending: 'repaired' } });
    expect(await samplesIn(file.bytes)).toEqual(expected(49));
    expect(repairRecording(file)).toBe(false);
  });

  it('leaves files that no recorder began alone', () => {
    const file = new MemoryFile();
    file.write(new Uint8Array(5000).fill(7), { at: 0 });
    expect(repairRecording(file)).toBe(false);
    expect(file.bytes.every((byte) => byte === 7)).toBe(true);
  });

  // A browser at its quota was seen to say that everything was written, and to write nothing.
  it.each([true, false])(
    'keeps every whole frame that fitted when the disk is full, and says so (told: %s)',
    async (tells) => {
      const file = new MemoryFile(HEADER_BYTES + 60 * 8 + 5, tells);
      const writer = new RecordingWriter(file, SHAPE, NOTE);
      writer.write(slab(0, 50), 50, 0);
      expect(() => writer.write(slab(50, 50), 50, 0)).toThrow(NoRoom);
      writer.finish('no room');
      expect(writer.frames).toBe(60);
      expect(await samplesIn(file.bytes)).toEqual(expected(60));
    },
  );

  it('says so where not even the header fits', () => {
    expect(() => new RecordingWriter(new MemoryFile(100), SHAPE, NOTE)).toThrow(NoRoom);
  });

  it('counts as overload what stands at full scale for three samples, not a lone crest', () => {
    const writer = new RecordingWriter(new MemoryFile(), { ...SHAPE, channelCount: 1 }, NOTE);
    writer.write(Float32Array.of(0.5, 1, 1, 0.2, -1, -1), 6, 0);
    expect(writer.look()).toMatchObject({ overloads: 0, peak: 1, highestPeak: 1 });
    // The run goes on across blocks.
    writer.write(Float32Array.of(-1, -1, 0.1), 3, 0);
    expect(writer.look().overloads).toBe(1);
    writer.write(Float32Array.of(0.1), 1, 0);
    expect(writer.look()).toMatchObject({ highestPeak: 1 });
    expect(writer.look().peak).toBe(0);
  });

  it('hands out a stretch of what is written while it runs, and nothing beyond', () => {
    const writer = new RecordingWriter(new MemoryFile(), SHAPE, NOTE);
    writer.write(slab(0, 50), 50, 0);
    const stretch = [0, 1].map((channel) =>
      Float32Array.from({ length: 20 }, (_, i) => sampleAt(30 + i, channel)),
    );
    expect(writer.read(30, 20)).toEqual(stretch);
    expect(() => writer.read(30, 21)).toThrow('Frames 30 to 51 were asked for; 50 are recorded.');
  });

  it('states 64-bit sizes past 4 GiB', async () => {
    const frames = 600_000_000;
    const header = recordingHeader(SHAPE, { ...NOTE, ending: 'stopped' }, frames);
    const info = await openWav({ ...bytesOf(header), size: HEADER_BYTES + frames * 8 });
    expect(info).toMatchObject({ frames, dataOffset: HEADER_BYTES, sampleFormat: 'float32' });
  });
});

describe('SlabGatherer', () => {
  function gathering() {
    const sent: SlabMessage[] = [];
    const port = {
      onmessage: null as ((event: { data: unknown }) => void) | null,
      postMessage: (message: SlabMessage) => sent.push({ ...message }),
      close: () => {},
    };
    const gatherer = new SlabGatherer(port as unknown as MessagePort, SHAPE.sampleRateHz, 2);
    const block = (sequence: number, startFrame: number) =>
      gatherer.push({
        sequence,
        startFrame,
        channels: [0, 1].map((channel) =>
          Float32Array.from({ length: BLOCK_FRAMES }, (_, i) => sampleAt(startFrame + i, channel)),
        ),
        facts: { emptyQuanta: 0, missedFrames: 0, notANumber: 0 },
      });
    const slabs = () => sent.filter((message) => message.type === 'slab');
    return { gatherer, block, slabs, sent };
  }

  it('hands on every frame of every block, in order, and the rest at the end', () => {
    const { gatherer, block, slabs, sent } = gathering();
    for (let n = 0; n < 6; n += 1) block(n, 5000 + n * BLOCK_FRAMES);
    gatherer.end(null);
    const all = slabs().flatMap(({ samples, frames }) => [...samples.subarray(0, 2 * frames)]);
    expect(all).toEqual([...slab(5000, 6 * BLOCK_FRAMES)]);
    expect(slabs().map(({ frames }) => frames)).toEqual([SLAB_FRAMES, 2 * BLOCK_FRAMES]);
    expect(sent[0]).toEqual({ type: 'begin', ...SHAPE });
    expect(sent.at(-1)).toEqual({ type: 'end', sentence: null });
  });

  it('puts silence where a block never came, and counts it', () => {
    const { gatherer, block, slabs } = gathering();
    block(0, 0);
    block(2, 2 * BLOCK_FRAMES);
    gatherer.end(null);
    const [only] = slabs();
    expect(only).toMatchObject({ frames: 3 * BLOCK_FRAMES, gapFrames: BLOCK_FRAMES });
    const at = (frame: number) => only?.samples[2 * frame];
    expect(at(BLOCK_FRAMES - 1)).toBe(Math.fround(sampleAt(BLOCK_FRAMES - 1, 0)));
    expect(at(BLOCK_FRAMES)).toBe(0);
    expect(at(2 * BLOCK_FRAMES)).toBe(Math.fround(sampleAt(2 * BLOCK_FRAMES, 0)));
  });
});
