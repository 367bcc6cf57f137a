/** Levels, polarity and arrival of the channels against each other. */
import type { Job } from '../document.ts';
import { NOTHING } from '../format/number.ts';
import type { RecordOf } from '../records.ts';
import { entered, measured, moment, plain } from './figures.ts';
import { insideCell, markCell, standingCell } from './marks.ts';
import type { Cell, ReportBars, ReportBlock, ReportSection } from './model.ts';
import { channelName, newestOf } from './newest.ts';
import { factsOf, tableOf } from './parts.ts';

type Level = RecordOf<'level'>;

function levelRow(job: Job, one: Level['result']['channels'][number]): Cell[] {
  return [
    channelName(job, one.channelId),
    measured(one.levelDbfs, one.uncertaintyDb, { unit: 'dBFS', decimals: 2 }),
    one.volts === null ? NOTHING : `${plain(one.volts, 'V', 3)}`,
    plain(one.spreadDb, 'dB', 1),
    plain(one.roomDb, 'dB', 1),
    measured(one.trimDb, null, { unit: 'dB', decimals: 1, isDifference: true }),
  ];
}

function pairRow(job: Job, toleranceDb: number, pair: Level['result']['pairs'][number]): Cell[] {
  return [
    `${channelName(job, pair.leftId)} against ${channelName(job, pair.rightId)}`,
    measured(pair.differenceDb, pair.uncertaintyDb, { unit: 'dB', decimals: 2, isDifference: true }),
    `±${toleranceDb} dB`,
    insideCell(pair.inside),
  ];
}

function pairBars(job: Job, { pairs, toleranceDb, way }: Level['result']): ReportBars[] {
  if (pairs.length === 0) return [];
  return [
    {
      type: 'bars',
      title: `Left against right, ${way === 'wire' ? 'by wire' : 'by microphone'}`,
      words: `Difference of each pair in dB, with the allowed ±${toleranceDb} dB.`,
      unit: 'dB',
      bars: pairs.map((pair) => ({
        name: `${channelName(job, pair.leftId)} − ${channelName(job, pair.rightId)}`,
        value: pair.differenceDb,
        figure: measured(pair.differenceDb, null, { unit: 'dB', decimals: 2, isDifference: true }),
        limit: toleranceDb,
      })),
    },
  ];
}

function levelBlocks(job: Job): ReportBlock[] {
  return newestOf(job, 'level', ({ result }) => result.way).flatMap((record) => {
    const { way, weighting, microphoneFile, channels, pairs, toleranceDb } = record.result;
    const how =
      way === 'wire'
        ? 'by wire'
        : `by microphone, weighting ${weighting ?? 'Z'}, ${microphoneFile === undefined ? 'no microphone file' : `microphone file ${microphoneFile}`}`;
    return [
      factsOf([
        ['Levels', `${how}, ${moment(record.at)}`],
        ['State', standingCell(job, record)],
      ]),
      ...tableOf(
        `Levels, ${way === 'wire' ? 'by wire' : 'by microphone'}`,
        ['Channel', '#Level', '#Volts', '#Spread over places', '#Room left', '#Trim'],
        channels.map((one) => levelRow(job, one)),
      ),
      ...tableOf(
        'Left against right',
        ['Pair', '#Difference', '#Allowed', 'Judgement'],
        pairs.map((pair) => pairRow(job, toleranceDb, pair)),
      ),
      ...pairBars(job, record.result),
    ];
  });
}

const POLARITIES = { normal: 'done', reversed: 'out-of-tolerance', 'cannot-tell': 'not-done' } as const;

function polarityBlocks(job: Job): ReportBlock[] {
  return newestOf(job, 'polarity', () => 'vehicle').flatMap((record) => [
    factsOf([
      [
        'Polarity',
        `${record.result.turnedOver ? 'radio or input turns everything over; ' : ''}${moment(record.at)}`,
      ],
      ['State', standingCell(job, record)],
    ]),
    ...tableOf(
      'Polarity',
      ['Channel', 'Verdict', 'As heard', '#Confidence', '#Signal over noise'],
      record.result.channels.map((one) => [
        channelName(job, one.channelId),
        { ...markCell(POLARITIES[one.verdict]), text: one.verdict.replace('-', ' ') },
        one.read,
        `${(100 * one.confidence).toFixed(1)} %`,
        plain(one.signalToNoiseDb, 'dB', 1),
      ]),
    ),
  ]);
}

function arrivalBlocks(job: Job): ReportBlock[] {
  return newestOf(job, 'arrival', () => 'vehicle').flatMap((record) => {
    const { result } = record;
    return [
      factsOf([
        ['Arrival', moment(record.at)],
        [
          'Last against first',
          `${plain(result.worstDifferenceMs, 'ms', 3)}; allowed ${entered(result.toleranceMs, 'ms')}`,
        ],
        ['Together as it is', result.inside ? 'yes' : 'no: the delays below are wanted'],
        ['Air', entered(result.airCelsius, '°C')],
        [
          'Recorder’s clock against the player’s',
          measured(result.skewPpm, result.skewUncertaintyPpm, {
            unit: 'ppm',
            decimals: 1,
            isDifference: true,
          }),
        ],
        ['State', standingCell(job, record)],
      ]),
      ...tableOf(
        `Arrival, and the delay that lets all arrive with ${channelName(job, result.latestId)}`,
        ['Channel', '#After the first', '#Delay', '#As a path', '#In inches'],
        result.channels.map((one) => [
          channelName(job, one.channelId),
          measured(one.arrivalMs, one.uncertaintyMs, { unit: 'ms', decimals: 3 }),
          plain(one.delayMs, 'ms', 2),
          plain(one.delayCm, 'cm', 1),
          plain(one.delayInches, 'in', 1),
        ]),
      ),
    ];
  });
}

export function balanceSection(job: Job): ReportSection {
  return {
    id: 'balance',
    heading: 'Balance: levels, polarity, arrival',
    blocks: [...levelBlocks(job), ...polarityBlocks(job), ...arrivalBlocks(job)],
  };
}
