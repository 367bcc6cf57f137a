/** Whether each filter sits where it should. */
import type { Job } from '../document.ts';
import { fixed, NOTHING, signed } from '../format/number.ts';
import type { RecordOf } from '../records.ts';
import { entered, measured, moment, plain } from './figures.ts';
import { insideCell, standingCell } from './marks.ts';
import type { Cell, ReportChart, ReportSection, ReportSeries } from './model.ts';
import { channelName, inChannelOrder, newestOf } from './newest.ts';
import { tableOf } from './parts.ts';
import { alignmentWords, wantedWords } from './slope-words.ts';

type Crossover = RecordOf<'crossover'>;

const ENDS = [
  ['highPass', 'high-pass'],
  ['lowPass', 'low-pass'],
] as const;

/** Where the picture ends: below lies the noise of most recordings. */
const LOWEST_DB = -60;
const HIGHEST_DB = 20;

function endRows(job: Job, record: Crossover): Cell[][] {
  const { result } = record;
  return ENDS.flatMap(([end, name]) => {
    const { wantedHz, wanted, found, errorPercent, inside } = result[end];
    if (wantedHz === null && found === null) return [];
    return [
      [
        channelName(job, result.channelId),
        name,
        wantedHz === null
          ? 'open'
          : `${entered(wantedHz, 'Hz')}${wanted === null ? '' : `, ${wantedWords(wanted)}`}`,
        found === null
          ? 'none found'
          : `${measured(found.cutoffHz, found.cutoffUncertaintyHz, { unit: 'Hz', decimals: 1 })}`,
        found === null
          ? NOTHING
          : `${alignmentWords(found.alignment)}, ${found.slopeDbPerOctave === null ? 'slope open' : `${fixed(found.slopeDbPerOctave, 0)} dB/octave`}`,
        errorPercent === null ? NOTHING : `${signed(errorPercent, 1)} %`,
        `±${result.tolerancePercent} %`,
        insideCell(inside),
      ],
    ];
  });
}

function stateRow(job: Job, record: Crossover): Cell[] {
  const { result } = record;
  return [
    channelName(job, result.channelId),
    result.verdict,
    plain(result.residualDb, 'dB', 2),
    result.inverted === null ? 'not told' : result.inverted ? 'upside down' : 'upright',
    `${fixed(result.sweep.startHz, 0)} to ${fixed(result.sweep.endHz, 0)} Hz at ${fixed(result.sweep.levelDbfs, 1)} dBFS`,
    result.reference === null
      ? 'nothing'
      : result.reference.way === 'input-plug'
        ? 'the signal at the input plug'
        : 'the same with filters off',
    standingCell(job, record),
    moment(record.at),
  ];
}

function sumRows(job: Job, { result }: Crossover): Cell[][] {
  return result.sums.map(({ lowerId, upperId, meetHz, asWired, turned }) => [
    `${channelName(job, lowerId)} and ${channelName(job, upperId)}`,
    plain(meetHz, 'Hz', 0),
    `${plain(asWired.deepestDb, 'dB', 1)} at ${plain(asWired.deepestHz, 'Hz', 0)}`,
    `${plain(turned.deepestDb, 'dB', 1)} at ${plain(turned.deepestHz, 'Hz', 0)}`,
  ]);
}

function responseChart(name: string, { curve, highPass, lowPass }: Crossover['result']): ReportChart[] {
  if (curve.frequenciesHz.length < 2) return [];
  const points = curve.frequenciesHz.map((x, index) => {
    const y = curve.magnitudesDb[index] ?? null;
    return { x, y: y === null || y < LOWEST_DB || y > HIGHEST_DB ? null : y };
  });
  const series: ReportSeries[] = [{ name: 'measured', line: 'solid', points }];
  const marks = [highPass, lowPass].flatMap(({ found }) =>
    found === null ? [] : [{ axis: 'x' as const, at: found.cutoffHz, words: plain(found.cutoffHz, 'Hz', 1) }],
  );
  return [
    {
      type: 'chart',
      title: `Response, ${name}`,
      words: `${name}: magnitude behind the filters over the reference, corners marked.`,
      x: { scale: 'log', title: 'Hz', lowest: 15, highest: 20_000 },
      y: { scale: 'linear', title: 'dB', ...shownRange(points) },
      series,
      marks,
    },
  ];
}

/** Whole tens around what is shown, at least 40 dB: a flat response is to look flat. */
function shownRange(points: ReportSeries['points']): { lowest: number; highest: number } {
  const levels = points.flatMap(({ y }) => (y === null ? [] : [y]));
  const highest = 10 * Math.ceil((Math.max(0, ...levels) + 2) / 10);
  return { lowest: Math.min(highest - 40, 10 * Math.floor(Math.min(0, ...levels) / 10)), highest };
}

export function crossoverSection(job: Job): ReportSection {
  const newest = newestOf(job, 'crossover', ({ result }) => result.channelId);
  const records = inChannelOrder(job, newest, ({ result }) => result.channelId);
  return {
    id: 'crossover',
    heading: 'Crossover: filters and responses',
    blocks: [
      ...tableOf(
        'Filters wanted and found (corner at −3 dB; Linkwitz-Riley at −6 dB)',
        ['Channel', 'Filter', 'Wanted', '#Corner found', 'Slope found', '#Off by', '#Allowed', 'Judgement'],
        records.flatMap((record) => endRows(job, record)),
      ),
      ...tableOf(
        'How the filters were measured',
        ['Channel', 'Fit', '#Left over', 'Polarity', 'Sweep', 'Divided out', 'State', '@Measured'],
        records.map((record) => stateRow(job, record)),
      ),
      ...tableOf(
        'Handover between neighbours (0 dB: without loss)',
        ['Channels', '#Meet at', '#Deepest as wired', '#With one turned over'],
        records.flatMap((record) => sumRows(job, record)),
      ),
      ...records.flatMap((record) => responseChart(channelName(job, record.result.channelId), record.result)),
    ],
  };
}
