import { planTarget, type Target } from '../../plan/target.ts';
import { type NumberRule, readNumber } from '../arguments.ts';
import { UsageError } from '../usage-error.ts';

/** The options of `plan --watts W --ohms R` as typed. */
export interface TargetWords {
  watts?: string | undefined;
  ohms?: string | undefined;
  overlap?: string | undefined;
  tone?: string | undefined;
}

/** Past any amplifier and any load: a slip of the finger, and a figure that would not print. */
const MOST = 1_000_000;
const aboveZero = (value: number) => value > 0 && value <= MOST;

const WATTS: NumberRule = {
  option: '--watts',
  meaning: 'the clean power in watts',
  accepts: aboveZero,
  mustBe: 'a number above 0, up to a million',
};
const OHMS: NumberRule = {
  option: '--ohms',
  meaning: 'the wired load in ohms',
  accepts: aboveZero,
  mustBe: 'a number above 0, up to a million, or a fraction such as 4/3',
};
const OVERLAP: NumberRule = {
  option: '--overlap',
  meaning: 'the gain overlap in dB',
  accepts: (value) => value >= 0 && value <= 60,
  mustBe: 'a number from 0 to 60',
};
const TONE: NumberRule = {
  option: '--tone',
  meaning: 'the level of the tone in dB against full scale',
  accepts: (value) => Math.abs(value) <= 150,
  mustBe: 'a number from -150 to 0',
};

/** @throws UsageError for a missing or unusable option */
export function readTarget(words: TargetWords): Target {
  return planTarget({
    watts: readNumber(needed(words.watts, '--watts'), WATTS),
    ohms: readOhms(needed(words.ohms, '--ohms')),
    overlapDb: readNumber(words.overlap ?? '0', OVERLAP),
    // No tone lies above full scale, so "20" can only mean 20 dB below it.
    toneDbfs: 0 - Math.abs(readNumber(words.tone ?? '0', TONE)),
  });
}

function needed(text: string | undefined, option: string): string {
  if (text !== undefined) return text;
  throw new UsageError(`${option} is missing; a single target needs --watts W and --ohms R.`);
}

/** Three loads in parallel make thirds of an ohm, which decimals only approach. */
function readOhms(text: string): number {
  const fraction = /^\s*(\d+)\s*\/\s*(\d+)\s*$/.exec(text);
  if (fraction === null) return readNumber(text, OHMS);
  const ohms = Number(fraction[1]) / Number(fraction[2]);
  if (Number.isFinite(ohms) && OHMS.accepts(ohms)) return ohms;
  throw new UsageError(`${OHMS.option} ${text}: ${OHMS.meaning} must be ${OHMS.mustBe}.`);
}
