import type { Finding } from '../procedure.ts';
import type { LoadChange, LoadHeard, LoadState, LoadTask } from './load.ts';

/**
 * An amplifier is close to a voltage source: without its load it must read within a few hundredths of a decibel
 * of the same. A whole decibel is more than contacts and a volume control turned back by hand explain.
 */
const LOAD_CHANGE_DB = 1;

/** `null` until the middle tone was recorded both ways. */
export function changeOf({ connected, off }: LoadState['heard']): LoadChange | null {
  if (connected.middle === null || off.middle === null) return null;
  const levelDb = difference(connected, off, 'middle');
  const beyond = (tone: 'bass' | 'treble') => {
    const db = difference(connected, off, tone);
    return db === null || levelDb === null ? null : db - levelDb;
  };
  return { levelDb, bassDb: beyond('bass'), trebleDb: beyond('treble') };
}

function difference(connected: LoadHeard, off: LoadHeard, tone: keyof LoadHeard): number | null {
  const [withLoad, without] = [connected[tone], off[tone]];
  if (withLoad === null || without === null || withLoad === 'silent' || without === 'silent') return null;
  return without.levelDbfs - withLoad.levelDbfs;
}

export function loadFindings(change: LoadChange, task: LoadTask): Finding[] {
  const { levelDb, bassDb, trebleDb } = change;
  const moves = [levelDb, bassDb, trebleDb].map((db) => Math.abs(db ?? 0));
  if (levelDb !== null && Math.max(...moves) <= LOAD_CHANGE_DB) return [];
  return [
    {
      fault: 'radio-unloaded',
      sentence:
        levelDb === null
          ? 'Without its load resistors the radio is silent: it finds no speaker and mutes.'
          : 'Without its load resistors the radio plays differently: it senses that its speakers are missing.',
      evidence: evidence(change, task),
      remedy:
        'Keep the load resistors connected at every output that is used, and measure source and gains with them.',
    },
  ];
}

function evidence({ levelDb, bassDb, trebleDb }: LoadChange, { tones }: LoadTask): string {
  if (levelDb === null) return `Nothing is heard of the ${tones.middle.frequencyHz} Hz tone without them.`;
  const parts = [`${tones.middle.frequencyHz} Hz changes by ${signedDb(levelDb)}`];
  if (bassDb !== null) parts.push(`${tones.bass.frequencyHz} Hz by ${signedDb(bassDb)} more`);
  if (trebleDb !== null) parts.push(`${tones.treble.frequencyHz} Hz by ${signedDb(trebleDb)} more`);
  return `${parts.join(', ')} when they are taken off; more than ${LOAD_CHANGE_DB} dB counts.`;
}

function signedDb(db: number): string {
  const figure = Math.abs(db).toFixed(1);
  return `${figure === '0.0' ? '' : db < 0 ? '−' : '+'}${figure} dB`;
}
