import { type ComplexValue, filterResponse } from '../dsp/filters/filter-response.ts';
import type { RigChannelConfig } from './rig.ts';

/** What a channel's filters do at a frequency: the analogue prototypes, polarity and gain left out. */
export function rigFilterResponse(
  channel: Pick<RigChannelConfig, 'filters'>,
  frequencyHz: number,
  filtersOff = false,
): ComplexValue {
  let whole: ComplexValue = { re: 1, im: 0 };
  if (filtersOff) return whole;
  const { highPass, lowPass } = channel.filters;
  const parts = [
    ...(highPass === null ? [] : [filterResponse({ kind: 'high-pass', ...highPass }, frequencyHz)]),
    ...(lowPass === null ? [] : [filterResponse({ kind: 'low-pass', ...lowPass }, frequencyHz)]),
  ];
  for (const part of parts) {
    whole = { re: whole.re * part.re - whole.im * part.im, im: whole.re * part.im + whole.im * part.re };
  }
  return whole;
}
