import { checkSeconds } from './limits.ts';
import { checkSine, renderSine } from './sine.ts';
import type { IdentificationSpec, SineSpec } from './spec.ts';

const BEEP_SECONDS = 0.18;
const BEEP_EVERY_SECONDS = 0.36;
/** From the start of the last beep of a group to the next group: long enough that groups are not counted together. */
const REST_SECONDS = 1.2;

/** Seconds from one group of beeps to the next. */
export function identificationGroupSeconds(beeps: number): number {
  return (beeps - 1) * BEEP_EVERY_SECONDS + REST_SECONDS;
}

function beepOf({ frequencyHz, levelDbfs }: IdentificationSpec): SineSpec {
  return { kind: 'sine', frequencyHz, levelDbfs, durationSeconds: BEEP_SECONDS };
}

/** @throws RangeError as `renderIdentification` does */
export function checkIdentification(spec: IdentificationSpec, sampleRateHz: number): void {
  if (!(Number.isInteger(spec.beeps) && spec.beeps >= 1 && spec.beeps <= 16)) {
    throw new RangeError(
      `${spec.beeps} beeps cannot be counted by ear: a whole number from 1 to 16 is needed.`,
    );
  }
  const groupSeconds = identificationGroupSeconds(spec.beeps);
  checkSeconds(`An identification of ${spec.beeps} beeps`, spec.durationSeconds, groupSeconds);
  checkSine(beepOf(spec), sampleRateHz);
}

/** Groups of beeps to be counted by ear. Only whole groups are played; what is left of the duration is silent. */
export function renderIdentification(spec: IdentificationSpec, sampleRateHz: number): Float64Array {
  checkIdentification(spec, sampleRateHz);
  const { durationSeconds } = spec;
  const groupSeconds = identificationGroupSeconds(spec.beeps);
  const beep = renderSine(beepOf(spec), sampleRateHz);
  const samples = new Float64Array(Math.round(durationSeconds * sampleRateHz));
  const groups = Math.floor(durationSeconds / groupSeconds + 1e-9);
  for (let group = 0; group < groups; group += 1) {
    for (let count = 0; count < spec.beeps; count += 1) {
      const startSeconds = group * groupSeconds + count * BEEP_EVERY_SECONDS;
      samples.set(beep, Math.round(startSeconds * sampleRateHz));
    }
  }
  return samples;
}
