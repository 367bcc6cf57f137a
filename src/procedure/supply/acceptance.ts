import type { StationState } from '../procedure.ts';
import type { SupplyState } from './supply.ts';

type Facts = Omit<SupplyState, 'instruction' | 'acceptance'>;

/** The ground leg and the current make a record; what is missing or in doubt asks for a second thought. */
export function supplyAcceptance(state: Facts): StationState['acceptance'] {
  const refusal = refusalOf(state);
  if (refusal !== null) return { can: false, why: refusal, needsSecondThought: false };
  const thoughts = secondThoughts(state);
  return {
    can: true,
    why: thoughts.length === 0 ? null : thoughts.join(' '),
    needsSecondThought: thoughts.length > 0,
  };
}

function refusalOf({ volts, current, figures }: Facts): string | null {
  if (volts['ground-leg'] === null) return 'The ground leg has not been read yet.';
  if (current === null) return 'The current is not known yet.';
  if (figures.legs.ground === null) {
    return 'The current does not rise under the tone, so no resistance follows; turn the tone up and read again.';
  }
  return null;
}

function secondThoughts({ figures, findings, current }: Facts): string[] {
  const thoughts = findings.map((finding) => finding.sentence);
  const { ground, positive } = figures.legs;
  if (ground?.verdict === 'cannot-tell') thoughts.push(ground.why);
  if (positive === null) thoughts.push('The supply wire was not measured.');
  else if (positive.verdict === 'cannot-tell') thoughts.push(`Supply wire: ${positive.why}`);
  if (current?.from === 'power') {
    thoughts.push('The current was worked out from the power, which holds to about a third only.');
  }
  return thoughts;
}
