/** What every tone must keep to. Each check throws a `RangeError` of one sentence: what, and what would be right. */

/**
 * Highest frequency as a share of the sample rate. 20 kHz in a 44.1 kHz file
 * is 0.4535; above 0.46 the reconstruction filter of an ordinary player is
 * already falling, so the level would no longer be the stated one.
 */
const HIGHEST_SHARE_OF_RATE = 0.46;

/** WAV and every player in reach lie between these. */
const LOWEST_RATE_HZ = 8_000;
const HIGHEST_RATE_HZ = 192_000;

export function checkRate(sampleRateHz: number): void {
  if (!Number.isInteger(sampleRateHz) || sampleRateHz < LOWEST_RATE_HZ || sampleRateHz > HIGHEST_RATE_HZ) {
    throw new RangeError(
      `A sample rate of ${sampleRateHz} Hz cannot be used: it must be a whole number from ${LOWEST_RATE_HZ} to ${HIGHEST_RATE_HZ} Hz.`,
    );
  }
}

export function checkFrequency(frequencyHz: number, sampleRateHz: number): void {
  const highestHz = HIGHEST_SHARE_OF_RATE * sampleRateHz;
  if (!(frequencyHz > 0 && frequencyHz <= highestHz)) {
    throw new RangeError(
      `A frequency of ${frequencyHz} Hz cannot be rendered at ${sampleRateHz} Hz: it must be above 0 and at most ${highestHz} Hz.`,
    );
  }
}

export function checkBand(lowHz: number, highHz: number, sampleRateHz: number): void {
  checkFrequency(lowHz, sampleRateHz);
  checkFrequency(highHz, sampleRateHz);
  if (lowHz >= highHz) {
    throw new RangeError(
      `A band from ${lowHz} to ${highHz} Hz is empty: its lower end must lie below its upper end.`,
    );
  }
}

export function checkLevel(levelDbfs: number): void {
  if (!(levelDbfs <= 0 && levelDbfs >= -200)) {
    throw new RangeError(`A level of ${levelDbfs} dBFS cannot be rendered: it must lie from -200 to 0 dBFS.`);
  }
}

/** @param what names the stretch of time: "the duration", "each step" */
export function checkSeconds(what: string, seconds: number, leastSeconds: number): void {
  if (!(Number.isFinite(seconds) && seconds >= leastSeconds && seconds <= 86_400)) {
    throw new RangeError(
      `${what} of ${seconds} s cannot be used: it must last from ${leastSeconds} s to a day.`,
    );
  }
}
