/**
 * Every live figure that the page publishes, under the names of `measure
 * --json`: what it is, how it is worded, and why it may be missing.
 */

import type { ChannelReading } from '../../dsp/reading.ts';
import { fixed, NOTHING, significant } from '../../job/format/number.ts';
import { dbfs, decibels, hertz, percent, volts } from '../../job/format/quantity.ts';
import { dbfsToVolts } from '../../plan/units/full-scale.ts';

export interface Heard {
  channel: ChannelReading;
  voltsPerFs: number | null;
}

export type FigureName =
  | 'levelDbfs'
  | 'levelVolts'
  | 'samplePeakDbfs'
  | 'truePeakDbtp'
  | 'crestFactorDb'
  | 'dcFullScale'
  | 'frequencyHz'
  | 'thdPercent'
  | 'thdPlusNoisePercent'
  | 'sinadDb'
  | 'noiseDbfs'
  | 'clipping'
  | 'side'
  | 'overdriveDb'
  | 'kneeVolts';

export interface Figure {
  label: string;
  value: (heard: Heard) => number | string | null;
  words: (value: number | string | null) => string;
  /** `data-state` where the reading is sound but this figure cannot be had. */
  missing: (heard: Heard) => string;
}

function inVolts(levelDbfs: number | null, heard: Heard): number | null {
  return levelDbfs === null || heard.voltsPerFs === null ? null : dbfsToVolts(levelDbfs, heard.voltsPerFs);
}

const number =
  (show: (value: number) => string) =>
  (value: number | string | null): string =>
    typeof value === 'number' ? show(value) : NOTHING;
const word = (value: number | string | null): string => (value === null ? NOTHING : String(value));
const silence = () => 'digital-silence';
const noTone = () => 'no-tone';
const notClipped = () => 'not-clipped';
const uncalibrated = (heard: Heard) => (heard.voltsPerFs === null ? 'not-calibrated' : 'no-tone');

export const FIGURES: Record<FigureName, Figure> = {
  levelDbfs: { label: 'Level', value: (h) => h.channel.levelDbfs, words: number(dbfs), missing: silence },
  levelVolts: {
    label: 'Voltage',
    value: (h) => inVolts(h.channel.levelDbfs, h),
    words: number(volts),
    missing: uncalibrated,
  },
  frequencyHz: {
    label: 'Tone',
    value: (h) => h.channel.tone?.frequencyHz ?? null,
    words: number(hertz),
    missing: noTone,
  },
  thdPercent: {
    label: 'THD',
    value: (h) => h.channel.tone?.thdPercent ?? null,
    words: number(percent),
    missing: noTone,
  },
  thdPlusNoisePercent: {
    label: 'THD+N',
    value: (h) => h.channel.tone?.thdPlusNoisePercent ?? null,
    words: number(percent),
    missing: noTone,
  },
  sinadDb: {
    label: 'SINAD',
    value: (h) => h.channel.tone?.sinadDb ?? null,
    words: number((v) => `${fixed(v, 1)} dB`),
    missing: noTone,
  },
  noiseDbfs: {
    label: 'Noise',
    value: (h) => h.channel.tone?.noiseDbfs ?? null,
    words: number((v) => `${fixed(v, 1)} dBFS`),
    missing: noTone,
  },
  clipping: { label: 'Clipping', value: (h) => h.channel.clipping.verdict, words: word, missing: noTone },
  side: { label: 'Clipped side', value: (h) => h.channel.clipping.side, words: word, missing: notClipped },
  overdriveDb: {
    label: 'Overdrive',
    value: (h) => h.channel.clipping.overdriveDb,
    words: number((v) => decibels(v, 2)),
    missing: notClipped,
  },
  kneeVolts: {
    label: 'Knee',
    value: (h) => inVolts(h.channel.clipping.kneeDbfs, h),
    words: number(volts),
    missing: (h) => (h.voltsPerFs === null ? 'not-calibrated' : 'not-clipped'),
  },
  samplePeakDbfs: {
    label: 'Sample peak',
    value: (h) => h.channel.samplePeakDbfs,
    words: number(dbfs),
    missing: silence,
  },
  truePeakDbtp: {
    label: 'True peak',
    value: (h) => h.channel.truePeakDbtp,
    words: number((v) => `${fixed(v, 2)} dBTP`),
    missing: silence,
  },
  crestFactorDb: {
    label: 'Crest factor',
    value: (h) => h.channel.crestFactorDb,
    words: number((v) => `${fixed(v, 2)} dB`),
    missing: silence,
  },
  dcFullScale: {
    label: 'DC',
    value: (h) => h.channel.dcFullScale,
    words: number((v) => `${Math.abs(v) < 0.000_05 ? '0' : significant(v * 100, 2)} % of full scale`),
    missing: silence,
  },
};

export const FIGURE_NAMES = Object.keys(FIGURES) as FigureName[];
