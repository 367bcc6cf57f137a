import { describe, expect, it, vi } from 'vitest';
import { AnalysisHost } from '../../src/audio/analysis/analysis-host.ts';
import type { AnalysisReport, BlockMessage, RecycleMessage } from '../../src/audio/blocks.ts';
import type { SlabMessage } from '../../src/audio/recording/slabs.ts';
import { AUDIO_BAND, type ChannelReading } from '../../src/dsp/reading.ts';

const RATE_HZ = 44_100;

const SILENT: ChannelReading = {
  levelDbfs: null,
  samplePeakDbfs: null,
  truePeakDbtp: null,
  crestFactorDb: null,
  dcFullScale: 0,
  tone: null,
  clipping: {
    verdict: 'undecided',
    side: null,
    overdriveDb: null,
    kneeDbfs: null,
    shape: null,
    compressionDb: null,
    uncertainty: null,
    evidence: [],
  },
};

/** Tells each frame from every other one. */
const sampleAt = (frame: number) => (frame % 4096) / 8192 + 0.1;

/** A host with a port that notes what it is handed, a reader that takes `tookMs`, and a clock to match. */
function hosting(analyse: () => ChannelReading = () => SILENT, tookMs = () => 0) {
  const reports: AnalysisReport[] = [];
  const returned: { message: RecycleMessage; transfer: ArrayBuffer[] }[] = [];
  let nowMs = 0;
  const makeReader = () => ({
    analyse: () => {
      nowMs += tookMs();
      return analyse();
    },
  });
  const host = new AnalysisHost(
    (report) => reports.push(report),
    makeReader,
    () => nowMs,
  );
  const port = {
    onmessage: null as ((event: { data: BlockMessage }) => void) | null,
    postMessage: (message: RecycleMessage, transfer: ArrayBuffer[]) =>
      returned.push({ message: { ...message }, transfer: [...transfer] }),
    close: vi.fn(),
  };
  const attach = () =>
    host.obey({
      type: 'attach',
      sampleRateHz: RATE_HZ,
      channelCount: 1,
      band: AUDIO_BAND,
      warmUpSeconds: 0,
      port: port as unknown as MessagePort,
    });
  let sequence = 0;
  const push = (count: number) => {
    for (let i = 0; i < count; i++, sequence++)
      port.onmessage?.({
        data: {
          type: 'block',
          sequence,
          startFrame: 1024 * sequence,
          channels: [Float32Array.from({ length: 1024 }, (_, i) => sampleAt(1024 * sequence + i))],
          facts: { longestZeroRun: 0, emptyQuanta: 0, missedFrames: 0, notANumber: 0 },
        },
      });
  };
  const readings = () => reports.filter((report) => report.type === 'reading');
  /** The source's next block never arrives. */
  const skip = () => {
    sequence += 1;
  };
  return { host, attach, push, skip, reports, readings, returned, port };
}

it('says that it is attached before the first reading, and gives every buffer back', () => {
  const { attach, push, reports, returned } = hosting();
  attach();
  push(40);
  expect(reports[0]).toEqual({ type: 'attached' });
  expect(reports[1]?.type).toBe('reading');
  expect(returned).toHaveLength(40);
  for (const { message, transfer } of returned) {
    expect(message.type).toBe('recycle');
    expect(transfer).toEqual([message.channels[0]?.buffer]);
  }
});

it('on a slow machine reads less often, yet takes every block; and recovers', () => {
  let slow = true;
  const { attach, push, readings, returned } = hosting(
    () => SILENT,
    () => (slow ? 90 : 1),
  );
  attach();
  push(430);
  // 10 s at 90 ms each: readings no closer than 150 ms.
  expect(readings().length).toBeLessThan(70);
  expect(readings().length).toBeGreaterThan(50);
  expect(returned).toHaveLength(430);
  slow = false;
  push(430);
  const before = readings().length;
  push(430);
  expect(readings().length - before).toBeGreaterThan(150);
});

it('reports a failure of the analysis once, and stops', () => {
  const { attach, push, reports, port } = hosting(() => {
    throw new Error('no such thing as a window of nothing');
  });
  attach();
  push(100);
  expect(reports.filter((report) => report.type === 'failed')).toEqual([
    { type: 'failed', sentence: 'no such thing as a window of nothing' },
  ]);
  expect(port.close).toHaveBeenCalledOnce();
});

it('what was configured before a source is attached holds for it', () => {
  const { host, attach, push, readings } = hosting();
  host.obey({ type: 'configure', standingDoubts: ['page-hidden'] });
  attach();
  push(40);
  expect(readings().at(-1)).toMatchObject({ reading: { doubts: ['page-hidden'] } });
});

it('after detach says nothing more', () => {
  const { host, attach, push, reports } = hosting();
  attach();
  push(20);
  const before = reports.length;
  host.obey({ type: 'detach' });
  push(20);
  expect(reports).toHaveLength(before);
});

describe('a take', () => {
  it('holds the next frames whole, whatever their place in the blocks, and says where they lay', () => {
    const { host, attach, push, reports } = hosting();
    attach();
    push(3);
    host.obey({ type: 'take', id: 7, frames: 2500, fromFrame: 0 });
    push(2);
    expect(reports.some((report) => report.type === 'take')).toBe(false);
    push(1);
    const report = reports.find((one) => one.type === 'take');
    expect(report).toMatchObject({ id: 7, take: { sampleRateHz: RATE_HZ, startFrame: 3072, doubts: [] } });
    const expected = Float32Array.from({ length: 2500 }, (_, i) => sampleAt(3072 + i));
    expect(report?.take.channels).toEqual([expected]);
  });

  it('passes by what was made before the frame that was asked for', () => {
    const { host, attach, push, reports } = hosting();
    attach();
    push(3);
    // What is on its way already was made before the tone was turned on.
    host.obey({ type: 'take', id: 1, frames: 1024, fromFrame: 5 * 1024 });
    push(2);
    expect(reports.some((report) => report.type === 'take')).toBe(false);
    push(1);
    expect(reports.find((one) => one.type === 'take')?.take.startFrame).toBe(5 * 1024);
  });

  it('carries what is known against the source, and a lost block as a gap', () => {
    const { host, attach, push, skip, reports } = hosting();
    host.obey({ type: 'configure', standingDoubts: ['processing-on'] });
    attach();
    push(1);
    host.obey({ type: 'take', id: 1, frames: 4096, fromFrame: 0 });
    push(2);
    skip();
    push(2);
    expect(reports.find((one) => one.type === 'take')?.take.doubts).toEqual(['processing-on', 'gap']);
  });

  it('is given up with a sentence: without a source, at another take, when dropped, when the source closes', () => {
    const { host, attach, push, reports } = hosting();
    const lost = () =>
      reports.flatMap((one) => (one.type === 'take-lost' ? [`${one.id}: ${one.sentence}`] : []));
    host.obey({ type: 'take', id: 1, frames: 9000, fromFrame: 0 });
    attach();
    push(1);
    host.obey({ type: 'take', id: 2, frames: 9000, fromFrame: 0 });
    host.obey({ type: 'take', id: 3, frames: 9000, fromFrame: 0 });
    host.obey({ type: 'drop-take' });
    host.obey({ type: 'take', id: 4, frames: 9000, fromFrame: 0 });
    push(1);
    host.obey({ type: 'detach' });
    expect(lost()).toEqual([
      '1: Nothing is heard: open an input first.',
      '2: Another recording was begun.',
      '3: It was stopped.',
      '4: The input was closed.',
    ]);
    expect(reports.some((one) => one.type === 'take')).toBe(false);
  });
});

describe('a recording', () => {
  it('gets every block from its beginning on, and is told why it ends when the input is closed', () => {
    const { host, attach, push } = hosting();
    const sent: SlabMessage[] = [];
    const port = { postMessage: (message: SlabMessage) => sent.push(message), close: vi.fn() };
    attach();
    push(3);
    host.obey({ type: 'record', port: port as unknown as MessagePort });
    push(5);
    host.obey({ type: 'detach' });
    const slabs = sent.filter((message) => message.type === 'slab');
    const samples = slabs.flatMap(({ samples, frames }) => [...samples.subarray(0, frames)]);
    const first = 3 * 1024;
    expect(samples).toEqual([...Float32Array.from({ length: 5 * 1024 }, (_, i) => sampleAt(first + i))]);
    expect(sent.at(-1)).toEqual({ type: 'end', sentence: expect.stringContaining('The input was closed') });
    expect(port.close).toHaveBeenCalledOnce();
  });

  it('ends at once, with the reason, where nothing is heard', () => {
    const { host } = hosting();
    const sent: SlabMessage[] = [];
    const port = { postMessage: (message: SlabMessage) => sent.push(message), close: vi.fn() };
    host.obey({ type: 'record', port: port as unknown as MessagePort });
    expect(sent).toEqual([{ type: 'end', sentence: 'Nothing is heard: open an input first.' }]);
  });
});
