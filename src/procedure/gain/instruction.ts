import { isWatcherMissing } from './acceptance.ts';
import { isBursting } from './burst/burst-plan.ts';
import { awaitsBursts, burstInstruction } from './burst/burst-words.ts';
import { doubtSentence } from './doubts.ts';
import type { GainState } from './gain.ts';
import { stageInstruction } from './stage/stage-words.ts';
import { isUnseenClean } from './unseen-clean.ts';
import { type Obstacle, obstacle } from './usable.ts';
import { movedSinceTypedDb, TYPED_STILL_DB, usedVolts } from './volts.ts';

type Facts = Omit<GainState, 'instruction'>;

/** What to do with the hands now: one sentence, the most urgent first. */
export function instructionFor(state: Facts): string {
  if (state.bursts !== null && isBursting(state)) return burstInstruction(state.bursts);
  if (state.stageCheck !== null) return stageInstruction(state.stageCheck);
  const wrong = obstacle(state.latest, state.task);
  if (wrong !== null && !isWatcherMissing(state, wrong)) return removeObstacle(wrong, state);
  if (state.aim.zone === 'past-knee') return backFromKnee(state);
  const used = usedVolts(state);
  if (used === null) {
    return state.task.way === 'meter'
      ? 'Play the tone, measure at the terminals and type what the multimeter shows.'
      : 'Calibrate the input first: without volts there is nothing to aim at.';
  }
  if (state.aim.zone === 'inside') return insideBrackets(state);
  return turnTowards(state);
}

function toneName(state: Facts): string {
  return `${state.task.toneHz} Hz tone at ${state.task.toneDbfs} dBFS`;
}

function removeObstacle(wrong: Obstacle, state: Facts): string {
  switch (wrong.kind) {
    case 'silent':
      return `Play the ${toneName(state)} and connect the input to this channel's terminals through the divider.`;
    case 'input-overload':
      return 'The input itself is overloaded, not the amplifier: lower the input, or use a stronger divider.';
    case 'no-tone':
      return `No tone is heard: see that the ${toneName(state)} plays and that the input is on this channel.`;
    case 'wrong-tone':
      return `The tone heard, ${wrong.heardHz.toFixed(1)} Hz, is not the asked one: play the ${toneName(state)}.`;
    case 'invalid': {
      const [first] = wrong.doubts;
      return `Wait, and keep the control still: ${lowerFirst(first === undefined ? 'The reading is not valid.' : doubtSentence(first))}`;
    }
  }
}

function lowerFirst(sentence: string): string {
  return sentence.charAt(0).toLowerCase() + sentence.slice(1);
}

function backFromKnee(state: Facts): string {
  if (state.clippingStage === 'earlier') {
    return 'The distortion stays when this gain is turned down: an earlier stage clips, so lower the source or the converter.';
  }
  if (isClippedAsFound(state)) return asFound(state);
  const { turnBackDb } = state.aim;
  const overDb = state.latest?.clipping.overdriveDb ?? null;
  if (turnBackDb === null || overDb === null) return 'Stop: past the knee. Turn back until it is clean.';
  return `Stop: ${overDb.toFixed(1)} dB past the knee. Turn back ${turnBackDb.toFixed(1)} dB.`;
}

/** Past a ceiling with no clean reading in this turn: nobody has seen yet whose ceiling it is. */
export function isClippedAsFound(
  state: Pick<Facts, 'aim' | 'trace' | 'turn' | 'earlierKnee' | 'clippingStage'>,
): boolean {
  return state.aim.zone === 'past-knee' && isUnseenClean(state);
}

function asFound(state: Facts): string {
  const overDb = state.latest?.clipping.overdriveDb ?? null;
  const far = overDb === null ? '' : `, ${overDb.toFixed(1)} dB past a ceiling`;
  return `It clips as found${far}: take two readings to name the stage before this gain is turned.`;
}

function insideBrackets(state: Facts): string {
  const where = state.aim.limitedByKnee ? 'Inside the brackets, under the knee' : 'Inside the brackets';
  const movedDb = state.task.way === 'meter' ? movedSinceTypedDb(state) : null;
  if (movedDb !== null && Math.abs(movedDb) > TYPED_STILL_DB) {
    return `${where}, as far as the input can follow: read the meter again and type what it shows.`;
  }
  if (awaitsBursts(state))
    return `${where} at the reduced level: confirm it with short bursts at full level.`;
  return state.acceptance.can
    ? `${where} and at rest: accept the reading.`
    : `${where}: let it rest a second, then accept.`;
}

/** Beyond this the control may be turned at an ordinary pace, dB. */
const FAR_DB = 6;

function turnTowards(state: Facts): string {
  const errorDb = state.aim.errorDb ?? 0;
  const way = errorDb < 0 ? 'up' : 'down';
  const pace = errorDb < 0 && errorDb > -FAR_DB ? ' slowly' : '';
  const because = state.aim.limitedByKnee ? 'This channel clips below its target: turn' : 'Turn';
  return `${because} the amplifier's gain ${way}${pace} until the pointer is inside the brackets.`;
}
