import { doubtSentence } from '../gain/doubts.ts';
import type { Finding, StationState } from '../procedure.ts';
import type { MeasuredChannel } from './crossover.ts';

/**
 * Whether the channel may become a record: it was swept, and the sweep could be used. Out of tolerance, of a suspect
 * input or without a reference it may, but a second thought is asked for.
 */
export function acceptanceOf(
  measured: MeasuredChannel | undefined,
  findings: readonly Finding[],
): StationState['acceptance'] {
  if (measured === undefined) {
    return { can: false, why: 'This channel has not been swept yet.', needsSecondThought: false };
  }
  const thoughts = [
    ...findings.map(({ sentence }) => sentence),
    ...measured.doubts.map(doubtSentence),
    ...(measured.reference === null
      ? ['Without a reference, whatever the source does to its sound counts as the filter’s.']
      : []),
    ...openThoughts(measured),
  ];
  return {
    can: true,
    why: thoughts.length === 0 ? null : thoughts.join(' '),
    needsSecondThought: thoughts.length > 0,
  };
}

function openThoughts({ sides }: MeasuredChannel): string[] {
  return [sides.highPass, sides.lowPass].flatMap(({ kind, open }) => {
    if (open === null) return [];
    return open === 'slope'
      ? [`Two slopes explain the ${kind} equally well, so its slope is not proved.`]
      : [`Too little of the band stands out of the noise to see the ${kind}.`];
  });
}
