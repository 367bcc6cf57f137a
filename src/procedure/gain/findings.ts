import type { Finding } from '../procedure.ts';
import type { GainState } from './gain.ts';
import { overdrivenFinding } from './knee.ts';
import type { NamedClipping } from './stage/stage-check.ts';
import { STAGE_FAULTS, stageRemedy, stageSentence } from './stage/stage-words.ts';
import { summingLossDb } from './tone-level.ts';
import { obstacle } from './usable.ts';

type Facts = Omit<GainState, 'instruction' | 'findings' | 'hint' | 'acceptance'>;

/** Whose clipping was found, by two readings or while the control was turned. */
export function findingsOf(state: Facts): Finding[] {
  const named = state.stageCheck?.named ?? null;
  if (named !== null && named.stage !== 'none') return [finding({ ...named, stage: named.stage })];
  const turned = namedByTurning(state);
  return turned === null ? [] : [finding(turned)];
}

function finding(named: NamedClipping & { stage: Exclude<NamedClipping['stage'], 'none'> }): Finding {
  return {
    fault: STAGE_FAULTS[named.stage],
    sentence: stageSentence(named),
    evidence: named.evidence,
    remedy: stageRemedy(named),
  };
}

/** What clipped readings have shown while the control was turned, in this turn; `null` where nothing ahead clips. */
export function namedByTurning(
  state: Pick<GainState, 'clippingStage' | 'overdriven'>,
): (NamedClipping & { stage: 'upstream' }) | null {
  if (state.clippingStage !== 'earlier') return null;
  const { confidence, evidence } = overdrivenFinding(state.overdriven);
  return { stage: 'upstream', confidence, evidence, turnBackDb: null };
}

/** How near a reading must lie to what a tone on one input alone reads, dB: two loads of a sum are never quite alike. */
const LOSS_WITHIN_DB = 0.3;

/**
 * A hint, no verdict: a summed channel at rest reads as low as it would with the tone on one input only.
 * A gain that has simply not been turned up yet may read the same. `null` where there is nothing to say.
 */
export function oneInputHint(state: Facts): string | null {
  const { task, latest, aim } = state;
  const isWhole = task.summedInputs > 1 && task.inputsWithTone === task.summedInputs;
  if (!isWhole || aim.errorDb === null || latest === null) return null;
  if (obstacle(latest, task) !== null || latest.motion !== 'steady') return null;
  const lossDb = summingLossDb({ ...task, inputsWithTone: 1 });
  if (Math.abs(aim.errorDb - lossDb) > LOSS_WITHIN_DB) return null;
  return `${Math.abs(aim.errorDb).toFixed(1)} dB low is what a tone on one of the ${task.summedInputs} inputs reads: see that both sides of the radio play it.`;
}
