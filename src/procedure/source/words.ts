import { doubtSentence } from '../gain/doubts.ts';
import type { ToneTakeReading } from '../take/tone-take.ts';
import type { SourcePurpose, SourceState } from './source.ts';

type Facts = Omit<SourceState, 'instruction' | 'acceptance'>;

const POINT_WORDS = { radio: 'radio’s output', converter: 'converter’s output' };

/** Why a take says nothing: the first thing wrong, and what to do about it. */
export function whyUnheard(reading: ToneTakeReading, frequencyHz: number, whereWords: string): string {
  if (reading.doubts.includes('input-overload')) {
    return 'The input itself is overloaded, not the source: lower the input, or use a stronger divider.';
  }
  const [worst] = reading.doubts;
  if (reading.grade === 'invalid' && worst !== undefined) return `${doubtSentence(worst)} Record it again.`;
  return `No steady ${frequencyHz} Hz tone was heard ${whereWords}: see that it plays, and that the input is connected.`;
}

export function instructionFor(state: Facts): string {
  const { next, ceiling, task } = state;
  if (state.obstacle !== null) return state.obstacle;
  if (next !== null) return askFor(state, next);
  if (ceiling.cleanStep === null)
    return 'No clean step was found: set the tone controls to their middle and begin again.';
  const top = ceiling.cleanStep === task.volumeSteps ? ', the top of the range' : '';
  const clean = `Step ${ceiling.cleanStep}${top} is the highest clean one`;
  return state.findings.length === 0
    ? `${clean}: accept it, and set every gain at that step.`
    : `${clean}, but something was found: read it, then record.`;
}

function askFor(state: Facts, next: SourcePurpose): string {
  const { task, steps } = state;
  const { frequencyHz } = task.tones[next.tone];
  const track = `${frequencyHz} Hz on the ${task.side}`;
  if (steps.length === 0) {
    return `Connect the input to the ${POINT_WORDS[task.point]}, ${task.side} side, turn the volume to step ${next.step} and play ${track}.`;
  }
  return `Turn the volume to step ${next.step} and play ${track}.`;
}

/** May be recorded once the ceiling is found; what is missing or wrong asks for a second thought. */
export function acceptanceOf(state: Facts): SourceState['acceptance'] {
  const { ceiling, next, findings, task } = state;
  if (ceiling.cleanStep === null) {
    return { can: false, why: 'No clean step has been measured yet.', needsSecondThought: false };
  }
  if (!ceiling.settled) {
    const open =
      ceiling.clippedStep === null ? 'no step has clipped yet' : 'steps between clean and clipped are left';
    return {
      can: false,
      why: `The highest clean step is not known yet: ${open}.`,
      needsSecondThought: false,
    };
  }
  const thoughts = findings.map(({ sentence }) => sentence);
  if (next !== null) thoughts.push('Bass or treble was not measured at every step.');
  if (task.voltsPerFs === null) thoughts.push('The input is not calibrated, so the ceiling has no volts.');
  const doubts = doubtsAtCeiling(state);
  thoughts.push(...doubts.map((doubt) => doubtSentence(doubt)));
  return {
    can: true,
    why: thoughts.length === 0 ? null : thoughts.join(' '),
    needsSecondThought: thoughts.length > 0,
  };
}

export function doubtsAtCeiling({ steps, ceiling }: Pick<Facts, 'steps' | 'ceiling'>) {
  return steps.find((at) => at.step === ceiling.cleanStep)?.middle?.doubts ?? [];
}
