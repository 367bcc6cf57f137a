/** What the drawing writes beside its parts, and says of them to a screen reader. */
import { type ChainWarning, chainWarnings, pickupOf } from '../../../job/chain-warnings.ts';
import type { Job, JobAmplifier, JobChannel } from '../../../job/document.ts';
import { fixed } from '../../../job/format/number.ts';
import { ohms, volts } from '../../../job/format/quantity.ts';
import { loadWords } from '../../../job/load-words.ts';
import { outputsUsed } from '../../../job/outputs.ts';
import { partialWords, summedSentence, summedTone } from '../../../job/summed-tone.ts';
import { planOf } from '../../session/plan-of.ts';

const FEED_WORDS: Record<JobChannel['fedBy'], string> = {
  left: 'left side',
  right: 'right side',
  both: 'both sides',
};

const TURN_ON_WORDS = {
  'remote-wire': 'remote wire',
  sensing: 'wakes by sensing',
  unknown: 'turn-on unknown',
} as const;

export interface ChainSentences {
  source: string;
  converter: string;
  amplifier(amplifier: JobAmplifier): string;
  /** Lines under a channel's wire. */
  underChannel(channel: JobChannel): string[];
  /** Ohms, then volts at full target. */
  figures(channel: JobChannel): [string, string];
  /** The whole channel in one breath. */
  spoken(channel: JobChannel): string;
  /** True where something about this part stands in the way. */
  isWrong(at: ChainWarning['at'] | JobChannel, amplifierId?: string): boolean;
}

function sourceWords(job: Job): string {
  const { volumeSteps } = job.source;
  const { highestVolts } = pickupOf(job);
  const steps = volumeSteps === null ? 'volume steps unknown' : `${volumeSteps} volume steps`;
  return highestVolts === null ? steps : `${steps} · up to ${volts(highestVolts)}`;
}

function converterWords({ converter }: Job): string {
  if (converter === null) return 'No converter';
  const ratio = converter.ratioDb === null ? 'fixed' : `fixed ${fixed(converter.ratioDb, 1)} dB`;
  const takes = converter.highestInputVolts === null ? [] : [`takes ${volts(converter.highestInputVolts)}`];
  return [...takes, converter.adjustable ? 'adjustable' : ratio, TURN_ON_WORDS[converter.turnOn]].join(' · ');
}

function amplifierWords(job: Job, { id, channelCount, class: stage }: JobAmplifier): string {
  const used = `${outputsUsed(job, id)} of ${channelCount} channels used`;
  return stage === null ? used : `${used} · class ${stage}`;
}

function bandWords({ band: { highPassHz, lowPassHz } }: JobChannel): string {
  if (highPassHz !== null && lowPassHz !== null) return `${highPassHz} to ${lowPassHz} Hz`;
  if (highPassHz !== null) return `from ${highPassHz} Hz`;
  return lowPassHz === null ? 'full range' : `to ${lowPassHz} Hz`;
}

/** Everything written and said about one job, its plans worked out once. */
export function chainSentences(job: Job): ChainSentences {
  const warnings = chainWarnings(job);
  const plans = new Map(job.channels.map((channel) => [channel.id, planOf(job, channel.id)]));
  const planned = (channel: JobChannel) => plans.get(channel.id) ?? planOf(job, channel.id);
  const figures = (channel: JobChannel): [string, string] => {
    const plan = planned(channel);
    if (typeof plan === 'string') return ['no load', 'no target'];
    return [ohms(plan.loadOhms), plan.targetVolts === null ? 'no target' : volts(plan.targetVolts)];
  };
  const isWrong: ChainSentences['isWrong'] = (at, amplifierId) => {
    if (typeof at === 'string') {
      return warnings.some(
        (one) => one.grave && one.at === at && (one.amplifierId ?? undefined) === amplifierId,
      );
    }
    const plan = planned(at);
    return typeof plan === 'string' || plan.targetVolts === null;
  };
  return {
    source: sourceWords(job),
    converter: converterWords(job),
    amplifier: (amplifier) => amplifierWords(job, amplifier),
    underChannel(channel) {
      const plan = planned(channel);
      const summed = summedTone(channel, typeof plan === 'string' ? null : plan.toneVolts);
      if (summed === null) return [];
      return [`Tone on ${summed.needed}:`, ...partialWords(summed)];
    },
    figures,
    isWrong,
    spoken(channel) {
      const plan = planned(channel);
      const load = typeof plan === 'string' ? plan : loadWords(channel.drivers, plan.loadOhms);
      const summed = summedSentence(channel, typeof plan === 'string' ? null : plan.toneVolts);
      const fed = `${FEED_WORDS[channel.fedBy]}, ${bandWords(channel)}${channel.bridged ? ', bridged' : ''}`;
      return `${channel.name}: ${fed}; ${load}; target ${figures(channel)[1]}${summed === null ? '' : `. ${summed}`}`;
    },
  };
}
