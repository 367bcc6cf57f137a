import type { CheckWork } from './check-work.ts';
import { clockWords } from './length-words.ts';

interface Seen {
  phase: string;
  run: { file: string; durationSeconds: number };
  work: CheckWork;
  /** Whether the cautions are still to be read. */
  asksFirst: boolean;
  isOpen: boolean;
  onRig: boolean;
}

/** What is to be done with the file at hand; `null` where there is none. */
function fileInstruction({ chosen, share, checked, isKept }: CheckWork): string | null {
  if (chosen === null || isKept) return null;
  if (share !== null) return `${chosen.name} is being read: wait a moment.`;
  if (checked === null) return 'Say where this recording was taken, then check it.';
  if (checked.report.markers.found) return 'Look over what was found, then accept this check.';
  return 'See which track was played, then check again, or put this recording away.';
}

/** The one instruction of this part. */
export function checkInstruction({ phase, run, work, asksFirst, isOpen, onRig }: Seen): string {
  const length = clockWords(run.durationSeconds);
  if (phase === 'recording') {
    const playing = onRig ? `The radio plays ${run.file}` : `Play ${run.file} on the radio`;
    return `${playing} (${length}); once its end is heard, the recording stops by itself.`;
  }
  const ofFile = fileInstruction(work);
  if (ofFile !== null) return ofFile;
  if (asksFirst) return 'Read this before you record, or choose a recording that was made elsewhere.';
  if (!isOpen) return 'Open the input, or choose a recording that was made elsewhere.';
  if (onRig) return `Say where the input is and press Record: the radio then plays ${run.file} (${length}).`;
  return `Say where the input is, press Record, then play ${run.file} of the tone set (${length}).`;
}
