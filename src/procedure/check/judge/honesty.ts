import type { StepReading } from '../../../dsp/honesty/judgement.ts';
import { levelFindings } from '../../../dsp/honesty/level-findings.ts';
import { FAULT_WORDS } from '../../input/fault-words.ts';
import type { StepsTakeReading } from '../../take/steps-take.ts';
import { type Judgement, nothingSaid } from '../complaint.ts';
import { isCut, type PointFacts } from '../facts.ts';
import type { ReadPart } from '../read-parts.ts';

/** This far below a ceiling a step is whole. */
const BELOW_CEILING_DB = 0.5;
/** Where a clipped tone does not show its ceiling, it is no lower than this below the tone. */
const DEEPEST_OVERDRIVE_DB = 10;

/**
 * Whether levels step as they were played. Only levels are asked: what a lossy coder does to noise and pauses would
 * look like a gate. Steps that reach a ceiling found elsewhere say nothing of the input.
 */
export function judgeHonesty(facts: PointFacts): Judgement {
  const judgement = nothingSaid();
  for (const read of facts.read) {
    if (read.reading.kind === 'steps') judgeSteps(read, read.reading, facts, judgement);
  }
  return judgement;
}

/** Which way up a pulse comes through does not hang on its level. */
const BY_LEVEL = new Set(['tone', 'pink', 'noise', 'sweep', 'identification']);

/** Nothing else is blamed for what a dishonest input makes of levels, and nothing passes by them. */
export function notBelieved({ read }: PointFacts): Judgement {
  const why = 'This input was found not to be honest: what it makes of this says nothing of the vehicle.';
  const byLevel = read.filter(({ reading }) => BY_LEVEL.has(reading.kind));
  return { ...nothingSaid(), open: byLevel.map((one) => ({ read: one, why })) };
}

function judgeSteps(
  read: ReadPart,
  { judgement: { figures } }: StepsTakeReading,
  facts: PointFacts,
  into: Judgement,
): void {
  if (figures === null) {
    into.open.push({ read, why: 'The stepped tone was not found at this point.' });
    return;
  }
  const ceilingDbfs = lowestCeilingDbfs(facts);
  const whole = figures.steps.filter(({ levelDbfs }) => levelDbfs < ceilingDbfs - BELOW_CEILING_DB);
  if (whole.length < 2) {
    into.open.push({ read, why: 'All but one of the steps reach the ceiling that the tones found.' });
    return;
  }
  into.limits.push({ read, limits: { stepToleranceDb: 0.2 } });
  const [found] = levelFindings(whole, stepErrorsDb(whole));
  if (found === undefined) return;
  into.complaints.push({
    fault: 'input-not-honest',
    channel: facts.point.at === 'terminals' ? facts.point.channelId : 'cabin',
    sentence: FAULT_WORDS[found.fault].sentence,
    evidence: found.evidence,
    remedy: FAULT_WORDS[found.fault].remedy,
    read: [read],
  });
}

function stepErrorsDb(steps: readonly StepReading[]): number[] {
  return steps.slice(1).map((step, at) => {
    const before = steps[at]!;
    return step.levelDbfs - before.levelDbfs - (step.askedDbfs - before.askedDbfs);
  });
}

function lowestCeilingDbfs({ sines }: PointFacts): number {
  const cut = sines.filter(({ clipping }) => isCut(clipping));
  return Math.min(
    ...cut.map(({ clipping, levelDbfs }) => clipping.kneeDbfs ?? (levelDbfs ?? 0) - DEEPEST_OVERDRIVE_DB),
    Number.POSITIVE_INFINITY,
  );
}
