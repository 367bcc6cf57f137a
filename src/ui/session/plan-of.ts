import type { Job } from '../../job/document.ts';
import { planJobChannel } from '../../job/job-plan.ts';
import { JobRefused } from '../../job/refused.ts';
import type { ChannelPlan } from '../../plan/chain.ts';

/** The plan of one channel, or the sentence why there is none. */
export function planOf(job: Job, channelId: string): ChannelPlan | string {
  try {
    return planJobChannel(job, channelId);
  } catch (fault) {
    if (fault instanceof JobRefused) return fault.message;
    throw fault;
  }
}
