import type { EngineComb } from '../../dsp/noise/engine-comb.ts';
import type { Comb } from '../../dsp/noise/mains-comb.ts';
import type { SpectralLine } from '../../dsp/noise/spectral-lines.ts';
import type { NoiseTakeReading } from '../take/noise-take.ts';
import { alsoIn, combAmong, ownLines, withoutComb, withoutThoseOf } from './combs.ts';
import type { NoiseState, Ripple, SteadyTone } from './noise.ts';
import { traceRipple } from './way-in.ts';

/** Fundamentals nearer than this are one that did not move: an idle wanders by as much. */
const LEAST_MOVE = 0.03;

/** A rev counter is read to some 50 in 1000 turns. */
const RPM_AGREES = 0.05;

type Heard = Pick<NoiseState, 'takes' | 'rpm' | 'unplugged'>;

/** Lines that came with the engine. */
function cameWithEngine(reading: NoiseTakeReading, off: NoiseTakeReading | null): SpectralLine[] {
  const lines = ownLines(reading);
  return off === null ? lines : withoutThoseOf(lines, ownLines(off), reading.resolutionHz);
}

/**
 * An engine held at one speed whines all the time: a whine that can be named stands in every frame, what a few
 * clicks pretend to in a quarter of them (measured: 1 to 9 clicks a second; whines from 3 dB over the floor on).
 */
const LEAST_PRESENCE = 0.5;

/** A comb that moved while it was recorded; `null` where none did all the time. */
export function movingComb({ engine }: NoiseTakeReading): EngineComb | null {
  return engine !== null && engine.presence >= LEAST_PRESENCE ? engine : null;
}

/** A comb that moved is the engine's; else the strongest of the new lines. */
function combOfEngine(reading: NoiseTakeReading, lines: readonly SpectralLine[]): Comb | null {
  return movingComb(reading) ?? combAmong(lines, reading.resolutionHz);
}

function isMoved(a: Comb, b: Comb): boolean {
  return Math.abs(a.fundamentalHz / b.fundamentalHz - 1) > LEAST_MOVE;
}

interface Sorted {
  idle: Comb | null;
  revved: Comb | null;
  /** Only while the engine runs, at one pitch whatever its speed. */
  standing: Comb | null;
}

/**
 * Sorts what came with the engine into what moves with it and what stands.
 * Whole combs are compared, not lines: a harmonic at idle may lie where another lies when revved.
 */
function sortCombs(idle: NoiseTakeReading, revved: NoiseTakeReading, off: NoiseTakeReading | null): Sorted {
  const { resolutionHz } = idle;
  const atIdle = cameWithEngine(idle, off);
  const atRevved = cameWithEngine(revved, off);
  const first = { idle: combOfEngine(idle, atIdle), revved: combOfEngine(revved, atRevved) };
  if (first.idle === null || first.revved === null || isMoved(first.idle, first.revved)) {
    const left = withoutComb(atIdle, first.idle, resolutionHz);
    const alsoRevved = alsoIn(left, withoutComb(atRevved, first.revved, resolutionHz), resolutionHz);
    return { ...first, standing: combAmong(alsoRevved, resolutionHz) };
  }
  return {
    idle: combAmong(withoutComb(atIdle, first.idle, resolutionHz), resolutionHz),
    revved: combAmong(withoutComb(atRevved, first.revved, resolutionHz), resolutionHz),
    standing: first.idle,
  };
}

/** A tone so loud, with nothing turning, that it is the sound and the noise only its background. */
export function drownedByHz({ off }: NoiseState['takes']): number | null {
  return off?.otherSound?.kind === 'tone' ? (off.steady?.fundamentalHz ?? null) : null;
}

/** What comes with the running engine, and what stands still beside it. */
export function hearEngine(state: Heard): { ripple: Ripple | null; steadyTones: SteadyTone[] } {
  const { off, idle, revved } = state.takes;
  const steadyTones: SteadyTone[] = [];
  const always = off === null ? null : combAmong(ownLines(off), off.resolutionHz);
  if (always !== null) steadyTones.push({ comb: always, heard: 'always' });
  const sorted =
    idle !== null && revved !== null
      ? sortCombs(idle, revved, off)
      : {
          idle: idle === null ? null : combOfEngine(idle, cameWithEngine(idle, off)),
          revved: revved === null ? null : combOfEngine(revved, cameWithEngine(revved, off)),
          standing: null,
        };
  if (sorted.standing !== null) steadyTones.push({ comb: sorted.standing, heard: 'running' });
  return { ripple: rippleOf(sorted, state), steadyTones };
}

function rippleOf({ idle, revved }: Sorted, state: Heard): Ripple | null {
  if (idle === null && revved === null) return null;
  const pitchRatio = idle === null || revved === null ? null : revved.fundamentalHz / idle.fundamentalHz;
  const { rpm } = state;
  const rpmRatio = rpm.idle === null || rpm.revved === null ? null : rpm.revved / rpm.idle;
  return {
    idle,
    revved,
    pitchRatio,
    rpmRatio,
    course: courseOf(pitchRatio, rpmRatio, state),
    ...traceRipple(state, { idle, revved }),
  };
}

function courseOf(pitchRatio: number | null, rpmRatio: number | null, { takes }: Heard): Ripple['course'] {
  if (takes.idle === null || takes.revved === null) return 'unknown';
  if (pitchRatio === null) return 'one-speed';
  if (rpmRatio === null) return pitchRatio > 1 ? 'follows' : 'moves';
  return Math.abs(pitchRatio / rpmRatio - 1) <= RPM_AGREES ? 'follows' : 'moves';
}
