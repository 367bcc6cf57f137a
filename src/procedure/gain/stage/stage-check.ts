/**
 * Which stage clips, by two readings: one as found, one with this gain turned down by about 6 dB (a gain
 * that is fully down already is turned up: the level must change, either way). Where they
 * say "ahead of this amplifier", a third, at the radio's own terminals, tells radio from converter.
 */
import type { StageReading } from '../../../dsp/knee/whose-clipping.ts';
import type { GainReading } from '../gain.ts';

/** How far the gain is turned down between the two readings, dB: a quarter of the power, plain on any wave. */
export const LOWER_BY_DB = 6;

/** `upstream`: radio or converter, not told apart yet. */
export type ClippingStageName = 'amplifier' | 'upstream' | 'radio' | 'converter' | 'input' | 'none';

export interface NamedClipping {
  stage: ClippingStageName;
  /** Probability, both answers having been equally likely before. */
  confidence: number;
  /** The figures that say so, one sentence. */
  evidence: string;
  /** How far this gain must come back, where this amplifier is the one that clips, dB. */
  turnBackDb: number | null;
}

export interface StageCheck {
  /** `as-found`: the first reading. `lower`: turn down, then rest. `radio`: the lead moves to the radio's terminals. */
  phase: 'as-found' | 'lower' | 'radio' | 'named';
  /** The lead is at the radio, so that no reading is this channel's until the check is put away. */
  isLeadAway: boolean;
  /** Newest readings, until they are at rest. */
  heard: GainReading[];
  asFound: StageReading | null;
  asFoundOverdriveDb: number | null;
  /** Readings with the gain turned down, in their order. */
  lowered: StageReading[];
  /** Why the readings do not say yet; `null` where nothing is amiss. */
  missing: string | null;
  named: NamedClipping | null;
}
