import type { NoisePurpose, NoiseState } from './noise.ts';
import { drownedByHz } from './ripple.ts';
import { ENGINE_WORDS } from './words.ts';

const FIRST: Record<NoisePurpose['engine'], string> = {
  off: 'Engine off, radio on at its usual volume and paused: record the floor.',
  idle: 'In open air, brake on and out of gear: start the engine, let it idle, and record.',
  revved:
    'Hold the engine steady at about twice its idle speed, still in open air and out of gear, and record.',
};

/** What to do with the hands now: one sentence. */
export function instructionFor({
  wanted,
  refused,
  task,
  takes,
  findings,
}: Omit<NoiseState, 'instruction'>): string {
  if (refused !== null) return refused.why;
  const toneHz = drownedByHz(takes);
  if (toneHz !== null && wanted?.engine === 'off' && wanted.lead === 'plugged') {
    return `A tone of ${toneHz.toFixed(0)} Hz drowns the floor: pause the source and record again, or go on to idling if it cannot be silenced.`;
  }
  if (wanted !== null) return instructionTo(wanted);
  const what =
    task.place === 'terminals' ? 'Everything asked for was recorded' : 'The microphone has heard it all';
  return findings.length === 0
    ? `${what} and nothing stands out: accept it.`
    : `${what}: read what was found; accept it, or mend it and record again.`;
}

/** What the hands do for one recording, wanted next or chosen. */
export function instructionTo(purpose: NoisePurpose): string {
  return purpose.lead === 'plugged' ? FIRST[purpose.engine] : unplug(purpose);
}

function unplug({ engine }: NoisePurpose): string {
  return `Amplifier off, pull its signal lead, amplifier on again; record once more ${ENGINE_WORDS[engine]}: it tells the lead from the supply.`;
}
