/** The aim in words: the same thing the pointer shows, for eyes on the screwdriver and for screen readers. */

import { fixed } from '../../job/format/number.ts';
import type { Aim } from '../../procedure/gain/gain.ts';

export interface AimWords {
  /** Shape before the words; the colour follows it. */
  shape: 'up' | 'down' | 'in' | 'stop' | 'none';
  words: string;
}

function distance(db: number): string {
  const size = Math.abs(db);
  return fixed(size, size < 0.95 ? 2 : 1);
}

export function aimWords(aim: Aim): AimWords {
  switch (aim.zone) {
    case 'no-reading':
      return { shape: 'none', words: 'no reading' };
    case 'input-overload':
      return { shape: 'stop', words: 'the input itself is overloaded' };
    case 'past-knee':
      return {
        shape: 'down',
        words:
          aim.turnBackDb === null ? 'past the knee' : `past the knee: back ${distance(aim.turnBackDb)} dB`,
      };
    case 'inside':
      return { shape: 'in', words: 'inside' };
    case 'under':
      return { shape: 'up', words: aim.errorDb === null ? 'under' : `${distance(aim.errorDb)} dB to go` };
    case 'over':
      return {
        shape: 'down',
        words: aim.errorDb === null ? 'over: turn back' : `${distance(aim.errorDb)} dB over: turn back`,
      };
  }
}
