import type { SignOff } from '../../../job/document.ts';
import { moment } from '../../format/moment.ts';

/** "26 Nov 2026, 01:29, Ada Invented (second visit)": two of one minute differ by their notes. */
export function signOffWords({ at, signedBy, note }: SignOff): string {
  return `${moment(at)}, ${signedBy}${note === '' ? '' : ` (${note})`}`;
}
