/**
 * What a driver is expected to pass: the filters of the job, and its own roll-off where known, in cascade. The same
 * record as `response --json` lists under `filters`.
 */
export interface ExpectedFilter {
  kind: 'high-pass' | 'low-pass';
  alignment: 'butterworth' | 'linkwitz-riley';
  /** 1 to 8; Linkwitz-Riley: even. 24 dB per octave is 4. */
  order: number;
  cutoffHz: number;
}

/** @throws RangeError for an order, a corner or a list that no filter can have */
export function checkExpectedFilters(filters: readonly ExpectedFilter[]): void {
  if (filters.length === 0) throw new RangeError('An expected band needs at least one filter.');
  for (const { alignment, order, cutoffHz } of filters) {
    const even = alignment === 'butterworth' || order % 2 === 0;
    if (!(Number.isInteger(order) && order >= 1 && order <= 8 && even)) {
      throw new RangeError(
        `A ${alignment} filter of order ${order} does not exist here: 1 to 8, Linkwitz-Riley even.`,
      );
    }
    if (!(cutoffHz > 0 && Number.isFinite(cutoffHz))) {
      throw new RangeError(`A corner at ${cutoffHz} Hz cannot be used: it must be above 0.`);
    }
  }
}

/**
 * Multiplies `value`, a complex number as [real, imaginary], by the band's response at a frequency.
 *
 * Butterworth: `1 / B(s)` or `s^N / B(s)`, `s = j f / fc`, `B` the product of `s^2 + 2 sin((2k-1) pi / 2N) s + 1` and,
 * for odd orders, `s + 1` (references item 9). Linkwitz-Riley of order N: the Butterworth of order N/2 twice.
 */
export function applyExpectedBand(
  filters: readonly ExpectedFilter[],
  frequencyHz: number,
  value: [number, number],
): void {
  for (const { kind, alignment, order, cutoffHz } of filters) {
    const times = alignment === 'linkwitz-riley' ? 2 : 1;
    for (let time = 0; time < times; time += 1) {
      applyButterworth(kind, order / times, frequencyHz / cutoffHz, value);
    }
  }
}

function applyButterworth(
  kind: ExpectedFilter['kind'],
  order: number,
  frequency: number,
  value: [number, number],
): void {
  let denominatorReal = 1;
  let denominatorImaginary = 0;
  const multiply = (real: number, imaginary: number): void => {
    const product = denominatorReal * real - denominatorImaginary * imaginary;
    denominatorImaginary = denominatorReal * imaginary + denominatorImaginary * real;
    denominatorReal = product;
  };
  for (let section = 1; section <= order / 2; section += 1) {
    const damping = 2 * Math.sin(((2 * section - 1) * Math.PI) / (2 * order));
    multiply(1 - frequency * frequency, damping * frequency);
  }
  if (order % 2 === 1) multiply(1, frequency);
  // s^N is f^N turned by N quarters.
  const magnitude = kind === 'high-pass' ? frequency ** order : 1;
  const quarters = kind === 'high-pass' ? order % 4 : 0;
  const gain = magnitude / (denominatorReal ** 2 + denominatorImaginary ** 2);
  let real = gain * denominatorReal;
  let imaginary = -gain * denominatorImaginary;
  for (let quarter = 0; quarter < quarters; quarter += 1) [real, imaginary] = [-imaginary, real];
  const product = value[0] * real - value[1] * imaginary;
  value[1] = value[0] * imaginary + value[1] * real;
  value[0] = product;
}
