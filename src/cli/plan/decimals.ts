/** To so many decimals; `null`, what is not known, stays `null`. */
export function round(value: number | null, decimals: number): number | null {
  return value === null ? null : Number(value.toFixed(decimals));
}
