import type { Procedure } from '../procedure.ts';
import type { NoiseTakeReading } from '../take/noise-take.ts';
import { acceptanceOf } from './acceptance.ts';
import { findingsOf } from './findings.ts';
import { hearHum } from './hum.ts';
import { instructionFor } from './instruction.ts';
import { levelsOf, worstOf } from './levels.ts';
import {
  ENGINE_STATES,
  type NoiseEvent,
  type NoisePurpose,
  type NoiseResult,
  type NoiseState,
  type NoiseTask,
} from './noise.ts';
import { whyRefused } from './refusal.ts';
import { noiseResult } from './result.ts';
import { drownedByHz, hearEngine } from './ripple.ts';

type Recorded = Pick<NoiseState, 'task' | 'rpm' | 'takes' | 'unplugged' | 'refused'>;

/** No petrol or diesel engine of a road vehicle turns slower or faster. */
export const SLOWEST_RPM = 200;
export const FASTEST_RPM = 12_000;

/** @throws RangeError for a target or a limit that cannot be one */
export function noiseStart(task: NoiseTask): NoiseState {
  if (task.targetVolts !== null && !(task.targetVolts > 0)) {
    throw new RangeError(`A target of ${task.targetVolts} V cannot be judged against: it must be above 0.`);
  }
  if (!(task.noiseDb > 0)) {
    throw new RangeError(`A least distance of ${task.noiseDb} dB asks for nothing: it must be above 0.`);
  }
  if ((task.channelId === null) !== (task.place === 'microphone')) {
    throw new RangeError(
      'Noise is read at the terminals of one channel, or by a microphone that hears them all.',
    );
  }
  return concluded({
    task,
    rpm: { off: null, idle: null, revved: null },
    takes: { off: null, idle: null, revved: null },
    unplugged: null,
    refused: null,
  });
}

/** @throws RangeError for a speed that no engine turns at */
export function noiseStep(state: NoiseState, event: NoiseEvent): NoiseState {
  if (event.type === 'take') return concluded(withTake(state, event.purpose, event.reading));
  const { engine, rpm } = event;
  if (rpm !== null && !(rpm >= SLOWEST_RPM && rpm <= FASTEST_RPM)) {
    throw new RangeError(`${rpm} rpm is no engine speed: from ${SLOWEST_RPM} to ${FASTEST_RPM} is.`);
  }
  return concluded({ ...state, rpm: { ...state.rpm, [engine]: rpm } });
}

function withTake(state: NoiseState, purpose: NoisePurpose, reading: NoiseTakeReading): Recorded {
  const why = whyRefused(reading);
  if (why !== null) return { ...state, refused: { purpose, why } };
  const { engine, lead } = purpose;
  if (lead === 'unplugged') return { ...state, refused: null, unplugged: { engine, reading } };
  return { ...state, refused: null, takes: { ...state.takes, [engine]: reading } };
}

function concluded({ task, rpm, takes, unplugged, refused }: Recorded): NoiseState {
  const levels = levelsOf({ task, takes });
  const heard = {
    task,
    rpm,
    takes,
    unplugged,
    refused,
    levels,
    worst: worstOf(levels),
    hum: hearHum({ takes, unplugged }),
    ...hearEngine({ takes, rpm, unplugged }),
  };
  const told = {
    ...heard,
    wanted: wantedNext(heard),
    findings: findingsOf(heard),
    acceptance: acceptanceOf(heard),
  };
  return { ...told, instruction: instructionFor(told) };
}

/** Off, idle, revved; then, where something was heard, once with the lead pulled. A tone that drowns the floor comes first, until the hand goes on. */
function wantedNext({
  takes,
  unplugged,
  ripple,
  hum,
}: Pick<NoiseState, 'takes' | 'unplugged' | 'ripple' | 'hum'>): NoisePurpose | null {
  const missing = ENGINE_STATES.find((engine) => takes[engine] === null);
  const drowned = drownedByHz(takes) !== null && takes.idle === null && takes.revved === null;
  if (drowned) return { engine: 'off', lead: 'plugged' };
  if (missing !== undefined) return { engine: missing, lead: 'plugged' };
  if (unplugged !== null) return null;
  if (ripple !== null) return { engine: ripple.idle === null ? 'revved' : 'idle', lead: 'unplugged' };
  return hum === null ? null : { engine: hum.heardIn[0] ?? 'off', lead: 'unplugged' };
}

export const NOISE: Procedure<NoiseTask, NoiseEvent, NoiseState, NoiseResult> = {
  start: noiseStart,
  step: noiseStep,
  result: noiseResult,
};
