import { type JobRecord, record } from './records.ts';

/**
 * What no instrument of this trade tells apart: a seventh figure of anything, and a ten-millionth of whatever
 * unit the figure's name ends in.
 */
const FIGURES = 7;
const DECIMALS = 7;

/**
 * A figure as a record keeps it. Engines differ in the last bits of `pow` and `log`; kept to what they deserve,
 * figures come out of the same samples as the same text, whichever engine read them.
 */
export function keptFigure(value: number): number {
  if (Number.isInteger(value) || !Number.isFinite(value)) return value;
  const figures = Number(value.toPrecision(FIGURES));
  // What is smaller than the last decimal is kept by its figures, so that it stays above 0.
  return Number(figures.toFixed(DECIMALS)) || figures;
}

/** A result as a record keeps it: every figure in it, however deep, as `keptFigure` says. */
export function keptResult<T>(result: T): T {
  return kept(result) as T;
}

function kept(value: unknown): unknown {
  if (typeof value === 'number') return keptFigure(value);
  if (Array.isArray(value)) return value.map(kept);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, kept(one)]));
}

/**
 * A record as it is kept: valid, keys in the schema's order, its result's figures kept.
 *
 * @throws ZodError where it is no valid record
 */
export function keptRecord(raw: object): JobRecord {
  return record.parse('result' in raw ? { ...raw, result: keptResult(raw.result) } : raw);
}
