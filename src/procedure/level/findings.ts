import type { Finding } from '../procedure.ts';
import type { ChannelLevel, LevelState, PairDifference } from './level.ts';
import { nameOf, number } from './words.ts';

/** Coverage factor of what is named and shown: about 95 % (JCGM 100 6.2). */
const COVERAGE = 2;

type Facts = Pick<LevelState, 'task' | 'levels' | 'pairs'>;

/** A pair is named once it differs beyond tolerance and uncertainty together. */
export function findingsOf(facts: Facts): Finding[] {
  const { toleranceDb } = facts.task;
  return facts.pairs
    .filter((pair) => Math.abs(pair.differenceDb) > toleranceDb + COVERAGE * pair.uncertaintyDb)
    .map((pair) => uneven(pair, facts));
}

function uneven(pair: PairDifference, facts: Facts): Finding {
  const isLeft = pair.differenceDb < 0;
  const low = nameOf(facts.task, isLeft ? pair.leftId : pair.rightId);
  const high = nameOf(facts.task, isLeft ? pair.rightId : pair.leftId);
  const byDb = number(Math.abs(pair.differenceDb), 1);
  return {
    fault: isLeft ? 'left-low' : 'right-low',
    sentence: `${low} plays ${byDb} dB lower than ${high.toLowerCase()}.`,
    evidence: evidence(pair, facts),
    remedy: remedy(pair, facts),
  };
}

function evidence(pair: PairDifference, { task, levels }: Facts): string {
  const [left, right] = [pair.leftId, pair.rightId].map((id) => levels.find((one) => one.channelId === id));
  const difference = `left against right ${number(pair.differenceDb, 2)} ± ${number(COVERAGE * pair.uncertaintyDb, 2)} dB, where ±${task.toleranceDb} dB is allowed`;
  if (task.way === 'microphone') {
    const count = left?.places.length ?? 0;
    return `By microphone, averaged over ${count} places, weighting ${task.weighting}: ${difference}.`;
  }
  return `At the terminals${voltsWords(left, right)}: ${difference}.`;
}

function voltsWords(left: ChannelLevel | undefined, right: ChannelLevel | undefined): string {
  if (left?.volts == null || right?.volts == null) return '';
  return `, ${number(left.volts, 3)} V against ${number(right.volts, 3)} V`;
}

function remedy(pair: PairDifference, { task, levels }: Facts): string {
  const parts = [pair.leftId, pair.rightId].flatMap((id) => {
    const trimDb = levels.find((one) => one.channelId === id)?.trimDb ?? 0;
    if (Math.abs(trimDb) < 0.05) return [];
    const way = trimDb > 0 ? 'up' : 'down';
    return [`turn ${nameOf(task, id).toLowerCase()} ${way} by ${number(Math.abs(trimDb), 1)} dB`];
  });
  const doing = parts.join(' and ');
  const first = `${doing.charAt(0).toUpperCase()}${doing.slice(1)}`;
  const lowId = pair.differenceDb < 0 ? pair.leftId : pair.rightId;
  const roomDb = levels.find((one) => one.channelId === lowId)?.roomDb ?? null;
  const why =
    roomDb === null
      ? ': no ceiling is recorded for the lower one, so it is not raised'
      : roomDb < Math.abs(pair.differenceDb)
        ? `: the lower one has only ${number(roomDb, 1)} dB left below its recorded ceiling`
        : '';
  return `${first}${why}; look for the cause first, such as a gain control or a loose plug.`;
}
