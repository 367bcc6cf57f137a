import type { SummedTone } from '../../job/summed-tone.ts';
import type { Target } from '../../plan/target.ts';
import { round } from './decimals.ts';
import type { ChannelFigures, JobFigures } from './job-figures.ts';
import { amplifierFields, speakerRunFields } from './wiring-json.ts';

/** Volts and ohms to 4 decimals, decibels and watts to 3: finer than any meter, and short to read. */
export function targetJson(target: Target): string {
  return document({
    targetVolts: round(target.targetVolts, 4),
    targetPeakVolts: round(target.targetPeakVolts, 4),
    targetDbv: round(target.targetDbv, 3),
    overlapDb: round(target.overlapDb, 3),
    toneDbfs: round(target.toneDbfs, 3),
    toneVolts: round(target.toneVolts, 4),
  });
}

export function jobPlanJson(plan: JobFigures): string {
  return document({
    job: { id: plan.jobId, title: plan.title },
    pass: plan.pass,
    channels: plan.channels.map(channelFields),
    amplifiers: plan.amplifiers.map(amplifierFields),
    warnings: plan.warnings,
  });
}

function channelFields(channel: ChannelFigures) {
  return {
    id: channel.id,
    name: channel.name,
    bridged: channel.bridged,
    loadOhms: round(channel.loadOhms, 4),
    amplifierWatts: round(channel.amplifierWatts, 3),
    driverWatts: round(channel.driverWatts, 3),
    cleanWatts: round(channel.cleanWatts, 3),
    limitedBy: channel.limitedBy,
    targetVolts: round(channel.targetVolts, 4),
    targetPeakVolts: round(channel.targetPeakVolts, 4),
    targetDbv: round(channel.targetDbv, 3),
    overlapDb: round(channel.overlapDb, 3),
    toneHz: channel.toneHz,
    toneDbfs: round(channel.toneDbfs, 3),
    toneVolts: round(channel.toneVolts, 4),
    summed: summedFields(channel.summed),
    speakerRun: speakerRunFields(channel.speakerRun),
    warnings: channel.warnings,
  };
}

function summedFields(summed: SummedTone | null) {
  if (summed === null) return null;
  return {
    inputs: summed.inputs,
    reachesAll: summed.reachesAll,
    partial: summed.partial.map(({ carrying, lossDb, toneVolts }) => ({
      carrying,
      lossDb: round(lossDb, 3),
      toneVolts: round(toneVolts, 4),
    })),
  };
}

function document(content: object): string {
  return `${JSON.stringify(content, null, 2)}\n`;
}
