/** What to plug, probe and play before a channel's gain is set, in the order of the hands. */
import type { Job, JobChannel } from '../../../job/document.ts';
import { fixed } from '../../../job/format/number.ts';
import { volts } from '../../../job/format/quantity.ts';
import type { ChannelPlan } from '../../../plan/chain.ts';
import type { GainTask } from '../../../procedure/gain/gain.ts';
import { REDUCED_BY_DB } from '../../../procedure/gain/tone-level.ts';
import { toneFrequency, toneLevel } from '../../format/tone-frequency.ts';
import { planOf } from '../../session/plan-of.ts';

function probeWords(channel: JobChannel): string {
  const where = channel.bridged
    ? 'the two terminals that its bridged pair uses'
    : 'its own two output terminals at the amplifier';
  return `Lead: ${where}, through the divider.`;
}

/** A tone on one of n inputs reads 20 lg(1/n) of what all of them read. */
function oneSideWords({ summedInputs }: JobChannel, plan: ChannelPlan, levelDbfs: number): string {
  if (summedInputs < 2 || plan.toneVolts === null) return '';
  const toneVolts = plan.toneVolts * 10 ** ((levelDbfs - plan.toneDbfs) / 20);
  const lowDb = 20 * Math.log10(summedInputs);
  return ` It sums ${summedInputs} inputs: with the tone on one alone it reads ${volts(toneVolts / summedInputs)}, ${fixed(lowDb, 1)} dB low.`;
}

function toneWords(channel: JobChannel, plan: ChannelPlan, level: GainTask['level']): string {
  const levelDbfs = level === 'planned' ? channel.tone.levelDbfs : -channel.overlapDb - REDUCED_BY_DB;
  const tone = `${toneFrequency(channel.tone.frequencyHz)} at ${toneLevel(levelDbfs)}`;
  if (channel.fedBy === 'both') {
    return `Tone: ${tone} on both sides.${oneSideWords(channel, plan, levelDbfs)}`;
  }
  return `Tone: ${tone} on the ${channel.fedBy} side, balance in the middle.`;
}

/** Three short lines; one where the channel has no target. */
export function beforeChannel(job: Job, channel: JobChannel, level: GainTask['level']): string[] {
  const plan = planOf(job, channel.id);
  if (typeof plan === 'string') return [plan];
  return [
    'Plug: this channel’s speaker pulled, the one before it back on.',
    probeWords(channel),
    toneWords(channel, plan, level),
  ];
}
