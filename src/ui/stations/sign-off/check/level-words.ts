import type { RecorderState } from '../../../session/recorder-session.ts';

/** Full-power tones should stand above this; the quiet parts of the track lie 20 dB and more below them. */
const LOW_DBFS = -40;
/** By then the track's first tones have been heard. Common practice. */
const LOW_AFTER_SECONDS = 15;

export interface LevelWords {
  state: 'valid' | 'input-overload' | 'too-low' | 'gap';
  sentence: string;
}

function times(count: number): string {
  return count === 1 ? 'once' : `${count} times`;
}

/** What the level guard has to say, worst first. */
export function levelWords(soFar: NonNullable<RecorderState['soFar']>): LevelWords {
  const { overloads, highestPeak, gapFrames, frames, sampleRateHz } = soFar;
  const highestDbfs = highestPeak > 0 ? 20 * Math.log10(highestPeak) : null;
  if (overloads > 0) {
    return {
      state: 'input-overload',
      sentence: `The input itself was overloaded ${times(overloads)}: turn it down and record again.`,
    };
  }
  if (gapFrames > 0) {
    const milliseconds = Math.ceil((1000 * gapFrames) / sampleRateHz);
    return {
      state: 'gap',
      sentence: `${milliseconds} ms of sound were lost on the way; silence keeps their place. Close other programs.`,
    };
  }
  const isLow = highestDbfs === null || highestDbfs < LOW_DBFS;
  if (isLow && frames > LOW_AFTER_SECONDS * sampleRateHz) {
    return { state: 'too-low', sentence: 'Hardly anything is heard: is it playing, is the input turned up?' };
  }
  const peak = highestDbfs === null ? 'nothing yet' : `${highestDbfs.toFixed(1)} dBFS`;
  return { state: 'valid', sentence: `Level is fine. Highest peak so far: ${peak}.` };
}
