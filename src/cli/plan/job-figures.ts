import type { Job } from '../../job/document.ts';
import { planJobChannel } from '../../job/job-plan.ts';
import { planJobSpeakerRun } from '../../job/wiring-plan.ts';
import type { ChannelPlan } from '../../plan/chain.ts';
import type { SpeakerRunCost } from '../../plan/supply/speaker-run.ts';
import { type AmplifierFigures, amplifierFigures } from './wiring-figures.ts';

export interface ChannelFigures extends ChannelPlan {
  id: string;
  name: string;
  bridged: boolean;
  toneHz: number;
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
}

/**
 * Every channel's plan and every amplifier's wiring, in the job's order.
 * @throws JobRefused where a channel's chain or a wire cannot exist
 */
export function jobFigures(job: Job): JobFigures {
  const channels = job.channels.map((channel) => ({
    id: channel.id,
    name: channel.name,
    bridged: channel.bridged,
    toneHz: channel.tone.frequencyHz,
    speakerRun: planJobSpeakerRun(job, channel.id),
    ...planJobChannel(job, channel.id),
  }));
  return {
    jobId: job.id,
    title: job.title,
    pass: channels.every(canBeConnected),
    channels,
    amplifiers: amplifierFigures(job),
  };
}

function canBeConnected(plan: ChannelPlan): boolean {
  const forbidden = plan.warnings.some(
    ({ kind }) => kind === 'load-under-minimum' || kind === 'bridging-not-allowed',
  );
  return plan.targetVolts !== null && !forbidden;
}
