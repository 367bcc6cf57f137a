import type { Target } from '../../plan/target.ts';
import { figure, formatTable } from '../table.ts';
import type { ChannelFigures, JobFigures } from './job-figures.ts';
import { wiringTables, wiringWarningLines } from './wiring-text.ts';

const REDUCED_LEVEL_FIRST =
  'Caution: test tones at full power heat coils within seconds and harm hearing; disconnect drivers or set with a reduced level first.';

/** One target as a table for people. */
export function targetText(target: Target): string {
  const table = formatTable(
    ['target V', 'peak V', 'dBV', 'overlap dB', 'tone dBFS', 'tone reads V'],
    [
      [
        figure(target.targetVolts, 3),
        figure(target.targetPeakVolts, 3),
        figure(target.targetDbv, 2),
        figure(target.overlapDb, 1),
        figure(target.toneDbfs, 1),
        figure(target.toneVolts, 3),
      ],
    ],
  );
  return `${table}\n${REDUCED_LEVEL_FIRST}\n`;
}

const HEADER = [
  'channel',
  'load ohm',
  'amplifier W',
  'drivers W',
  'limited by',
  'target V',
  'peak V',
  'dBV',
  'overlap dB',
  'tone Hz',
  'tone dBFS',
  'tone reads V',
];

const WIRING_FIRST =
  "Caution: disconnect the battery's negative before wiring, follow the vehicle maker's waiting time near airbags, and fuse the supply close to the battery.";

/** Every channel's figures and every amplifier's wiring, then the warnings, part by part. */
export function jobPlanText(plan: JobFigures): string {
  const warnings = [
    ...plan.warnings.map(({ sentence }) => sentence),
    ...plan.channels.flatMap((channel) =>
      channel.warnings.map((warning) => `${channel.name}: ${warning.sentence}`),
    ),
    ...wiringWarningLines(plan),
  ];
  const summed = plan.channels.flatMap((channel) => channel.summedSentence ?? []);
  const parts = [
    `${plan.title}\n`,
    formatTable(HEADER, plan.channels.map(row)),
    ...wiringTables(plan),
    summed.length > 0 ? `Summed inputs\n${summed.map((line) => `- ${line}`).join('\n')}\n` : '',
    warnings.length > 0 ? `Warnings\n${warnings.map((line) => `- ${line}`).join('\n')}\n` : '',
    `${REDUCED_LEVEL_FIRST}\n${WIRING_FIRST}\n`,
  ];
  return parts.filter((part) => part !== '').join('\n');
}

function row(channel: ChannelFigures): string[] {
  return [
    channel.bridged ? `${channel.name} (bridged)` : channel.name,
    figure(channel.loadOhms, 2),
    figure(channel.amplifierWatts, 0),
    figure(channel.driverWatts, 0),
    channel.limitedBy ?? '-',
    figure(channel.targetVolts, 2),
    figure(channel.targetPeakVolts, 2),
    figure(channel.targetDbv, 2),
    figure(channel.overlapDb, 1),
    String(channel.toneHz),
    figure(channel.toneDbfs, 1),
    figure(channel.toneVolts, 3),
  ];
}
