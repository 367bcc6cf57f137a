import type { StationState } from '../procedure.ts';
import type { LevelState } from './level.ts';
import { nameOf } from './words.ts';

type Facts = Pick<LevelState, 'task' | 'readings' | 'levels' | 'pairs' | 'wanted' | 'findings'>;

export function acceptanceOf(facts: Facts): StationState['acceptance'] {
  const why = missing(facts);
  if (why !== null) return { can: false, why, needsSecondThought: false };
  const doubt = secondThought(facts);
  return { can: true, why: doubt, needsSecondThought: doubt !== null };
}

function missing({ task, levels, pairs, wanted }: Facts): string | null {
  if (levels.length === 0) return 'Nothing is measured yet.';
  const open = task.pairs.find((pair) => !pairs.some((one) => one.leftId === pair.leftId));
  if (open !== undefined) {
    return `Both ${nameOf(task, open.leftId).toLowerCase()} and ${nameOf(task, open.rightId).toLowerCase()} must be measured, in the same way and at the same places.`;
  }
  if (task.pairs.length === 0 && wanted !== null) return 'Some channels are not measured yet.';
  return null;
}

function secondThought({ task, readings, levels, findings }: Facts): string | null {
  if (findings.length > 0) return findings.map((finding) => finding.sentence).join(' ');
  if (task.way === 'microphone') {
    const counts = levels.map((level) => sidesOf(level.places, task));
    if (counts.some(({ left, right }) => left !== right)) {
      return 'The places are not as many on the left as on the right: the nearer side then reads higher.';
    }
  }
  if (readings.some((reading) => reading.isSuspect)) {
    return 'Some recordings are doubtful: the input processes its sound, or may.';
  }
  return null;
}

function sidesOf(places: readonly { placeId: string }[], task: LevelState['task']) {
  const sides = places.map((one) => task.places.find((place) => place.placeId === one.placeId)?.side);
  return {
    left: sides.filter((side) => side === 'left').length,
    right: sides.filter((side) => side === 'right').length,
  };
}
