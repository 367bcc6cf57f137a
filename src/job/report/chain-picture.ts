/** The chain as it is drawn in the report: what stands in each box, and each channel's coils as they are wired. */

import type { ChannelPlan } from '../../plan/chain.ts';
import { driverGroupNetwork } from '../../plan/load/driver-group.ts';
import { PlanRefused } from '../../plan/refused.ts';
import type { Job, JobChannel } from '../document.ts';
import { type CircuitLayout, circuitLayout } from '../drawing/circuit-layout.ts';
import { ohms, volts } from '../format/quantity.ts';
import { planJobChannel } from '../job-plan.ts';
import { JobRefused } from '../refused.ts';

export interface DrawnChannel {
  name: string;
  fedBy: JobChannel['fedBy'];
  isBridged: boolean;
  band: string;
  /** "4 Ω, 17.32 V", or why there is none. */
  load: string;
  coilsEach: number;
  /** `null` where the wiring cannot be made. */
  circuit: CircuitLayout | null;
}

export interface ChainPicture {
  source: { name: string; line: string };
  pickup: { level: string; load: string | null };
  converter: { name: string; line: string } | null;
  amplifiers: { name: string; channels: DrawnChannel[] }[];
}

/** The plan of one channel; `null` where its chain cannot exist. */
export function planOrNull(job: Job, channelId: string): ChannelPlan | null {
  try {
    return planJobChannel(job, channelId);
  } catch (fault) {
    if (fault instanceof JobRefused) return null;
    throw fault;
  }
}

export function bandWords({ band: { highPassHz, lowPassHz } }: Pick<JobChannel, 'band'>): string {
  if (highPassHz !== null && lowPassHz !== null) return `${highPassHz} to ${lowPassHz} Hz`;
  if (highPassHz !== null) return `from ${highPassHz} Hz`;
  return lowPassHz === null ? 'full range' : `to ${lowPassHz} Hz`;
}

function circuitOf({ drivers }: JobChannel): CircuitLayout | null {
  try {
    return circuitLayout(driverGroupNetwork(drivers));
  } catch (fault) {
    if (fault instanceof PlanRefused) return null;
    throw fault;
  }
}

function drawnChannel(job: Job, channel: JobChannel): DrawnChannel {
  const plan = planOrNull(job, channel.id);
  const target = plan === null || plan.targetVolts === null ? 'no target' : volts(plan.targetVolts);
  return {
    name: channel.name,
    fedBy: channel.fedBy,
    isBridged: channel.bridged,
    band: bandWords(channel),
    load: plan === null ? 'no load' : `${ohms(plan.loadOhms)}, ${target}`,
    coilsEach: channel.drivers.coilsEach,
    circuit: circuitOf(channel),
  };
}

export function chainPicture(job: Job): ChainPicture {
  const { source, converter } = job;
  const { loadResistors } = source;
  const isSpeakerLevel = source.pickup === 'speaker-level';
  const load = loadResistors === null ? 'no load' : `${loadResistors.ohms} Ω, ${loadResistors.watts} W`;
  return {
    source: {
      name: source.name,
      line: source.volumeSteps === null ? 'steps unknown' : `${source.volumeSteps} volume steps`,
    },
    pickup: {
      level: isSpeakerLevel ? 'speaker level' : 'line level',
      load: isSpeakerLevel ? load : null,
    },
    converter:
      converter === null
        ? null
        : { name: converter.name, line: converter.adjustable ? 'adjustable' : 'fixed' },
    amplifiers: job.amplifiers.map(({ id, name }) => ({
      name,
      channels: job.channels
        .filter(({ amplifierId }) => amplifierId === id)
        .map((channel) => drawnChannel(job, channel)),
    })),
  };
}
