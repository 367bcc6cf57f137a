/** The parts of the Source station beside the ceiling. */
import type { Job } from '../document.ts';
import { fixed } from '../format/number.ts';
import { dbfs, percent, volts } from '../format/quantity.ts';
import { entered, moment, plain } from './figures.ts';
import { standingCell } from './marks.ts';
import type { ReportBlock } from './model.ts';
import { newestOf } from './newest.ts';
import { factsOf, tableOf } from './parts.ts';

const TONES = ['middle', 'bass', 'treble'] as const;

export function loadBlocks(job: Job): ReportBlock[] {
  return newestOf(job, 'load', ({ result }) => result.side).flatMap((record) => {
    const { side, step, tones, connected, off, change, sensesLoad } = record.result;
    const rows = TONES.flatMap((name) =>
      (
        [
          ['with', connected],
          ['without', off],
        ] as const
      ).map(([how, heard]) => [
        `${name}, ${fixed(tones[name].frequencyHz, 0)} Hz`,
        `${how} the load resistors`,
        dbfs(heard[name].levelDbfs),
        volts(heard[name].volts),
        percent(heard[name].thdPercent),
      ]),
    );
    return [
      factsOf([
        ['Load of the radio', `${side} side, step ${step}, ${moment(record.at)}`],
        ['Does it sense its load?', sensesLoad ? 'yes: it needs the load resistors' : 'no'],
        [
          'Change without them',
          `level ${plain(change.levelDb, 'dB', 2)}, bass ${plain(change.bassDb, 'dB', 2)}, treble ${plain(change.trebleDb, 'dB', 2)}`,
        ],
        ['State', standingCell(job, record)],
      ]),
      ...tableOf(
        `The radio with and without its load resistors, ${side} side`,
        ['Tone', 'Load', '#Level', '#Volts', '#THD'],
        rows,
      ),
    ];
  });
}

const SIDE_WORDS = {
  right: 'each side where it belongs',
  swapped: 'left and right are swapped',
  mono: 'both sides carry the same',
  leaks: 'one side leaks into the other',
  dead: 'a side is dead',
} as const;

export function sidesBlocks(job: Job): ReportBlock[] {
  return newestOf(job, 'sides', ({ result }) => result.point).map((record) => {
    const { point, verdict, separationDb, separationAtLeastDb, balanceDb } = record.result;
    const separation =
      separationDb === null
        ? `at least ${plain(separationAtLeastDb, 'dB', 1)}`
        : plain(separationDb, 'dB', 1);
    return factsOf([
      ['Left and right', `${SIDE_WORDS[verdict]} (at the ${point}), ${moment(record.at)}`],
      ['Separation', separation],
      ['Left against right', plain(balanceDb, 'dB', 2)],
      ['State', standingCell(job, record)],
    ]);
  });
}

export function turnOnBlocks(job: Job): ReportBlock[] {
  return newestOf(job, 'turn-on', () => 'converter').map((record) => {
    const { sleeps, sleepsWithinSeconds, awakeForSeconds, holdingDbfs, keepAliveHz } = record.result;
    return factsOf([
      [
        'Turn-on of the converter',
        `${sleeps ? 'it sleeps in silence' : 'it stays awake'}, ${moment(record.at)}`,
      ],
      ['Shortest silence it slept in', entered(sleepsWithinSeconds, 's')],
      ['Longest silence it stayed awake in', entered(awakeForSeconds, 's')],
      ['Held awake by', `${dbfs(holdingDbfs)} at ${fixed(keepAliveHz, 1)} Hz`],
      ['State', standingCell(job, record)],
    ]);
  });
}
