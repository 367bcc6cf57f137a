import type { StepReading } from '../../../dsp/honesty/judgement.ts';
import { levelFindings } from '../../../dsp/honesty/level-findings.ts';
import { FAULT_WORDS } from '../../input/fault-words.ts';
import type { StepsTakeReading } from '../../take/steps-take.ts';
import { type Judgement, nothingSaid } from '../complaint.ts';
import { isCut, type PointFacts } from '../facts.ts';
import type { ReadPart } from '../read-parts.ts';
import { number } from '../words.ts';

/** An input that rides the level moves it by decibels a second (common practice); a coil that warms, by less than this. */
const CREEP_DB = 1;
/** This far below a ceiling a step is whole. */
const BELOW_CEILING_DB = 0.5;
/** Where a clipped tone does not show its ceiling, it is no lower than this below the tone. */
const DEEPEST_OVERDRIVE_DB = 10;

/**
 * Whether levels step as they were played. Only levels are asked: what a lossy coder does to noise and pauses would
 * look like a gate. Steps that reach a ceiling found elsewhere say nothing of the input. Where a point hears no steps,
 * as a subwoofer's, its softest tone must hold its level.
 */
export function judgeHonesty(facts: PointFacts): Judgement {
  const judgement = nothingSaid();
  for (const read of facts.read) {
    if (read.reading.kind === 'steps') judgeSteps(read, read.reading, facts, judgement);
  }
  if (!facts.read.some(({ reading }) => reading.kind === 'steps')) judgeCreep(facts, judgement);
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

function judgeCreep(facts: PointFacts, into: Judgement): void {
  const softestDbfs = Math.min(...facts.sines.map(({ part }) => part.levelDbfs));
  const creeping = facts.sines.find(
    ({ part, creepDb }) => part.levelDbfs === softestDbfs && Math.abs(creepDb ?? 0) > CREEP_DB,
  );
  if (creeping === undefined) return;
  const { read, part, creepDb } = creeping;
  const way = creepDb! < 0 ? 'falls' : 'rises';
  into.complaints.push({
    fault: 'input-not-honest',
    channel: pointId(facts),
    sentence: FAULT_WORDS['automatic-gain'].sentence,
    evidence: `The level of ${part.id} ${way} by ${number(Math.abs(creepDb!), 1)} dB while the tone holds still.`,
    remedy: FAULT_WORDS['automatic-gain'].remedy,
    read: [read],
  });
}

function pointId({ point }: PointFacts): string {
  return point.at === 'terminals' ? point.channelId : 'cabin';
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
    channel: pointId(facts),
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
