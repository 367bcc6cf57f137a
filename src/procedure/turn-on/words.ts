import type { Finding } from '../procedure.ts';
import { LOST_SECONDS } from './tried.ts';
import type { TurnOnPurpose, TurnOnState } from './turn-on.ts';

type Known = Omit<TurnOnState, 'instruction' | 'acceptance' | 'findings'>;
type Facts = Known & { findings: Finding[] };

export function turnOnFindings({ task, silences, keepAlive, holdingDbfs }: Known): Finding[] {
  const slept = silences.find((one) => one.slept);
  if (slept === undefined) return [];
  const gone = keepAlive.flatMap((one) => one.goneAfterSeconds ?? []);
  const after =
    gone.length === 0
      ? ''
      : ` A tone too quiet to hold it was gone after about ${Math.min(...gone).toFixed(0)} s.`;
  return [
    {
      fault: 'converter-sleeps',
      sentence:
        slept.lostSeconds === null
          ? 'The converter falls asleep in silence and does not wake when the tone comes back.'
          : `The converter falls asleep in silence and loses the first ${slept.lostSeconds.toFixed(2)} s of what follows.`,
      evidence: `After ${slept.seconds} s of silence the tone came back ${slept.lostSeconds === null ? 'not at all' : `${slept.lostSeconds.toFixed(2)} s late`}; more than ${LOST_SECONDS} s counts.${after}`,
      remedy:
        holdingDbfs === null
          ? 'Switch it by a remote wire instead of by the signal, or set its sensing to stay on longer.'
          : `Switch it by a remote wire instead of by the signal; until then a ${task.keepAliveHz} Hz tone at ${minus(holdingDbfs)} dBFS at step ${task.step} holds it awake.`,
    },
  ];
}

function minus(value: number): string {
  return String(value).replace('-', '−');
}

function askFor(task: Known['task'], next: TurnOnPurpose): string {
  const tone = next.try === 'silence' ? task.toneHz : task.keepAliveHz;
  const between =
    next.try === 'silence'
      ? `${next.seconds} s of silence`
      : `${next.seconds} s of it at ${minus(next.levelDbfs)} dBFS`;
  return `Play ${tone} Hz, then ${between}, then ${tone} Hz again, at step ${task.step} with the input at the converter’s output.`;
}

export function turnOnInstruction({ task, next, obstacle, findings, awakeForSeconds }: Facts): string {
  if (obstacle !== null) return obstacle;
  if (next !== null) return askFor(task, next);
  return findings.length === 0
    ? `Nothing is lost after up to ${awakeForSeconds} s of silence: accept it.`
    : 'Accept it, then switch the converter by a remote wire and check again.';
}

/** May be recorded after the first silence; what was left untried asks for a second thought. */
export function turnOnAcceptance({ silences, next, findings }: Facts): TurnOnState['acceptance'] {
  if (silences.length === 0) {
    return { can: false, why: 'No silence has been tried yet.', needsSecondThought: false };
  }
  const thoughts = findings.map(({ sentence }) => sentence);
  if (next?.try === 'silence') thoughts.push(`A silence of ${next.seconds} s has not been tried.`);
  if (next?.try === 'keep-alive') thoughts.push('The lowest level that holds it awake is not known yet.');
  return {
    can: true,
    why: thoughts.length === 0 ? null : thoughts.join(' '),
    needsSecondThought: thoughts.length > 0,
  };
}
