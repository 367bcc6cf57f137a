/** What the job accepts, and why. */
import type { Job, Tolerances } from '../document.ts';
import { TOLERANCE_REASONS } from '../tolerances.ts';
import { entered } from './figures.ts';
import type { Cell, ReportSection } from './model.ts';
import { tableOf } from './parts.ts';

const WORDS: Record<keyof Tolerances, { what: string; unit: string }> = {
  cornerPercent: { what: 'Corner of a filter, off by at most', unit: '%' },
  balanceDb: { what: 'Left against right, at most', unit: 'dB' },
  arrivalMs: { what: 'Arrival against each other, at most', unit: 'ms' },
  noiseDb: { what: 'Noise below the target, at least', unit: 'dB' },
  groundVolts: { what: 'Drop on the ground leg, at most', unit: 'V' },
  supplyDropVolts: { what: 'Drop on both supply wires, at most', unit: 'V' },
};

export function tolerancesSection(job: Job): ReportSection {
  const ofJob = (Object.keys(WORDS) as (keyof Tolerances)[]).map((name): Cell[] => [
    WORDS[name].what,
    entered(job.tolerances[name], WORDS[name].unit),
    TOLERANCE_REASONS[name],
  ]);
  const ofGains = job.channels.map(({ name, toleranceDb }): Cell[] => [
    `Gain of ${name}, off its aim by at most`,
    entered(toleranceDb, 'dB'),
    'Set in the plan for this channel.',
  ]);
  return {
    id: 'tolerances',
    heading: 'Tolerances',
    blocks: tableOf('What this job accepts', ['What', '#Limit', 'Reason'], [...ofJob, ...ofGains]),
  };
}
