/** What `measure --json` prints: a contract with other programs, see the help text. */

import type { ChannelReading, ToneReading, ToneUncertainty } from '../../dsp/reading.ts';
import { dbfsToVolts } from '../../plan/units/full-scale.ts';

interface MeasuredTone {
  frequencyHz: number;
  levelDbfs: number;
  levelVolts: number | null;
  thdPercent: number;
  thdPlusNoisePercent: number;
  sinadDb: number;
  noiseDbfs: number;
  harmonicsDbc: (number | null)[];
  /** Standard uncertainties (k = 1) from noise and fit alone. */
  uncertainty: ToneUncertainty;
}

export interface MeasuredChannel {
  index: number;
  levelDbfs: number | null;
  levelVolts: number | null;
  samplePeakDbfs: number | null;
  truePeakDbtp: number | null;
  crestFactorDb: number | null;
  dcFullScale: number;
  tone: MeasuredTone | null;
  clipping: {
    verdict: string;
    side: string | null;
    overdriveDb: number | null;
    kneeVolts: number | null;
    kneeDbfs: number | null;
    /** How the ceiling bends: hard, soft, slew, current; `null` where nothing is clipped or none is plain. */
    shape: string | null;
    /** By how much the fundamental falls short of the undistorted wave. */
    compressionDb: number | null;
    /** Standard uncertainties (k = 1); `null` where the two have no figure. */
    uncertainty: { overdriveDb: number; kneeDb: number } | null;
    evidence: string[];
  };
}

export interface MeasuredFile {
  file: string;
  sampleRateHz: number;
  frames: number;
  durationSeconds: number;
  /** The stretch that the figures are of. */
  measured: { fromSeconds: number; toSeconds: number };
  channels: MeasuredChannel[];
}

export interface MeasureDocument {
  files: MeasuredFile[];
}

/**
 * Decimals that no reading of 24-bit samples can reach; they keep rounding
 * noise of the arithmetic out of the text and lose nothing: a nanohertz, a
 * millionth of a decibel.
 */
const FREQUENCY_DECIMALS = 9;
const DECIBEL_DECIMALS = 6;
const FULL_SCALE_DECIMALS = 10;
const SIGNIFICANT_DIGITS = 9;

/** JSON has no infinity and no NaN: what is not finite was not measured. */
function rounded(value: number | null, decimals: number): number | null {
  if (value === null || !Number.isFinite(value)) return null;
  return Number(value.toFixed(decimals)) + 0;
}

function decibels(value: number): number;
function decibels(value: number | null): number | null;
function decibels(value: number | null): number | null {
  return rounded(value, DECIBEL_DECIMALS);
}

function significant(value: number): number {
  return Number(value.toPrecision(SIGNIFICANT_DIGITS));
}

/** `levelVolts = V * 10^(levelDbfs / 20)`, V being the volts of a full-scale sine. */
function volts(levelDbfs: number | null, voltsPerFs: number | null): number | null {
  if (levelDbfs === null || voltsPerFs === null) return null;
  return significant(dbfsToVolts(levelDbfs, voltsPerFs));
}

function measuredTone(tone: ToneReading, voltsPerFs: number | null): MeasuredTone {
  return {
    frequencyHz: Number(tone.frequencyHz.toFixed(FREQUENCY_DECIMALS)),
    levelDbfs: decibels(tone.levelDbfs),
    levelVolts: volts(tone.levelDbfs, voltsPerFs),
    thdPercent: significant(tone.thdPercent),
    thdPlusNoisePercent: significant(tone.thdPlusNoisePercent),
    sinadDb: decibels(tone.sinadDb),
    noiseDbfs: decibels(tone.noiseDbfs),
    harmonicsDbc: tone.harmonicsDbc.map((harmonic) => decibels(harmonic)),
    uncertainty: measuredUncertainty(tone.uncertainty),
  };
}

function measuredUncertainty(of: ToneUncertainty): ToneUncertainty {
  return {
    levelDb: significant(of.levelDb),
    frequencyHz: significant(of.frequencyHz),
    thdPercent: significant(of.thdPercent),
    thdPlusNoisePercent: significant(of.thdPlusNoisePercent),
    sinadDb: significant(of.sinadDb),
    noiseDb: significant(of.noiseDb),
    harmonicsDb: of.harmonicsDb.map(significant),
  };
}

/** @param voltsPerFs volts RMS of a full-scale sine, or `null`: then every volts field is `null` */
export function measuredChannel(
  index: number,
  reading: ChannelReading,
  voltsPerFs: number | null,
): MeasuredChannel {
  const { clipping } = reading;
  return {
    index,
    levelDbfs: decibels(reading.levelDbfs),
    levelVolts: volts(reading.levelDbfs, voltsPerFs),
    samplePeakDbfs: decibels(reading.samplePeakDbfs),
    truePeakDbtp: decibels(reading.truePeakDbtp),
    crestFactorDb: decibels(reading.crestFactorDb),
    dcFullScale: rounded(reading.dcFullScale, FULL_SCALE_DECIMALS) ?? 0,
    tone: reading.tone === null ? null : measuredTone(reading.tone, voltsPerFs),
    clipping: {
      verdict: clipping.verdict,
      side: clipping.side,
      overdriveDb: decibels(clipping.overdriveDb),
      kneeVolts: volts(clipping.kneeDbfs, voltsPerFs),
      kneeDbfs: decibels(clipping.kneeDbfs),
      shape: clipping.shape,
      compressionDb: decibels(clipping.compressionDb),
      uncertainty: clipping.uncertainty
        ? {
            overdriveDb: significant(clipping.uncertainty.overdriveDb),
            kneeDb: significant(clipping.uncertainty.kneeDb),
          }
        : null,
      evidence: clipping.evidence,
    },
  };
}
