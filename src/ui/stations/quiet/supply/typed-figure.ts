import { readNumber } from '../../../format/read-number.ts';

/** A meter's display as typed: its figure, and what one count of its last digit is worth. */
export interface TypedFigure {
  value: number;
  perDigit: number;
}

/** "0.034" is 0.034 to a thousandth; "12" is to a whole. `null` for what is no number. */
export function typedFigure(text: string): TypedFigure | null {
  const value = readNumber(text);
  if (value === null) return null;
  const decimals = /[.,](\d+)\s*$/.exec(text)?.[1]?.length ?? 0;
  return { value, perDigit: 10 ** -decimals };
}
