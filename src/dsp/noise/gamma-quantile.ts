/**
 * Quantile of the mean of `averages` independent noise powers, whose expectation is 1: a gamma
 * distribution of that shape. E. B. Wilson and M. M. Hilferty, Proc. Nat. Acad. Sci. 17(12) 1931: its
 * cube root is nearly normal. Within 1 % for four averages and more, from -3 to 6 standard deviations.
 *
 * @param deviations of the normal distribution: 0 for the median, 5.2 for one in ten million above
 */
export function averagedPowerQuantile(averages: number, deviations: number): number {
  return Math.max(0, 1 - 1 / (9 * averages) + deviations / (3 * Math.sqrt(averages))) ** 3;
}
