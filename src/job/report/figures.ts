/** Figures as the report words them. */
import { decimalsFor, fixed, NOTHING, signed } from '../format/number.ts';
import { COVERAGE } from '../format/quantity.ts';

/** Beyond this a figure is noise to a reader, whatever its uncertainty. */
const MOST_DECIMALS = 4;

interface Wording {
  unit: string;
  /** Where no uncertainty says how many digits it deserves. */
  decimals: number;
  /** Shows a plus as well: for differences. */
  isDifference?: boolean;
}

/** "17.30 ± 0.20 V", the ± at k = 2; without it where no uncertainty is known; a dash for what was not measured. */
export function measured(
  value: number | null,
  standardUncertainty: number | null,
  { unit, decimals, isDifference = false }: Wording,
): string {
  if (value === null) return NOTHING;
  const worded = isDifference ? signed : fixed;
  if (standardUncertainty === null || !(standardUncertainty > 0)) {
    return `${worded(value, decimals)} ${unit}`;
  }
  const expanded = standardUncertainty * COVERAGE;
  const deserved = Math.min(decimalsFor(expanded), MOST_DECIMALS);
  return `${worded(value, deserved)} ± ${fixed(expanded, deserved)} ${unit}`;
}

/** A figure that is known without doubt, or whose doubt stands elsewhere. */
export function plain(value: number | null, unit: string, decimals: number): string {
  return value === null ? NOTHING : `${fixed(value, decimals)} ${unit}`;
}

/** As entered: no digit more, none less. */
export function entered(value: number | null, unit: string): string {
  return value === null ? NOTHING : `${String(value).replace('-', '−')} ${unit}`;
}

export function yesNo(value: boolean | null, yes: string, no: string): string {
  if (value === null) return 'not noted';
  return value ? yes : no;
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** "25 Nov 2026, 08:14 UTC": one zone for every reader, so that the same job gives the same page everywhere. */
export function moment(iso: string): string {
  const at = new Date(iso);
  const two = (value: number) => String(value).padStart(2, '0');
  const day = `${at.getUTCDate()} ${MONTHS[at.getUTCMonth()]} ${at.getUTCFullYear()}`;
  return `${day}, ${two(at.getUTCHours())}:${two(at.getUTCMinutes())} UTC`;
}
