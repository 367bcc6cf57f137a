import type { Job } from '../../../../job/document.ts';
import { fixed, NOTHING } from '../../../../job/format/number.ts';
import { RUN_CONTENTS, type RunContent, type RunOptions } from '../../../../job/run-track/options.ts';
import { runTrack } from '../../../../job/run-track/run-track.ts';
import { TONE_SET_FORM } from '../../../session/level-track.ts';

/** How long a run track is, or the one sentence that says why there is none. */
export type RunLength = { seconds: number; fault: null } | { seconds: null; fault: string };

export function runLength(job: Job, options: RunOptions): RunLength {
  try {
    return { seconds: runTrack(job, options, TONE_SET_FORM.sampleRateHz).durationSeconds, fault: null };
  } catch (error) {
    if (error instanceof RangeError) return { seconds: null, fault: error.message };
    throw error;
  }
}

/** In their own order, whatever was chosen last. */
export function withContent(options: RunOptions, content: RunContent, on: boolean): RunContent[] {
  return RUN_CONTENTS.filter((one) => (one === content ? on : options.contents.includes(one)));
}

/** What one content costs beside the others that are chosen, whether it is chosen or not; the whole where it is alone. */
export function contentSeconds(job: Job, options: RunOptions, content: RunContent): number | null {
  const secondsOf = (on: boolean) =>
    runLength(job, { ...options, contents: withContent(options, content, on) }).seconds;
  const whole = secondsOf(true);
  return whole === null ? null : whole - (secondsOf(false) ?? 0);
}

/** "48 s", "1 min 32 s": whole seconds, rounded up, so that a recorder set to it runs long enough. */
export function lengthWords(seconds: number | null): string {
  if (seconds === null) return NOTHING;
  const whole = Math.ceil(seconds);
  const minutes = Math.floor(whole / 60);
  return minutes === 0 ? `${fixed(whole, 0)} s` : `${minutes} min ${whole % 60} s`;
}
