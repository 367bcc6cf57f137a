import { byWeight, gradeOf } from '../../dsp/live/grade.ts';
import { doubtSentence } from '../gain/doubts.ts';
import type { Procedure } from '../procedure.ts';
import type { ToneTakeReading } from '../take/tone-take.ts';
import type {
  Side,
  SideHeard,
  SidesEvent,
  SidesPurpose,
  SidesResult,
  SidesState,
  SidesTask,
} from './sides.ts';
import { judgeSides, type Levels, sidesFindings } from './verdict.ts';

type Seen = Pick<SidesState, 'task' | 'heard' | 'obstacle'>;
type Facts = Omit<SidesState, 'instruction' | 'acceptance'>;

const NOTHING = { left: null, right: null };
const SIDES: readonly Side[] = ['left', 'right'];

/** @throws RangeError for a tone that cannot be */
function sidesStart(task: SidesTask): SidesState {
  const { frequencyHz, levelDbfs } = task.tone;
  if (!(frequencyHz > 0) || !(levelDbfs <= 0)) {
    throw new RangeError(
      `The tone is ${frequencyHz} Hz at ${levelDbfs} dBFS; it must be above 0 Hz and at most 0 dBFS.`,
    );
  }
  return concluded({ task, heard: { left: NOTHING, right: NOTHING }, obstacle: null });
}

/** The state given is left as it was. @throws RangeError where the recording does not hold what its purpose says */
function sidesStep(state: SidesState, event: SidesEvent): SidesState {
  const { played, heardAt } = event.purpose;
  const { reading } = event;
  if (reading.grade === 'invalid') {
    const why = doubtSentence(reading.doubts[0] ?? 'gap');
    return concluded({ ...state, obstacle: `${why} Record it again.` });
  }
  const at = { ...state.heard[played] };
  if (reading.kind === 'tone') {
    if (heardAt === 'both') throw new RangeError('A recording of one channel cannot be of both sides.');
    at[heardAt] = sideOf(reading);
  } else {
    const [left, right] = reading.channels;
    if (left === undefined || right === undefined) {
      throw new RangeError('Both sides at once need an input of two channels; this recording has one.');
    }
    at.left = sideOf(left);
    at.right = sideOf(right);
  }
  const heard = { ...state.heard, [played]: at };
  return concluded({ ...state, heard, obstacle: nothingAtAll(state, heard) });
}

function sideOf({ channel, doubts }: ToneTakeReading): SideHeard {
  return { levelDbfs: channel.tone?.levelDbfs ?? null, wholeDbfs: channel.levelDbfs, doubts };
}

/** A side may be dead, but not everything: then nothing was played. */
function nothingAtAll({ task }: SidesState, heard: SidesState['heard']): string | null {
  const all = SIDES.flatMap((played) => SIDES.map((at) => heard[played][at]));
  if (all.some((one) => one === null || one.levelDbfs !== null)) return null;
  return `No steady ${task.tone.frequencyHz} Hz tone was heard on either side: see that it plays, and that the input is connected.`;
}

function concluded(seen: Seen): SidesState {
  const { task, heard, obstacle } = seen;
  const next = nextOf(task, heard);
  const levels = next === null && obstacle === null ? levelsOf(heard) : null;
  const figures =
    levels === null ? { verdict: null, separationDb: null, balanceDb: null } : judgeSides(levels);
  const separationAtLeastDb =
    levels === null || figures.separationDb !== null ? null : atLeastDb(heard, levels);
  const findings = levels === null ? [] : sidesFindings({ task, ...figures, levels });
  const facts = { task, heard, obstacle, next, ...figures, separationAtLeastDb, findings };
  return { ...facts, instruction: instructionFor(facts), acceptance: acceptanceOf(facts) };
}

/** What a side that is played stands above everything heard on the other one, the worse way. */
function atLeastDb(heard: SidesState['heard'], levels: Levels): number | null {
  const each = SIDES.flatMap((played) => {
    const own = levels[played][played];
    const other = heard[played][played === 'left' ? 'right' : 'left']?.wholeDbfs ?? null;
    return own === null || other === null ? [] : [own - other];
  });
  return each.length === 0 ? null : Math.min(...each);
}

/** With one lead: both tones at the left, then both at the right, so that it moves once. */
function nextOf(task: SidesTask, heard: SidesState['heard']): SidesPurpose | null {
  for (const heardAt of SIDES) {
    const played = SIDES.find((side) => heard[side][heardAt] === null);
    if (played !== undefined) return { played, heardAt: task.input === 'two-channel' ? 'both' : heardAt };
  }
  return null;
}

export function levelsOf(heard: SidesState['heard']): Levels {
  const of = (played: Side) => ({
    left: heard[played].left?.levelDbfs ?? null,
    right: heard[played].right?.levelDbfs ?? null,
  });
  return { left: of('left'), right: of('right') };
}

function instructionFor({ task, next, obstacle, verdict }: Facts): string {
  if (obstacle !== null) return obstacle;
  if (next === null) {
    return verdict === 'right'
      ? 'Left is left and right is right: accept it.'
      : 'Put right what was found, then measure again; or accept it as it is.';
  }
  const output = task.point === 'radio' ? 'the radio’s output' : 'the converter’s output';
  const where =
    next.heardAt === 'both'
      ? `the input’s first channel to the left side of ${output}, its second to the right`
      : `the input to the ${next.heardAt} side of ${output}`;
  return `Connect ${where}, turn the volume well down, and play ${task.tone.frequencyHz} Hz on the ${next.played} only.`;
}

function acceptanceOf(facts: Facts): SidesState['acceptance'] {
  const { verdict, findings, heard } = facts;
  if (verdict === null) {
    return { can: false, why: 'Both sides have to be played and heard first.', needsSecondThought: false };
  }
  const thoughts = [
    ...findings.map(({ sentence }) => sentence),
    ...doubtsOf(heard).map((doubt) => doubtSentence(doubt)),
  ];
  return {
    can: true,
    why: thoughts.length === 0 ? null : thoughts.join(' '),
    needsSecondThought: thoughts.length > 0,
  };
}

function doubtsOf(heard: SidesState['heard']) {
  return byWeight(SIDES.flatMap((played) => SIDES.flatMap((at) => heard[played][at]?.doubts ?? [])));
}

/** What accepting freezes. @throws Error with the reason where something is still to be heard */
function sidesResult(state: SidesState): SidesResult {
  const { task, verdict, acceptance, separationDb, separationAtLeastDb, balanceDb, findings } = state;
  if (!acceptance.can || verdict === null)
    throw new Error(acceptance.why ?? 'There is nothing to record yet.');
  const doubts = doubtsOf(state.heard);
  return {
    point: task.point,
    input: task.input,
    tone: task.tone,
    heardDbfs: levelsOf(state.heard),
    verdict,
    separationDb,
    separationAtLeastDb,
    balanceDb,
    grade: gradeOf(doubts),
    doubts,
    findings,
  };
}

export const SIDES_PROCEDURE: Procedure<SidesTask, SidesEvent, SidesState, SidesResult> = {
  start: sidesStart,
  step: sidesStep,
  result: sidesResult,
};
