/** A number for a sentence: at most `digits` significant digits, no trailing zeros, no exponent below a million. */
export function figure(value: number, digits = 4): string {
  return String(Number(value.toPrecision(digits)));
}
