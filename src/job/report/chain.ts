/** What is in the vehicle, as planned: drawn, then told part by part. */
import { chainWarnings } from '../chain-warnings.ts';
import type { Job, JobAmplifier, JobChannel, WireRun } from '../document.ts';
import { ohms, volts, watts } from '../format/quantity.ts';
import { loadWords } from '../load-words.ts';
import { outputsUsed } from '../outputs.ts';
import { bandWords, chainPicture, planOrNull } from './chain-picture.ts';
import { entered } from './figures.ts';
import type { Cell, ReportBlock, ReportSection } from './model.ts';
import { amplifierName } from './newest.ts';
import { factsOf, note, tableOf } from './parts.ts';
import { wantedWords } from './slope-words.ts';

const FEEDS = { left: 'left side', right: 'right side', both: 'both sides' } as const;
const TURN_ONS = { 'remote-wire': 'a remote wire', sensing: 'sensing', unknown: 'not noted' } as const;
const MATERIALS = { copper: 'copper', 'copper-clad-aluminium': 'copper-clad aluminium' } as const;

export function wireWords(run: WireRun | null): string {
  if (run === null) return 'not noted';
  return `${entered(run.areaMm2, 'mm²')} ${MATERIALS[run.material]}, ${entered(run.metres, 'm')}`;
}

function sourceFacts({ source, converter, supplyVolts }: Job): ReportBlock {
  const pickup = source.pickup === 'speaker-level' ? 'speaker level' : 'line level';
  const load =
    source.loadResistors === null
      ? 'none'
      : `${ohms(source.loadResistors.ohms)}, ${watts(source.loadResistors.watts)} each`;
  return factsOf([
    [
      'Radio',
      `${source.name}, ${source.volumeSteps === null ? 'volume steps not noted' : `${source.volumeSteps} volume steps`}`,
    ],
    ['Picked up at', `${pickup}, up to ${volts(source.highestVolts)}`],
    ['Load resistors', load],
    ['Converter', converter === null ? 'none' : converterWords(converter)],
    ['Supply at the amplifiers', volts(supplyVolts)],
  ]);
}

function converterWords(converter: NonNullable<Job['converter']>): string {
  const ratio = converter.adjustable ? 'adjustable' : `ratio ${entered(converter.ratioDb, 'dB')}`;
  return `${converter.name}: takes up to ${volts(converter.highestInputVolts)}, ${ratio}, turned on by ${TURN_ONS[converter.turnOn]}`;
}

function ratingWords({ ratings, minimumLoadOhms }: JobAmplifier['perChannel']): string {
  const each = ratings.map((one) => `${watts(one.watts)} into ${ohms(one.loadOhms)}`).join(', ');
  return `${each}; not under ${ohms(minimumLoadOhms)}`;
}

function amplifierRow(job: Job, amplifier: JobAmplifier): Cell[] {
  const { wiring } = amplifier;
  const fuse = wiring === null || wiring.fuseAmps === null ? 'not noted' : entered(wiring.fuseAmps, 'A');
  return [
    amplifier.name,
    `${outputsUsed(job, amplifier.id)} of ${amplifier.channelCount}`,
    amplifier.class ?? 'not noted',
    ratingWords(amplifier.perChannel),
    amplifier.bridged === null ? 'not allowed' : ratingWords(amplifier.bridged),
    `${entered(amplifier.ratedSupplyVolts, 'V')}`,
    `plus ${wireWords(wiring?.positive ?? null)}; ground ${wireWords(wiring?.ground ?? null)}; fuse ${fuse}`,
  ];
}

function channelRow(job: Job, channel: JobChannel): Cell[] {
  const plan = planOrNull(job, channel.id);
  const filters = [channel.slopes.highPass, channel.slopes.lowPass].flatMap((slope) =>
    slope === null ? [] : [wantedWords(slope)],
  );
  return [
    channel.name,
    `${amplifierName(job, channel.amplifierId)}${channel.bridged ? ', bridged' : ''}`,
    `${FEEDS[channel.fedBy]}${channel.summedInputs > 1 ? `, ${channel.summedInputs} inputs summed` : ''}`,
    [bandWords(channel), ...new Set(filters)].join('; '),
    plan === null ? 'this wiring cannot be made' : loadWords(channel.drivers, plan.loadOhms),
    wireWords(channel.speakerRun),
  ];
}

function targetRow(job: Job, channel: JobChannel): Cell[] {
  const plan = planOrNull(job, channel.id);
  return [
    channel.name,
    plan === null ? '—' : ohms(plan.loadOhms),
    watts(plan?.amplifierWatts ?? null),
    watts(plan?.driverWatts ?? null),
    plan?.limitedBy ?? '—',
    volts(plan?.targetVolts ?? null),
    `${entered(channel.overlapDb, 'dB')}`,
    `${entered(channel.tone.frequencyHz, 'Hz')} at ${entered(channel.tone.levelDbfs, 'dBFS')}`,
    volts(plan?.toneVolts ?? null),
  ];
}

function warningNotes(job: Job): ReportBlock[] {
  const ofChain = chainWarnings(job).map(({ sentence, grave }) => note(sentence, grave ? 'grave' : 'plain'));
  const ofChannels = job.channels.flatMap(({ id, name }) =>
    (planOrNull(job, id)?.warnings ?? []).map(({ sentence }) => note(`${name}: ${sentence}`)),
  );
  return [...ofChain, ...ofChannels];
}

export function chainSection(job: Job): ReportSection {
  return {
    id: 'chain',
    heading: 'The chain',
    blocks: [
      {
        type: 'chain',
        words: 'The chain, drawn from the radio to the drivers; the tables below say the same.',
        picture: chainPicture(job),
      },
      sourceFacts(job),
      ...tableOf(
        'Amplifiers',
        ['Amplifier', 'Channels used', 'Class', 'Each channel', 'Two bridged', 'Rated at', 'Supply wires'],
        job.amplifiers.map((amplifier) => amplifierRow(job, amplifier)),
      ),
      ...tableOf(
        'Channels',
        ['Channel', 'Amplifier', 'Fed by', 'Band', 'Drivers', 'Speaker wire'],
        job.channels.map((channel) => channelRow(job, channel)),
      ),
      ...tableOf(
        'Target voltages (RMS)',
        [
          'Channel',
          '#Load',
          '#Amplifier',
          '#Drivers',
          'Limited by',
          '#Target',
          '#Overlap',
          'Setting tone',
          '#Tone must read',
        ],
        job.channels.map((channel) => targetRow(job, channel)),
      ),
      ...warningNotes(job),
    ],
  };
}
