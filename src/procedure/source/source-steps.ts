import type { Procedure } from '../procedure.ts';
import { ceilingOf } from './ceiling.ts';
import { sourceFindings } from './findings.ts';
import { heardTone } from './heard-tone.ts';
import { bassCutOf, limitsFrom } from './response.ts';
import { sourceResult } from './result.ts';
import { nextPurpose, usualWay } from './schedule.ts';
import type {
  SourceEvent,
  SourcePurpose,
  SourceResult,
  SourceState,
  SourceStep,
  SourceTask,
} from './source.ts';
import { acceptanceOf, instructionFor, whyUnheard } from './words.ts';

type Seen = Pick<SourceState, 'task' | 'way' | 'steps' | 'obstacle'>;

const TONES = ['middle', 'bass', 'treble'] as const;

/** @throws RangeError for a range or a tone that cannot be */
function sourceStart(task: SourceTask): SourceState {
  if (!Number.isInteger(task.volumeSteps) || task.volumeSteps < 2) {
    throw new RangeError(
      `A volume range of ${task.volumeSteps} steps cannot be measured; it must be a whole number from 2 up.`,
    );
  }
  for (const name of TONES) {
    const { frequencyHz, levelDbfs } = task.tones[name];
    if (!(frequencyHz > 0) || !(levelDbfs <= 0)) {
      throw new RangeError(
        `The ${name} tone is ${frequencyHz} Hz at ${levelDbfs} dBFS; it must be above 0 Hz and at most 0 dBFS.`,
      );
    }
  }
  return concluded({ task, way: usualWay(task.volumeSteps), steps: [], obstacle: null });
}

/** The state given is left as it was. @throws RangeError for a step that the range does not have, or no stride */
function sourceStep(state: SourceState, event: SourceEvent): SourceState {
  if (event.type === 'way') {
    const { every } = event.way;
    if (!Number.isInteger(every) || every < 1) {
      throw new RangeError(
        `A stride of ${every} steps cannot be taken; it must be a whole number from 1 up.`,
      );
    }
    return concluded({ ...state, way: event.way });
  }
  const { purpose, reading } = event;
  checkStep(state.task, purpose.step);
  const heard = heardTone(reading);
  if (heard === null) {
    const { frequencyHz } = state.task.tones[purpose.tone];
    return concluded({ ...state, obstacle: whyUnheard(reading, frequencyHz, `at step ${purpose.step}`) });
  }
  return concluded({ ...state, steps: withHeard(state.steps, purpose, heard), obstacle: null });
}

function checkStep(task: SourceTask, step: number): void {
  if (Number.isInteger(step) && step >= 1 && step <= task.volumeSteps) return;
  throw new RangeError(`Step ${step} was measured; this radio has steps 1 to ${task.volumeSteps}.`);
}

function withHeard(
  steps: readonly SourceStep[],
  { step, tone }: SourcePurpose,
  heard: NonNullable<SourceStep['middle']>,
): SourceStep[] {
  const blank: SourceStep = { step, middle: null, bass: null, treble: null };
  const before = steps.find((at) => at.step === step) ?? blank;
  const others = steps.filter((at) => at.step !== step);
  return [...others, { ...before, [tone]: heard }].sort((a, b) => a.step - b.step);
}

function concluded(seen: Seen): SourceState {
  const { task, way, steps, obstacle } = seen;
  const ceiling = ceilingOf(task, steps);
  const bassCut = bassCutOf(task, steps);
  const limitsFromStep = limitsFrom(steps);
  const next = nextPurpose({ task, way, steps, ceiling, bassCut });
  const findings = sourceFindings({ task, steps, ceiling, bassCut, limitsFromStep });
  const facts = { task, way, steps, obstacle, ceiling, bassCut, limitsFromStep, next, findings };
  return { ...facts, instruction: instructionFor(facts), acceptance: acceptanceOf(facts) };
}

export const SOURCE_PROCEDURE: Procedure<SourceTask, SourceEvent, SourceState, SourceResult> = {
  start: sourceStart,
  step: sourceStep,
  result: sourceResult,
};
