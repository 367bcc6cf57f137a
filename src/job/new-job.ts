import { JOB_FORMAT, JOB_VERSION, type Job } from './document.ts';
import { LAYOUTS, type Layout } from './presets/layouts.ts';
import { DEFAULT_TOLERANCES } from './tolerances.ts';

export type JobPreset = keyof typeof LAYOUTS;

/** What can be started from. */
export const JOB_PRESETS: readonly { preset: JobPreset; title: string; sentence: string }[] = Object.entries(
  LAYOUTS,
).map(([preset, { title, sentence }]) => ({ preset: preset as JobPreset, title, sentence }));

export interface NewJob {
  preset: JobPreset;
  id: string;
  /** ISO 8601, UTC. */
  at: string;
  title?: string;
}

/** A job to begin with. Its ratings are common sizes, not those of the parts at hand. */
export function newJob({ preset, id, at, title }: NewJob): Job {
  const layout: Layout = LAYOUTS[preset];
  return {
    format: JOB_FORMAT,
    version: JOB_VERSION,
    id,
    title: title ?? layout.title,
    vehicle: '',
    createdAt: at,
    updatedAt: at,
    source: {
      name: 'Factory radio',
      volumeSteps: null,
      pickup: 'speaker-level',
      loadResistors: null,
      highestVolts: null,
    },
    converter: {
      name: 'Line-output converter',
      highestInputVolts: null,
      adjustable: false,
      ratioDb: null,
      turnOn: 'unknown',
    },
    amplifiers: layout.amplifiers,
    channels: layout.channels,
    supplyVolts: null,
    tolerances: DEFAULT_TOLERANCES,
    records: [],
    signOffs: [],
  };
}
