import { expect, it, vi } from 'vitest';
import { AnalysisHost } from '../../src/audio/analysis/analysis-host.ts';
import type { AnalysisReport, BlockMessage, RecycleMessage } from '../../src/audio/blocks.ts';
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
          channels: [new Float32Array(1024).fill(0.1)],
          facts: { longestZeroRun: 0, emptyQuanta: 0, missedFrames: 0, notANumber: 0 },
        },
      });
  };
  const readings = () => reports.filter((report) => report.type === 'reading');
  return { host, attach, push, reports, readings, returned, port };
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
