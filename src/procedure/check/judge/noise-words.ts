/** How too much noise is told, by what makes it. */
import type { Comb } from '../../../dsp/noise/mains-comb.ts';
import { HUM_REMEDY, rpmWords } from '../../noise/findings.ts';
import { hertz } from '../../noise/words.ts';
import type { Finding } from '../../procedure.ts';
import { number } from '../words.ts';

/** A fundamental and its multiples, by what it does: moves, sits on the mains' frequency, or stands elsewhere. */
export interface LoudComb {
  kind: 'moving' | 'mains' | 'steady';
  comb: Comb;
}

interface About {
  /** Of the point, as it stands within a sentence. */
  name: string;
  /** The target in the recording. */
  referenceDbfs: number;
  /** Least distance below it. */
  noiseDb: number;
}

/** The Quiet station's names of the same things. */
const FAULTS = { moving: 'engine-whine', mains: 'mains-hum', steady: 'steady-tone' } as const;

const REMEDIES: Record<LoudComb['kind'], string> = {
  moving:
    'Take it to the Quiet station with the engine off, idling and revved, which tells how it follows the engine and by which way it gets in.',
  mains: HUM_REMEDY,
  steady:
    'If the engine ran, it may be its whine: the Quiet station tells, with the engine off, idling and revved. Else switch off, one after the other, what is supplied beside the amplifier: chargers, converters, fans.',
};

/** "a steady tone of 1185.0 Hz" */
export function combWords({ kind, comb }: LoudComb): string {
  const at = hertz(comb.fundamentalHz);
  if (kind === 'moving') return `a whine that moves about ${at}`;
  return kind === 'mains' ? `a mains hum of ${at}` : `a steady tone of ${at}`;
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

export function loudComb(one: LoudComb, { name, referenceDbfs, noiseDb }: About): Finding {
  const { kind, comb } = one;
  const belowDb = referenceDbfs - comb.levelDbfs;
  // Only a recording of every engine speed names the engine; a speed that fits is a hint.
  const hint = kind === 'mains' ? [] : rpmWords(comb.fundamentalHz, null);
  return {
    fault: FAULTS[kind],
    sentence: `${capital(combWords(one))} stands in the noise at ${name}, only ${number(belowDb, 0)} dB below the target level.`,
    evidence: `${[
      `With its multiples ${number(comb.levelDbfs, 1)} dBFS while nothing plays`,
      `${number(comb.overFloorDb, 0)} dB over the floor beside it`,
      `at least ${number(noiseDb, 0)} dB below the target are wanted`,
      ...hint,
    ].join('; ')}.`,
    remedy: REMEDIES[kind],
  };
}

export function highNoise(
  levelDbfs: number,
  belowDb: number,
  combs: readonly LoudComb[],
  { name, noiseDb }: About,
): Finding {
  const kinds = combs.length === 0 ? '' : `, with ${combs.map(combWords).join(' and ')}`;
  return {
    fault: 'noise-high',
    sentence: `The noise at ${name} lies only ${number(belowDb, 0)} dB below the target level.`,
    evidence: `${number(levelDbfs, 1)} dBFS while nothing plays${kinds}; at least ${number(noiseDb, 0)} dB below are wanted.`,
    remedy:
      'Look for its cause at the Quiet station: leads, grounds, and gains that are too high late in the chain.',
  };
}
