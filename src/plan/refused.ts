/** A plan that cannot be made from what was given. The message is one sentence: what, where, what would be right. */
export class PlanRefused extends Error {
  override name = 'PlanRefused';
}

/**
 * Passes a positive, finite number on.
 * @throws PlanRefused for NaN, infinity, zero and anything below it.
 */
export function positive(value: number, what: string): number {
  if (Number.isFinite(value) && value > 0) return value;
  throw new PlanRefused(`${what} is ${value}; it must be a number above 0.`);
}

/**
 * Passes a finite number from 0 upwards on.
 * @throws PlanRefused for NaN, infinity and negative numbers.
 */
export function notNegative(value: number, what: string): number {
  if (Number.isFinite(value) && value >= 0) return value;
  throw new PlanRefused(`${what} is ${value}; it must be 0 or above.`);
}
