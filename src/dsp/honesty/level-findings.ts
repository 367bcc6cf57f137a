import type { InputFinding, StepReading } from './judgement.ts';

/** Design: 10 dB must read 10.0 +/- 0.2 dB, and a level must hold. */
const STEP_TOLERANCE_DB = 0.2;

/** Noise may add this many standard uncertainties. */
const COVERAGE = 4;

/** A steady tone that goes back and forth by more than this in a step is being worked on. */
const WOBBLE_DB = 1.5;

/** A fall from which a tone counts as attenuated, not merely levelled. */
const FALL_DB = 1;

/** Steps that come back this much nearer to each other than asked were levelled: gain followed the level. */
const LEVELLED = 0.85;

/** Later steps of a tone that an echo canceller has learnt begin this much too low. */
const LEARNT_DB = 3;

/** Everything that the levels of the steps give away, at most one finding. */
export function levelFindings(
  steps: readonly StepReading[],
  stepErrorsDb: readonly number[],
): InputFinding[] {
  const creeping = steps.filter((step) => Math.abs(step.creepDb) > allowance(step));
  const wobbling = steps.filter((step) => step.wobbleDb > WOBBLE_DB);
  const wrong = stepErrorsDb.some((error, at) => Math.abs(error) > stepAllowance(steps[at]!, steps[at + 1]!));
  const [first, last] = [steps[0]!, steps.at(-1)!];
  const asked = last.askedDbfs - first.askedDbfs;
  const levelled = asked !== 0 && (last.levelDbfs - first.levelDbfs) / asked < LEVELLED;
  const falling = steps.filter((step) => step.creepDb < -FALL_DB);
  const rising = steps.filter((step) => step.creepDb > allowance(step));
  const fadingFromTheFirst = first.creepDb < -FALL_DB;
  const learnt = fadingFromTheFirst && steps.some((step) => onsetAgainst(step, first) < -LEARNT_DB);
  if (wobbling.length > 0 || (learnt && !levelled)) return [echo(steps)];
  if (2 * falling.length >= steps.length && rising.length === 0 && !levelled) return [suppression(falling)];
  if (creeping.length > 0) return [automaticGain(creeping, stepErrorsDb)];
  return wrong ? [withoutCreep(steps, stepErrorsDb)] : [];
}

/** How much too low or high a step begins, against the first. */
function onsetAgainst(step: StepReading, first: StepReading): number {
  const onset = (reading: StepReading) => reading.levelDbfs - reading.creepDb - reading.askedDbfs;
  return onset(step) - onset(first);
}

function allowance(step: StepReading): number {
  // The first block is a thirtieth of a step of three seconds, the settled part ten of them.
  return STEP_TOLERANCE_DB + COVERAGE * 4 * step.uncertaintyDb;
}

function stepAllowance(a: StepReading, b: StepReading): number {
  return STEP_TOLERANCE_DB + COVERAGE * Math.hypot(a.uncertaintyDb, b.uncertaintyDb);
}

function echo(steps: readonly StepReading[]): InputFinding {
  const worst = steps.reduce((a, b) =>
    Math.abs(b.creepDb) + b.wobbleDb > Math.abs(a.creepDb) + a.wobbleDb ? b : a,
  );
  return {
    fault: 'echo-cancelling',
    evidence: `The steady tone of ${worst.askedDbfs} dBFS moves by ${worst.creepDb.toFixed(1)} dB and back and forth by ${worst.wobbleDb.toFixed(1)} dB while it plays, as where an echo canceller takes out what the device itself plays.`,
  };
}

function suppression(falling: readonly StepReading[]): InputFinding {
  const worst = falling.reduce((a, b) => (b.creepDb < a.creepDb ? b : a));
  return {
    fault: 'noise-suppression',
    evidence: `The steady tone of ${worst.askedDbfs} dBFS falls by ${(-worst.creepDb).toFixed(1)} dB while it plays: it is taken for noise.`,
  };
}

function automaticGain(creeping: readonly StepReading[], errors: readonly number[]): InputFinding {
  const worst = creeping.reduce((a, b) => (Math.abs(b.creepDb) > Math.abs(a.creepDb) ? b : a));
  const way = worst.creepDb > 0 ? 'rises' : 'falls';
  return {
    fault: 'automatic-gain',
    evidence: `The level of the ${worst.askedDbfs} dBFS step ${way} by ${Math.abs(worst.creepDb).toFixed(2)} dB while the tone holds still; ${stepsSentence(errors)}.`,
  };
}

/** Steps that are wrong and hold still: a curve, not a hand on the control. */
function withoutCreep(steps: readonly StepReading[], errors: readonly number[]): InputFinding {
  const up = errors.map((error, at) => error * Math.sign(steps[at + 1]!.askedDbfs - steps[at]!.askedDbfs));
  const harmonics = Math.max(...steps.map((step) => step.harmonicsDbc ?? Number.NEGATIVE_INFINITY));
  const worst = up.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));
  if (worst > 0) {
    return {
      fault: 'noise-gate',
      evidence: `Soft steps come back softer than they are (${stepsSentence(errors)}), without moving: a gate or expander acts on them.`,
    };
  }
  return {
    fault: 'compression',
    evidence: `Loud steps come back too soft (${stepsSentence(errors)}), without moving: a limiter or an overloaded stage, harmonics at ${harmonics.toFixed(0)} dBc.`,
  };
}

function stepsSentence(errors: readonly number[]): string {
  const listed = errors
    .map((error) => `${error >= 0 ? '+' : '\u2212'}${Math.abs(error).toFixed(2)}`)
    .join(', ');
  return `level steps are off by ${listed} dB`;
}
