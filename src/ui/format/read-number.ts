/** A number as people type it: with a point or a comma, spaces around it allowed. `null` for anything else. */
export function readNumber(text: string): number | null {
  const plain = text.trim().replace(',', '.').replace('−', '-');
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain)) return null;
  const value = Number(plain);
  return Number.isFinite(value) ? value : null;
}
