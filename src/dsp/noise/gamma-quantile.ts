/**
 * Quantile of the mean of `averages` independent noise powers, whose expectation is 1: a gamma
 * distribution of that shape. E. B. Wilson and M. M. Hilferty, Proc. Nat. Acad. Sci. 17(12) 1931: its
 * cube root is nearly normal. For four averages and more within 1 % from -0.4 to 3 standard deviations,
 * within 5 % at 5.6 (against scipy's inverse of the incomplete gamma function).
 *
 * @param deviations of the normal distribution: 0 for the median, 5.6 for one in a hundred million above
 */
export function averagedPowerQuantile(averages: number, deviations: number): number {
  return Math.max(0, 1 - 1 / (9 * averages) + deviations / (3 * Math.sqrt(averages))) ** 3;
}
