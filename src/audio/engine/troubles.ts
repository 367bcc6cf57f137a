/** Every stop the user did not ask for, in words: what happened, and how to go on. */
import type { Trouble } from './engine-state.ts';

type Words = Omit<Trouble, 'kind'>;

const WORDS: Record<Trouble['kind'], Words> = {
  'not-secure': {
    sentence:
      'This page did not come over a secure connection, so the browser hides every audio input from it.',
    goOn: 'Open it over https://, or from this same machine at http://localhost. WAV files and the practice rig work here too.',
    canRetry: false,
  },
  'no-audio-in-this-browser': {
    sentence: 'This browser offers no audio input to pages.',
    goOn: 'Open the page in an up-to-date full browser, not inside another app. A recorded WAV file can still be measured.',
    canRetry: false,
  },
  'permission-refused': {
    sentence: 'The browser was told not to let this page listen.',
    goOn: "Allow the microphone for this page in the browser's site settings (the symbol beside the address), then try again.",
    canRetry: true,
  },
  'no-device': {
    sentence: 'No audio input was found, or the chosen one is gone.',
    goOn: 'Plug one in, or choose another input, then try again.',
    canRetry: true,
  },
  'device-busy': {
    sentence: 'The input is there, but it could not be opened; another program may be holding it.',
    goOn: 'Close other programs that record or make calls, then try again.',
    canRetry: true,
  },
  unplugged: {
    sentence: 'The input went away: unplugged, switched off, or taken by the system.',
    goOn: 'Plug it in again, or choose another input, then try again. What was recorded so far is kept.',
    canRetry: true,
  },
  suspended: {
    sentence: 'The browser has put sound to sleep.',
    goOn: 'Press "try again" to wake it; readings wait until then.',
    canRetry: true,
  },
  interrupted: {
    sentence: 'Sound was interrupted: by a call, by another program, or because no samples arrive any more.',
    goOn: 'End the call or the other program, then try again.',
    canRetry: true,
  },
  'muted-by-system': {
    sentence: 'The system has muted this input, so it delivers silence.',
    goOn: 'Unmute it in the system, or by its own switch; readings go on by themselves.',
    canRetry: true,
  },
  'worklet-failed': {
    sentence: 'The part that gathers samples stopped with an error.',
    goOn: 'Try again; if it happens twice, reload the page. Accepted readings are kept.',
    canRetry: true,
  },
  'bad-file': {
    sentence: 'This file cannot be measured.',
    goOn: 'Choose a WAV file: PCM 16, 24 or 32 bit, or float 32.',
    canRetry: false,
  },
  'blocked-by-policy': {
    sentence: 'The site that serves this page forbids it to use audio inputs.',
    goOn: 'Whoever serves the page must send "Permissions-Policy: microphone=(self)"; inside a frame, allow="microphone".',
    canRetry: false,
  },
};

/** @param detail what exactly was wrong, one sentence, put in place of the general one. */
export function troubleOf(kind: Trouble['kind'], detail?: string): Trouble {
  const words = WORDS[kind];
  return { kind, ...words, ...(detail === undefined ? {} : { sentence: detail }) };
}

/** Thrown by a source that cannot start. */
export class TroubleError extends Error {
  readonly trouble: Trouble;

  constructor(trouble: Trouble) {
    super(trouble.sentence);
    this.name = 'TroubleError';
    this.trouble = trouble;
  }
}

const KIND_OF_EXCEPTION: Record<string, Trouble['kind']> = {
  NotAllowedError: 'permission-refused',
  SecurityError: 'blocked-by-policy',
  NotFoundError: 'no-device',
  OverconstrainedError: 'no-device',
  NotReadableError: 'device-busy',
  AbortError: 'device-busy',
};

/** What a refused `getUserMedia` means. Unknown names are told with their own message. */
export function troubleOfCapture(error: unknown, policyAllows: boolean): Trouble {
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  const kind = KIND_OF_EXCEPTION[name];
  if (kind === 'permission-refused' && !policyAllows) return troubleOf('blocked-by-policy');
  if (kind !== undefined) return troubleOf(kind);
  const message = error instanceof Error ? error.message : String(error);
  return troubleOf('device-busy', `The input could not be opened: ${message}`);
}
