import { isBursting } from './burst/burst-plan.ts';
import { doubtSentence } from './doubts.ts';
import type { Acceptance, GainState } from './gain.ts';
import { type Obstacle, obstacle } from './usable.ts';
import { movedSinceTypedDb, TYPED_STILL_DB, usedVolts } from './volts.ts';

type Facts = Omit<GainState, 'acceptance' | 'instruction'>;

/**
 * Whether the present reading may become a record: a steady, not invalid reading of the right tone, not past
 * the knee, with a voltage to it. Off the aim, of a suspect input, or with a knee in doubt it may, but a
 * second thought is asked for and its reason is given.
 */
export function acceptanceOf(state: Facts): Acceptance {
  const refusal = refusalOf(state);
  if (refusal !== null) return { can: false, why: refusal, needsSecondThought: false };
  const doubts = secondThoughts(state);
  return {
    can: true,
    why: doubts.length === 0 ? null : doubts.join(' '),
    needsSecondThought: doubts.length > 0,
  };
}

function refusalOf(state: Facts): string | null {
  const { latest, aim } = state;
  if (isBursting(state)) return 'The bursts are still running.';
  if (state.stageCheck !== null && state.stageCheck.phase !== 'named') {
    return 'Two readings are being taken to name the stage that clips.';
  }
  if (state.stageCheck?.isLeadAway) return 'The lead is at the radio: put it back on this channel first.';
  const wrong = obstacle(latest, state.task);
  if (wrong !== null && !isWatcherMissing(state, wrong)) return obstacleSentence(wrong, state.task.toneHz);
  if (aim.zone === 'past-knee') return 'The reading is past the knee; a clipped setting is not accepted.';
  if (usedVolts(state) === null) {
    return state.task.way === 'meter'
      ? 'No voltage has been typed yet.'
      : 'The input is not calibrated, so there are no volts to accept.';
  }
  if (wrong === null && latest !== null && latest.motion !== 'steady') {
    return 'The level is still moving; let the control rest for a second.';
  }
  const movedDb = wrong === null && state.task.way === 'meter' ? movedSinceTypedDb(state) : null;
  if (movedDb !== null && Math.abs(movedDb) > TYPED_STILL_DB) {
    return `The level has moved ${Math.abs(movedDb).toFixed(1)} dB since the volts were typed; read the meter again.`;
  }
  return null;
}

/**
 * A typed voltage stands without an input: with the speaker's plug pulled there may be nothing to hear. An
 * overloaded input or another tone, though, shows that something is set up wrongly.
 */
export function isWatcherMissing(state: Pick<Facts, 'task'>, wrong: Obstacle): boolean {
  return state.task.way === 'meter' && wrong.kind !== 'input-overload' && wrong.kind !== 'wrong-tone';
}

function obstacleSentence(wrong: Obstacle, toneHz: number): string {
  if (wrong.kind === 'silent') return 'Nothing has been read yet.';
  if (wrong.kind === 'input-overload') return 'The input itself is overloaded; its reading says nothing.';
  if (wrong.kind === 'no-tone') return `No steady ${toneHz} Hz tone is heard.`;
  if (wrong.kind === 'wrong-tone') {
    return `The tone heard is ${wrong.heardHz.toFixed(1)} Hz; this channel is set with ${toneHz} Hz.`;
  }
  return wrong.doubts.length === 0
    ? 'The reading is not valid.'
    : wrong.doubts.map((doubt) => doubtSentence(doubt)).join(' ');
}

function secondThoughts(state: Facts): string[] {
  const { aim, latest, knee } = state;
  const thoughts: string[] = [];
  if (aim.errorDb !== null && aim.zone !== 'inside') {
    thoughts.push(`The reading is ${Math.abs(aim.errorDb).toFixed(1)} dB ${aim.zone} the aim.`);
  }
  if (aim.limitedByKnee) {
    thoughts.push('The channel clips below its planned target; the aim stands under its knee instead.');
  }
  if (latest === null || obstacle(latest, state.task) !== null) {
    thoughts.push('Nothing heard the tone, so nothing has watched for the knee.');
  } else if (latest.grade === 'suspect') {
    thoughts.push(
      latest.doubts.length === 0
        ? 'The input is suspect.'
        : latest.doubts.map((doubt) => doubtSentence(doubt)).join(' '),
    );
  }
  const unconfirmed = burstThought(state);
  if (unconfirmed !== null) thoughts.push(unconfirmed);
  if (latest?.clipping.verdict === 'undecided' && knee === null) {
    thoughts.push('Whether this setting clips could not be decided.');
  }
  if (knee?.disputed && knee.crossCheckDb !== null) {
    thoughts.push(`The two findings of the knee lie ${Math.abs(knee.crossCheckDb).toFixed(1)} dB apart.`);
  }
  return thoughts;
}

/** A gain set at the reduced level stands on the promise that the rails reach twenty decibels further. */
function burstThought({ task, bursts, burstConclusion }: Facts): string | null {
  if (task.level !== 'reduced') return null;
  if (burstConclusion === null) {
    return bursts === null
      ? 'Set at the reduced level; no burst has confirmed it at the full one.'
      : 'The gain was turned up since the bursts; they prove nothing about this setting.';
  }
  return burstConclusion.verdict === 'undecided' ? burstConclusion.why : null;
}
