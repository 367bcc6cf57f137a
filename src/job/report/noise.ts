/** The noise floor with the engine off, idling and revved, and what stands out of it. */
import type { Job } from '../document.ts';
import { fixed, NOTHING } from '../format/number.ts';
import { dbfs, volts } from '../format/quantity.ts';
import type { RecordOf } from '../records.ts';
import { entered, measured, moment, plain } from './figures.ts';
import { insideCell, standingCell } from './marks.ts';
import type { Cell, ReportBlock, ReportChart, ReportLine, ReportSection } from './model.ts';
import { channelName, inChannelOrder, newestOf } from './newest.ts';
import { factsOf, tableOf } from './parts.ts';

type Noise = RecordOf<'noise'>;
type Engine = Noise['result']['worstEngine'];

const ENGINES: Record<Engine, string> = { off: 'engine off', idle: 'idling', revved: 'revved' };
const LINES: Record<Engine, ReportLine> = { off: 'solid', idle: 'dashed', revved: 'dotted' };
const COURSES = {
  follows: 'follows the engine: alternator',
  moves: 'moves with the engine',
  'one-speed': 'heard at one speed only',
  unknown: 'not told',
} as const;
const WAYS_IN = {
  'amplifier-supply': 'through the amplifier’s supply',
  'signal-lead': 'through the signal lead',
  both: 'both ways',
  'not-told': 'way in not told',
} as const;

function placeWords(job: Job, { channelId, place }: Noise['result']): string {
  return place === 'microphone' ? 'by microphone' : `at the terminals of ${channelName(job, channelId)}`;
}

function stateRow(state: Noise['result']['states'][number]): Cell[] {
  return [
    ENGINES[state.engine],
    entered(state.rpm, 'rpm'),
    plain(state.seconds, 's', 1),
    dbfs(state.levelDbfs),
    plain(state.levelDbv, 'dBV', 1),
    plain(state.aWeightedDbv, 'dBV', 1),
    dbfs(state.floorDbfs),
    `${state.clicks}`,
    `${state.dropouts}`,
  ];
}

function standingOut({ ripple, hum, steadyTones }: Noise['result']): Cell[][] {
  const rows: Cell[][] = [];
  if (ripple !== null) {
    const pitch = `${plain(ripple.idleHz, 'Hz', 1)} idling, ${plain(ripple.revvedHz, 'Hz', 1)} revved`;
    rows.push([
      'engine whine',
      pitch,
      dbfs(ripple.levelDbfs),
      plain(ripple.overFloorDb, 'dB', 1),
      `${COURSES[ripple.course]}, ${WAYS_IN[ripple.wayIn]}`,
    ]);
  }
  if (hum !== null) {
    const pitch = measured(hum.fundamentalHz, hum.uncertaintyHz, { unit: 'Hz', decimals: 3 });
    const heard = hum.heardIn.map((engine) => ENGINES[engine]).join(', ');
    rows.push([
      `mains hum (${hum.nominalHz} Hz)`,
      pitch,
      dbfs(hum.levelDbfs),
      plain(hum.overFloorDb, 'dB', 1),
      `${heard}, ${WAYS_IN[hum.wayIn]}`,
    ]);
  }
  for (const tone of steadyTones) {
    rows.push([
      'steady tone',
      plain(tone.fundamentalHz, 'Hz', 1),
      dbfs(tone.levelDbfs),
      plain(tone.overFloorDb, 'dB', 1),
      tone.heard === 'always' ? 'always' : 'with the engine running',
    ]);
  }
  return rows;
}

function octaveChart(where: string, { states }: Noise['result']): ReportChart[] {
  const series = states
    .filter(({ octaves }) => octaves.length > 1)
    .map(({ engine, octaves }) => ({
      name: ENGINES[engine],
      line: LINES[engine],
      points: octaves.map(({ nominalHz, levelDbfs }) => ({ x: nominalHz, y: levelDbfs })),
    }));
  const levels = series.flatMap(({ points }) => points.flatMap(({ y }) => (y === null ? [] : [y])));
  if (levels.length === 0) return [];
  return [
    {
      type: 'chart',
      title: `Noise drawn by octaves, ${where}`,
      words: `Level in each octave, ${series.map(({ name }) => name).join(', ')}; the table below holds the figures.`,
      x: { scale: 'log', title: 'Hz', lowest: 20, highest: 20_000 },
      y: {
        scale: 'linear',
        title: 'dBFS in an octave',
        lowest: 10 * Math.floor((Math.min(...levels) - 1) / 10),
        highest: 10 * Math.ceil((Math.max(...levels) + 1) / 10),
      },
      series,
      marks: [],
    },
  ];
}

function octaveRows({ states }: Noise['result']): Cell[][] {
  const centres = [...new Set(states.flatMap(({ octaves }) => octaves.map(({ nominalHz }) => nominalHz)))];
  return centres
    .toSorted((a, b) => a - b)
    .map((nominalHz) => [
      `${nominalHz} Hz`,
      ...states.map(({ octaves }) => {
        const octave = octaves.find((one) => one.nominalHz === nominalHz);
        if (octave === undefined) return NOTHING;
        return measured(octave.levelDbfs, octave.uncertaintyDb, { unit: 'dBFS', decimals: 1 });
      }),
    ]);
}

function blocksOf(job: Job, record: Noise): ReportBlock[] {
  const { result } = record;
  const where = placeWords(job, result);
  const below = measured(result.belowTargetDb, result.belowTargetUncertaintyDb, { unit: 'dB', decimals: 1 });
  return [
    factsOf([
      ['Noise', `${where}, ${moment(record.at)}`],
      [
        'Below the target',
        `${below} (target ${volts(result.targetVolts)}), loudest ${ENGINES[result.worstEngine]}`,
      ],
      ['Asked for', `at least ${fixed(result.toleranceDb, 0)} dB`],
      ['Judgement', insideCell(result.inside)],
      ['State', standingCell(job, record)],
    ]),
    ...tableOf(
      `Noise by state of the engine, ${where}`,
      [
        'Engine',
        '#Speed',
        '#Length',
        '#Level at the input',
        '#At the terminals',
        '#A-weighted',
        '#Lines taken out',
        '#Clicks',
        '#Dropouts',
      ],
      result.states.map(stateRow),
    ),
    ...tableOf(
      `What stands out of the noise, ${where}`,
      ['What', '#Pitch', '#Level', '#Over the floor', 'How'],
      standingOut(result),
    ),
    ...octaveChart(where, result),
    ...tableOf(
      `Noise in octaves, ${where}`,
      ['Octave', ...result.states.map(({ engine }) => `#${ENGINES[engine]}`)],
      octaveRows(result),
    ),
  ];
}

export function noiseSection(job: Job): ReportSection {
  const newest = newestOf(job, 'noise', ({ result }) => `${result.place} ${result.channelId}`);
  const records = inChannelOrder(job, newest, ({ result }) => result.channelId);
  return {
    id: 'noise',
    heading: 'Quiet: noise and engine',
    blocks: records.flatMap((record) => blocksOf(job, record)),
  };
}
