import { figure, formatTable } from '../table.ts';
import type { ChannelFigures, JobFigures } from './job-figures.ts';
import type { AmplifierFigures } from './wiring-figures.ts';

const AMPLIFIER_HEADER = [
  'amplifier',
  'class',
  'all channels W',
  'full sine A',
  'music A',
  'supply drop V',
  'ground drop V',
  'allowed V',
  'advised wire',
  'fuse A',
  'fuse at most A',
];

const SPEAKER_HEADER = ['speaker wire', 'mohm', 'loss dB', 'damping under'];

/** Supply of each amplifier, then the speaker runs that are noted. */
export function wiringTables(plan: JobFigures): string[] {
  const runs = plan.channels.filter((channel) => channel.speakerRun !== null);
  return [
    formatTable(AMPLIFIER_HEADER, plan.amplifiers.map(amplifierRow)),
    runs.length > 0 ? formatTable(SPEAKER_HEADER, runs.map(speakerRow)) : '',
  ];
}

export function wiringWarningLines(plan: JobFigures): string[] {
  return [
    ...plan.amplifiers.flatMap(({ amplifier, plan: { warnings } }) =>
      warnings.map(({ sentence }) => `${amplifier.name}: ${sentence}`),
    ),
    ...plan.channels.flatMap(({ name, speakerRun }) =>
      (speakerRun?.warnings ?? []).map((sentence) => `${name}: ${sentence}`),
    ),
  ];
}

function amplifierRow({ amplifier, plan, outputWatts, allowedDropVolts }: AmplifierFigures): string[] {
  const sizes = [plan.advised.awg?.name, plan.advised.metric?.name].filter((name) => name !== undefined);
  return [
    amplifier.name,
    amplifier.class ?? `${plan.stage} taken`,
    figure(outputWatts, 0),
    figure(plan.fullSine.amperes, 1),
    figure(plan.musicAmperes, 1),
    figure(plan.positive?.dropVolts ?? null, 3),
    figure(plan.ground?.dropVolts ?? null, 3),
    figure(allowedDropVolts, 2),
    sizes.length > 0 ? sizes.join(' or ') : '-',
    figure(amplifier.wiring?.fuseAmps ?? null, 0),
    figure(plan.fuse.wireAmps, 0),
  ];
}

function speakerRow({ name, speakerRun }: ChannelFigures): string[] {
  return [
    name,
    figure(speakerRun === null ? null : speakerRun.wireOhms * 1000, 1),
    figure(speakerRun?.lossDb ?? null, 2),
    figure(speakerRun?.dampingFactorMost ?? null, 0),
  ];
}
