import { KNEE_MARGIN_DB } from '../aim.ts';
import type { GainTask } from '../gain.ts';
import { fullDbfs, summingLossDb } from '../tone-level.ts';
import type { BurstConclusion, BurstReading, BurstRun } from './burst.ts';

/**
 * A clean burst rises by what the tone was raised by; further off than this, dB, something bends or another
 * level was played. Half again the 0.2 dB by which an input proves itself raw, for two fits and a warm coil.
 */
const STRAY_DB = 0.3;

const NOT_DONE = 'The bursts have not reached the full level yet.';

/** What a run of bursts showed so far. */
export function burstConclusion(run: BurstRun, task: GainTask): BurstConclusion {
  const last = run.bursts.at(-1);
  if (last === undefined) {
    return { verdict: 'undecided', why: run.stopped === 'nothing-heard' ? NOT_HEARD : NOT_DONE };
  }
  if (last.verdict === 'clipped') return clippedAt(last, run, task);
  if (last.verdict !== 'clean') return { verdict: 'undecided', why: notClean(last) };
  const astray = run.bursts.find((burst) => Math.abs(burst.strayDb) > STRAY_DB);
  if (astray !== undefined) return { verdict: 'undecided', why: strayed(astray) };
  if (last.toneDbfs < fullDbfs(task)) {
    return { verdict: 'undecided', why: run.stopped === 'nothing-heard' ? NOT_HEARD : NOT_DONE };
  }
  return {
    verdict: 'clean',
    cleanVolts: last.volts,
    marginDb: ratioDb(last.volts, fullVolts(task)),
  };
}

const NOT_HEARD = 'A burst was asked for and not heard; see that it plays, and begin again.';

function clippedAt(last: BurstReading, run: BurstRun, task: GainTask): BurstConclusion {
  if (last.kneeVolts === null) {
    return {
      verdict: 'undecided',
      why: `The burst at ${last.toneDbfs} dBFS clips, by how much could not be read: turn back and begin again.`,
    };
  }
  const marginDb = ratioDb(last.kneeVolts, fullVolts(task));
  const drivenDb = ratioDb(run.setVolts, last.kneeVolts) + fullDbfs(task) - run.setDbfs;
  return {
    verdict: 'clipped',
    kneeVolts: last.kneeVolts,
    marginDb,
    turnBackDb: marginDb < 0 ? Math.max(0, drivenDb + KNEE_MARGIN_DB) : 0,
  };
}

function notClean({ toneDbfs, verdict }: BurstReading): string {
  return verdict === 'input-overload'
    ? `At ${toneDbfs} dBFS our own input overloads: use a stronger divider, and begin again.`
    : `Whether the burst at ${toneDbfs} dBFS clips could not be decided.`;
}

function strayed({ toneDbfs, strayDb }: BurstReading): string {
  const way = strayDb < 0 ? 'less' : 'more';
  return `The burst at ${toneDbfs} dBFS rose by ${Math.abs(strayDb).toFixed(1)} dB ${way} than the tone was raised: something rides the level, or another level was played.`;
}

/** What the tone at minus the overlap reads where all inputs that carry it do. */
function fullVolts(task: GainTask): number {
  return task.targetVolts * 10 ** (summingLossDb(task) / 20);
}

function ratioDb(volts: number, against: number): number {
  return 20 * Math.log10(volts / against);
}
