import type { Finding } from '../procedure.ts';
import type { Side, SidesState, SidesVerdict } from './sides.ts';

/** Common practice: a side that comes through closer than this below the other is wired across, not crosstalk. */
const LEAST_SEPARATION_DB = 20;
/** Sides that carry the same within this are one signal, not two that leak. */
const SAME_DB = 3;
/** A balance control at its middle holds the sides together to well within this (common practice). */
const BALANCE_DB = 1;

export type Levels = Record<Side, Record<Side, number | null>>;

export interface SidesFigures {
  verdict: SidesVerdict;
  separationDb: number | null;
  balanceDb: number | null;
}

/** @param levels dBFS by the side played, then by the side heard; `null` where no tone stood out */
export function judgeSides(levels: Levels): SidesFigures {
  const strongest = Math.max(
    ...[levels.left, levels.right].flatMap((at) => [at.left ?? -Infinity, at.right ?? -Infinity]),
  );
  const isThere = (played: Side, heardAt: Side) => {
    const level = levels[played][heardAt];
    return level !== null && level > strongest - LEAST_SEPARATION_DB;
  };
  const own = { left: isThere('left', 'left'), right: isThere('right', 'right') };
  const across = { left: isThere('left', 'right'), right: isThere('right', 'left') };
  const balanceDb =
    own.left && own.right ? (levels.left.left as number) - (levels.right.right as number) : null;
  const figures = { separationDb: separation(levels), balanceDb };
  if (!(own.left || across.left) || !(own.right || across.right)) return { verdict: 'dead', ...figures };
  if (!own.left && !own.right) return { verdict: 'swapped', ...figures };
  if (!across.left && !across.right) return { verdict: own.left && own.right ? 'right' : 'dead', ...figures };
  return { verdict: isOneSignal(levels) ? 'mono' : 'leaks', ...figures };
}

function isOneSignal(levels: Levels): boolean {
  return (['left', 'right'] as const).every((played) => {
    const { left, right } = levels[played];
    return left !== null && right !== null && Math.abs(left - right) <= SAME_DB;
  });
}

function separation({ left, right }: Levels): number | null {
  const each = [
    [left.left, left.right],
    [right.right, right.left],
  ].flatMap(([own, other]) => (own == null || other == null ? [] : [own - other]));
  return each.length === 0 ? null : Math.min(...each);
}

type Facts = Pick<SidesState, 'task' | 'verdict' | 'separationDb' | 'balanceDb'> & { levels: Levels };

export function sidesFindings(facts: Facts): Finding[] {
  return [wiring(facts), balance(facts)].filter((found) => found !== null);
}

function wiring({ verdict, levels, separationDb }: Facts): Finding | null {
  const evidence = heardWords(levels);
  switch (verdict) {
    case null:
    case 'right':
      return null;
    case 'swapped':
      return {
        fault: 'sides-swapped',
        sentence: 'Left and right are swapped.',
        evidence,
        remedy: 'Swap the two sides where the signal is picked up, or at the converter’s inputs.',
      };
    case 'mono':
      return {
        fault: 'sides-mono',
        sentence: 'Both sides carry the same: left and right are summed.',
        evidence,
        remedy:
          'Look for outputs that are tied together, a mono setting of the radio or its phone link, or an input wired to both.',
      };
    case 'leaks':
      return {
        fault: 'sides-leak',
        sentence: 'One side comes through on the other.',
        evidence:
          separationDb === null ? evidence : `${evidence} The separation is ${separationDb.toFixed(1)} dB.`,
        remedy:
          'Look for a wire that touches its neighbour, a shared minus of two bridged outputs, or a mixing setting of the radio.',
      };
    case 'dead':
      return {
        fault: 'side-dead',
        sentence: `Nothing comes out ${deadWords(levels)}.`,
        evidence,
        remedy: 'Set the balance to its middle, then check pickup wires, converter and plugs of that side.',
      };
  }
}

function deadWords(levels: Levels): string {
  const plays = (side: Side) => levels[side].left !== null || levels[side].right !== null;
  if (!plays('left')) return 'while the left side plays';
  if (!plays('right')) return 'while the right side plays';
  const isHeard = (side: Side) => levels.left[side] !== null || levels.right[side] !== null;
  if (!isHeard('left')) return 'on the left';
  return isHeard('right') ? 'on one side' : 'on the right';
}

function heardWords(levels: Levels): string {
  const at = (played: Side) => {
    const { left, right } = levels[played];
    const words = (level: number | null) => (level === null ? 'nothing' : `${level.toFixed(1)} dBFS`);
    return `With the ${played} playing, the left reads ${words(left)} and the right ${words(right)}.`;
  };
  return `${at('left')} ${at('right')}`;
}

function balance({ balanceDb }: Facts): Finding | null {
  if (balanceDb === null || Math.abs(balanceDb) <= BALANCE_DB) return null;
  return {
    fault: 'sides-unlike',
    sentence: `The ${balanceDb > 0 ? 'right' : 'left'} side is lower than the other.`,
    evidence: `Each at its own side, left and right differ by ${Math.abs(balanceDb).toFixed(1)} dB; more than ${BALANCE_DB} dB counts.`,
    remedy:
      'Set the radio’s balance to its middle and the converter’s two controls alike, then measure again.',
  };
}
