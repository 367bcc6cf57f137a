/** Curves of two visits over each other: the earlier dashed, the later solid or dotted. */
import type { Job } from '../../../job/document.ts';
import type { RecordOf } from '../../../job/records.ts';
import { type ChartSeries, type ChartView, FREQUENCY_TICKS } from '../../chart/chart-view.ts';
import { recordsOf } from '../../session/channel-progress.ts';
import { crossoverRecordsOf } from '../../session/crossover-progress.ts';

export interface Overlay {
  id: string;
  title: string;
  words: string;
  view: ChartView;
}

/** Far below what a filter's picture is looked at for. */
const LOWEST_DB = -48;
/** Less distortion than any input shows, so that a zero has its place on a logarithmic axis. */
const LEAST_PERCENT = 0.0005;

type Channel = Job['channels'][number];

function response(record: RecordOf<'crossover'>): ChartSeries['points'] {
  const { frequenciesHz, magnitudesDb } = record.result.curve;
  return frequenciesHz.map((x, index) => {
    const y = magnitudesDb[index] ?? null;
    return { x, y: y === null || y < LOWEST_DB ? null : y };
  });
}

function kneeTrace(record: RecordOf<'gain'>): ChartSeries['points'] {
  return record.result.trace
    .flatMap(({ volts, thdPercent }) =>
      volts === null ? [] : [{ x: volts, y: Math.max(thdPercent, LEAST_PERCENT) }],
    )
    .sort((a, b) => a.x - b.x);
}

function responses(then: Job, now: Job, channel: Channel): Overlay[] {
  const { id, name } = channel;
  const [before, after] = [crossoverRecordsOf(then, id).at(-1), crossoverRecordsOf(now, id).at(-1)];
  if (before === undefined || after === undefined || before.id === after.id) return [];
  return [
    {
      id: `response-${id}`,
      title: `Response of the ${name.toLowerCase()}`,
      words: 'Response then, dashed, and now, solid.',
      view: {
        x: { scale: 'log', unit: 'Hz', ticks: FREQUENCY_TICKS },
        y: { scale: 'linear', unit: 'dB' },
        series: [
          { name: 'then', shape: 'dashed', tone: 'under', points: response(before) },
          { name: 'now', shape: 'solid', tone: 'ink', points: response(after) },
        ],
      },
    },
  ];
}

function knees(then: Job, now: Job, channel: Channel): Overlay[] {
  const { id, name } = channel;
  const [before, after] = [recordsOf(then, id).at(-1), recordsOf(now, id).at(-1)];
  if (before === undefined || after === undefined || before.id === after.id) return [];
  const [early, late] = [kneeTrace(before), kneeTrace(after)];
  if (early.length === 0 || late.length === 0) return [];
  return [
    {
      id: `knee-${id}`,
      title: `Knee trace of the ${name.toLowerCase()}`,
      words: 'Distortion against voltage then, dashed, and now, dots.',
      view: {
        x: { scale: 'linear', unit: 'V' },
        y: { scale: 'log', unit: 'THD, %' },
        series: [
          { name: 'then', shape: 'dashed', tone: 'under', points: early },
          { name: 'now', shape: 'dots', tone: 'ink', points: late },
        ],
      },
    },
  ];
}

type CheckedSweep = RecordOf<'check'>['result']['parts'][number];

/** The newest check's sweep at a channel's terminals, and the record that it is of. */
function checkedSweep(job: Job, channelId: string): { recordId: string; part: CheckedSweep } | null {
  for (const record of job.records.toReversed()) {
    if (record.kind !== 'check') continue;
    const part = record.result.parts.find((one) => one.kind === 'sweep' && one.channel === channelId);
    if (part !== undefined && part.verdict !== 'missing') return { recordId: record.id, part };
  }
  return null;
}

function sweptPoints({ reading }: CheckedSweep): ChartSeries['points'] {
  const { frequenciesHz, magnitudesDb } = reading;
  if (!Array.isArray(frequenciesHz) || !Array.isArray(magnitudesDb)) return [];
  return frequenciesHz.flatMap((x, index) => {
    const y = magnitudesDb[index];
    if (typeof x !== 'number') return [];
    return [{ x, y: typeof y === 'number' && y >= LOWEST_DB ? y : null }];
  });
}

function checkedResponses(then: Job, now: Job, { id, name }: Channel): Overlay[] {
  const [before, after] = [checkedSweep(then, id), checkedSweep(now, id)];
  if (before === null || after === null || before.recordId === after.recordId) return [];
  return [
    {
      id: `checked-response-${id}`,
      title: `Response of the ${name.toLowerCase()}, by the run track`,
      words: 'Response then, dashed, and now, solid; the radio is in both.',
      view: {
        x: { scale: 'log', unit: 'Hz', ticks: FREQUENCY_TICKS },
        y: { scale: 'linear', unit: 'dB' },
        series: [
          { name: 'then', shape: 'dashed', tone: 'under', points: sweptPoints(before.part) },
          { name: 'now', shape: 'solid', tone: 'ink', points: sweptPoints(after.part) },
        ],
      },
    },
  ];
}

/** What there is to lay over each other: what was recorded at both visits, and anew. */
export function overlaysOf(then: Job, now: Job): Overlay[] {
  return now.channels.flatMap((channel) => [
    ...responses(then, now, channel),
    ...checkedResponses(then, now, channel),
    ...knees(then, now, channel),
  ]);
}
