/** What the strip says of the open input: honest and since when, not checked, or not honest and by what. */
import type { InputFault } from '../../dsp/honesty/judgement.ts';
import type { RecordOf } from '../../job/records.ts';
import { day } from '../format/moment.ts';
import type { Mark } from '../marks/mark.ts';

export interface HonestyWords {
  mark: Mark;
  words: string;
  /** What was found, in two words; empty where nothing was. Left out where there is little room. */
  because: string;
}

const FAULTS: Record<InputFault, string> = {
  'automatic-gain': 'gains itself',
  compression: 'compresses',
  'noise-gate': 'noise gate',
  'noise-suppression': 'takes noise away',
  'echo-cancelling': 'takes echo away',
  'band-limit': 'narrow band',
  resampled: 'badly resampled',
  'clock-error': 'clock is off',
  'one-channel-twice': 'mono twice',
};

export function honestyWords(check: RecordOf<'input'> | null): HonestyWords {
  if (check === null) return { mark: 'not-done', words: 'not checked', because: '' };
  if (check.result.verdict === 'honest') {
    return { mark: 'done', words: `honest, ${day(check.at)}`, because: '' };
  }
  const fault = check.result.findings[0]?.fault as InputFault | undefined;
  const because = fault === undefined ? '' : FAULTS[fault];
  return { mark: 'out-of-tolerance', words: 'not honest', because };
}
