/** Quantities as screen and report word them. `null` is shown as a dash, never as 0. */
import { decimalsFor, fixed, NOTHING, signed, significant } from './number.ts';

/** Coverage factor of every ± shown: about 95 % of a normal distribution (JCGM 100 6.2). */
export const COVERAGE = 2;

/** Decimals of a voltage on the big figure: four digits, at least one decimal. */
function voltDecimals(volts: number): number {
  const size = Math.abs(volts);
  if (size >= 100) return 1;
  if (size >= 1) return 2;
  return 3;
}

export function voltFigure(volts: number | null): string {
  return volts === null ? NOTHING : fixed(volts, voltDecimals(volts));
}

export function volts(value: number | null): string {
  return value === null ? NOTHING : `${voltFigure(value)} V`;
}

/** "±0.11 V" at k = 2; empty without an uncertainty. */
export function plusMinusVolts(standardUncertainty: number | null): string {
  if (standardUncertainty === null) return '';
  const expanded = standardUncertainty * COVERAGE;
  return `±${fixed(expanded, Math.min(decimalsFor(expanded), 4))} V`;
}

/** A relative uncertainty in dB (k = 1) as "±0.7 %" (k = 2). */
export function plusMinusPercent(standardDb: number): string {
  const percent = (10 ** ((standardDb * COVERAGE) / 20) - 1) * 100;
  return `±${fixed(percent, Math.min(decimalsFor(percent), 3))} %`;
}

export function decibels(value: number | null, decimals = 1): string {
  return value === null ? NOTHING : `${signed(value, decimals)} dB`;
}

export function dbfs(value: number | null): string {
  return value === null ? NOTHING : `${fixed(value, 2)} dBFS`;
}

export function hertz(value: number | null): string {
  if (value === null) return NOTHING;
  return `${value >= 1000 ? fixed(value, 1) : fixed(value, value >= 100 ? 1 : 2)} Hz`;
}

export function percent(value: number | null): string {
  if (value === null) return NOTHING;
  if (value < 0.001) return '< 0.001 %';
  return `${significant(value, 2)} %`;
}

export function ohms(value: number): string {
  return `${Number(value.toPrecision(3))} Ω`;
}

export function watts(value: number | null): string {
  return value === null ? NOTHING : `${Number(value.toPrecision(3))} W`;
}
