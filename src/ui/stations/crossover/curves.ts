/** All channels together in one picture, each with its pass band at 0 dB. */
import { type Filter, filterResponse } from '../../../dsp/filters/filter-response.ts';
import type { Job } from '../../../job/document.ts';
import type { CrossoverChannel, CrossoverState } from '../../../procedure/crossover/crossover.ts';
import { neighbourCurve, pairsOf } from '../../../procedure/crossover/neighbours.ts';
import { passLevelDb } from '../../../procedure/crossover/sum.ts';
import { type ChartMark, type ChartSeries, type ChartView, FREQUENCY_TICKS } from '../../chart/chart-view.ts';
import { cornerFigure, crossoverRecordsOf } from '../../session/crossover-progress.ts';

const LOWEST_HZ = 15;
const HIGHEST_HZ = 20_000;
const LOWEST_DB = -48;
/** Room for what a sum adds, and for the words of the marks. */
const HIGHEST_DB = 12;
/** A curve of this many points an octave bends as smoothly as a screen shows. */
const POINTS_PER_OCTAVE = 12;

type FoundFilter = { alignment: Filter['alignment'] | null; order: number | null; cutoffHz: number };

interface ShownChannel {
  channel: CrossoverChannel;
  frequenciesHz: readonly number[];
  magnitudesDb: readonly (number | null)[];
  highPass: FoundFilter | null;
  lowPass: FoundFilter | null;
}

/** What was swept in this session, else what the last record holds. */
function shownChannel(
  job: Job,
  state: CrossoverState,
  channel: CrossoverChannel,
): Omit<ShownChannel, 'channel'> | null {
  const measured = state.measured[channel.id];
  if (measured !== undefined) {
    const { transfer } = measured.response;
    return {
      ...{ frequenciesHz: transfer.frequenciesHz, magnitudesDb: transfer.magnitudesDb },
      ...{ highPass: measured.sides.highPass.found, lowPass: measured.sides.lowPass.found },
    };
  }
  const result = crossoverRecordsOf(job, channel.id).at(-1)?.result;
  if (result === undefined) return null;
  const { frequenciesHz, magnitudesDb } = result.curve;
  return { frequenciesHz, magnitudesDb, highPass: result.highPass.found, lowPass: result.lowPass.found };
}

function wholeFilter(kind: Filter['kind'], found: FoundFilter | null): Filter[] {
  if (found === null || found.alignment === null || found.order === null) return [];
  return [{ kind, alignment: found.alignment, order: found.order, cutoffHz: found.cutoffHz }];
}

function normalised(shown: Omit<ShownChannel, 'channel'>): ChartSeries['points'] {
  const filters = [...wholeFilter('high-pass', shown.highPass), ...wholeFilter('low-pass', shown.lowPass)];
  const levels = shown.magnitudesDb.filter((level) => level !== null);
  // Where no filter is known, nothing says what of the curve is pass band; its top is.
  const passDb = filters.length === 0 ? Math.max(...levels) : passLevelDb(shown, filters);
  return shown.frequenciesHz.map((x, index) => {
    const level = shown.magnitudesDb[index];
    const y = level == null ? null : level - passDb;
    // What lies under the picture would draw over its axis.
    return { x, y: y === null || y < LOWEST_DB ? null : y };
  });
}

/** The wanted filters' own curve; `null` where none is wanted whole. */
function wantedCurve({ band, slopes }: CrossoverChannel): ChartSeries | null {
  const filters: Filter[] = [];
  if (band.highPassHz !== null && slopes.highPass !== null) {
    filters.push({ kind: 'high-pass', ...slopes.highPass, cutoffHz: band.highPassHz });
  }
  if (band.lowPassHz !== null && slopes.lowPass !== null) {
    filters.push({ kind: 'low-pass', ...slopes.lowPass, cutoffHz: band.lowPassHz });
  }
  if (filters.length === 0) return null;
  const octaves = Math.log2(HIGHEST_HZ / LOWEST_HZ);
  const points = Array.from({ length: Math.round(octaves * POINTS_PER_OCTAVE) + 1 }, (_, index) => {
    const x = LOWEST_HZ * 2 ** (index / POINTS_PER_OCTAVE);
    const y = filters.reduce((sum, filter) => {
      const { re, im } = filterResponse(filter, x);
      return sum + 20 * Math.log10(Math.hypot(re, im));
    }, 0);
    return { x, y: y < LOWEST_DB ? null : y };
  });
  return { name: 'wanted', shape: 'dashed', tone: 'under', points };
}

function cornerMarks({ highPass, lowPass }: Omit<ShownChannel, 'channel'>): ChartMark[] {
  return [highPass, lowPass].flatMap((found) =>
    found === null
      ? []
      : [
          {
            axis: 'x' as const,
            at: found.cutoffHz,
            words: `${cornerFigure(found.cutoffHz)} Hz`,
            tone: 'ink' as const,
          },
        ],
  );
}

/** Before anything was swept, where the corners should come to lie. */
function wantedMarks(channel: CrossoverChannel | undefined): ChartMark[] {
  return [channel?.band.highPassHz, channel?.band.lowPassHz].flatMap((hertz) =>
    hertz == null
      ? []
      : [
          {
            axis: 'x' as const,
            at: hertz,
            words: `${cornerFigure(hertz)} Hz wanted`,
            tone: 'under' as const,
          },
        ],
  );
}

/** With the first neighbour that was swept: more would hide each other. */
function sumSeries({ task, channelId, measured }: CrossoverState): ChartSeries[] {
  for (const pair of pairsOf(task.channels, channelId)) {
    const points = neighbourCurve(pair, measured, false);
    if (points === null) continue;
    const other = pair.lower.id === channelId ? pair.upper : pair.lower;
    return [
      {
        ...{ name: `sum with ${other.name.toLowerCase()}`, shape: 'solid', tone: 'soft' },
        points: points.map(({ frequencyHz, levelDb }) => ({
          x: frequencyHz,
          y: Math.max(LOWEST_DB, levelDb),
        })),
      },
    ];
  }
  return [];
}

/** The channel on the bench drawn firmly, the others softly, its wanted curve dashed, its corners marked. */
export function responsePicture(job: Job, state: CrossoverState): ChartView {
  const shown = state.task.channels.flatMap((channel) => {
    const one = shownChannel(job, state, channel);
    return one === null ? [] : [{ channel, ...one }];
  });
  const onBench = state.task.channels.find(({ id }) => id === state.channelId);
  const own = shown.find(({ channel }) => channel.id === state.channelId);
  const others = shown.filter((one) => one !== own);
  const wanted = onBench === undefined ? null : wantedCurve(onBench);
  return {
    x: { scale: 'log', unit: 'Hz', lowest: LOWEST_HZ, highest: HIGHEST_HZ, ticks: FREQUENCY_TICKS },
    y: {
      scale: 'linear',
      unit: 'dB',
      lowest: LOWEST_DB,
      highest: HIGHEST_DB,
      ticks: [-48, -36, -24, -12, -6, 0, 6, 12],
    },
    series: [
      ...others.map(
        (one): ChartSeries => ({
          ...{ name: one.channel.name, shape: 'dotted', tone: 'soft' },
          points: normalised(one),
        }),
      ),
      ...sumSeries(state),
      ...(wanted === null ? [] : [wanted]),
      ...(own === undefined
        ? []
        : [
            {
              name: own.channel.name,
              shape: 'solid' as const,
              tone: 'ink' as const,
              points: normalised(own),
            },
          ]),
    ],
    marks: own === undefined ? wantedMarks(onBench) : cornerMarks(own),
  };
}
