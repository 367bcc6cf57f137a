import type { Job } from '../../job/document.ts';
import { planJobChannel } from '../../job/job-plan.ts';
import type { ChannelPlan } from '../../plan/chain.ts';

export interface ChannelFigures extends ChannelPlan {
  id: string;
  name: string;
  bridged: boolean;
  toneHz: number;
}

export interface JobFigures {
  jobId: string;
  title: string;
  /** False where a channel has no target or its maker forbids the connection. */
  pass: boolean;
  channels: ChannelFigures[];
}

/**
 * Every channel's plan, in the job's order.
 * @throws JobRefused where a channel's chain cannot exist
 */
export function jobFigures(job: Job): JobFigures {
  const channels = job.channels.map((channel) => ({
    id: channel.id,
    name: channel.name,
    bridged: channel.bridged,
    toneHz: channel.tone.frequencyHz,
    ...planJobChannel(job, channel.id),
  }));
  return { jobId: job.id, title: job.title, pass: channels.every(canBeConnected), channels };
}

function canBeConnected(plan: ChannelPlan): boolean {
  const forbidden = plan.warnings.some(
    ({ kind }) => kind === 'load-under-minimum' || kind === 'bridging-not-allowed',
  );
  return plan.targetVolts !== null && !forbidden;
}
