import { type ChainWarning, chainWarnings } from '../../job/chain-warnings.ts';
import type { Job, JobChannel } from '../../job/document.ts';
import { planJobChannel } from '../../job/job-plan.ts';
import { type SummedTone, summedSentence, summedTone } from '../../job/summed-tone.ts';
import { planJobSpeakerRun } from '../../job/wiring-plan.ts';
import type { ChannelPlan } from '../../plan/chain.ts';
import type { SpeakerRunCost } from '../../plan/supply/speaker-run.ts';
import { type AmplifierFigures, amplifierFigures } from './wiring-figures.ts';

export interface ChannelFigures extends ChannelPlan {
  id: string;
  name: string;
  bridged: boolean;
  toneHz: number;
  /** What it reads where not all of its summed inputs carry the tone; `null` where nothing is summed. */
  summed: SummedTone | null;
  summedSentence: string | null;
  /** `null` where the run is not noted. */
  speakerRun: SpeakerRunCost | null;
}

export interface JobFigures {
  jobId: string;
  title: string;
  /** False where a channel has no target or its maker forbids the connection. */
  pass: boolean;
  channels: ChannelFigures[];
  amplifiers: AmplifierFigures[];
  /** What is to be said of the chain beyond its single channels. */
  warnings: ChainWarning[];
}

/**
 * Every channel's plan and every amplifier's wiring, in the job's order.
 * @throws JobRefused where a channel's chain or a wire cannot exist
 */
export function jobFigures(job: Job): JobFigures {
  const channels = job.channels.map((channel) => channelFigures(job, channel));
  return {
    jobId: job.id,
    title: job.title,
    pass: channels.every(canBeConnected),
    channels,
    amplifiers: amplifierFigures(job),
    warnings: chainWarnings(job),
  };
}

function channelFigures(job: Job, channel: JobChannel): ChannelFigures {
  const plan = planJobChannel(job, channel.id);
  return {
    id: channel.id,
    name: channel.name,
    bridged: channel.bridged,
    toneHz: channel.tone.frequencyHz,
    summed: summedTone(channel, plan.toneVolts),
    summedSentence: summedSentence(channel, plan.toneVolts),
    speakerRun: planJobSpeakerRun(job, channel.id),
    ...plan,
  };
}

function canBeConnected(plan: ChannelPlan): boolean {
  const forbidden = plan.warnings.some(
    ({ kind }) => kind === 'load-under-minimum' || kind === 'bridging-not-allowed',
  );
  return plan.targetVolts !== null && !forbidden;
}
