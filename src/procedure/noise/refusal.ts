import type { NoiseTakeReading } from '../take/noise-take.ts';

/** So many clicks a second make levels jump as music does, but they are the noise itself. */
const CLICKING_PER_SECOND = 3;

/** Why a recording says nothing about noise: one sentence, or `null` where it may be used. */
export function whyRefused(reading: NoiseTakeReading): string | null {
  const [worst] = reading.doubts;
  const isClicking = reading.interruptions.clicks.length >= CLICKING_PER_SECOND * reading.seconds;
  if (reading.otherSound?.kind === 'programme' && !isClicking) {
    return 'Music, speech or handling is heard: pause the source, keep still, and record again.';
  }
  if (worst === 'digital-silence') {
    return 'The input gave exact zeros: it is switched off or gated, so it heard nothing at all.';
  }
  if (worst === 'input-overload') return 'The input was overloaded: lower it and record again.';
  if (reading.grade === 'invalid')
    return 'The recording has holes or is processed, so it is of no use: record again.';
  return null;
}
