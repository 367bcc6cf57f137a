/**
 * Ceilings of different stages on one ruler: the level of the tone that is played, at which the stage gives up.
 * Volts differ from stage to stage; the level of what is played is the same for all of them.
 */
import type { JobChannel } from './document.ts';
import type { RecordOf } from './records.ts';

export interface Ceiling {
  /** Level of a played sine that reaches the ceiling, dBFS; above 0 nothing that can be played does. */
  toneDbfs: number;
  /** True where nothing clipped, so that the ceiling lies at or above this. */
  isAtLeast: boolean;
  /** The ceiling at its own point, volts RMS. */
  volts: number | null;
}

type SourceRecord = RecordOf<'source'>;

/** Newest record of the source on the side that feeds the channel, or else of the other side. */
export function sourceRecordFor(
  channel: JobChannel,
  records: readonly { kind: string }[],
): SourceRecord | null {
  const all = records.filter((record): record is SourceRecord => record.kind === 'source');
  return all.findLast(({ result }) => result.side === channel.fedBy) ?? all.at(-1) ?? null;
}

/**
 * Ceiling of the source at a volume step: the knee against what the middle tone reads there, which is measured
 * or, between two clean measured steps, halfway in decibels. Taken as flat: where the radio shapes its sound
 * with the volume, it holds for the middle of the band. `null` where the record does not tell.
 */
export function sourceCeiling({ result }: SourceRecord, volumeStep: number): Ceiling | null {
  const middleDbfs = result.tones.middle.levelDbfs;
  const stepVolts = voltsAtStep(result, volumeStep);
  if (result.kneeVolts !== null && stepVolts !== null) {
    const toneDbfs = middleDbfs + 20 * Math.log10(result.kneeVolts / stepVolts);
    return { toneDbfs, isAtLeast: false, volts: result.kneeVolts };
  }
  if (volumeStep > result.highestCleanStep) return null;
  return { toneDbfs: middleDbfs, isAtLeast: true, volts: stepVolts };
}

function voltsAtStep({ steps }: SourceRecord['result'], volumeStep: number): number | null {
  const clean = steps.filter((one) => one.verdict === 'clean' && one.volts !== null);
  const below = clean.findLast((one) => one.step <= volumeStep);
  if (below?.volts == null) return null;
  if (below.step === volumeStep) return below.volts;
  const above = clean.find((one) => one.step > volumeStep);
  if (above?.volts == null) return null;
  const share = (volumeStep - below.step) / (above.step - below.step);
  return below.volts * (above.volts / below.volts) ** share;
}

/** Ceiling of the amplifier with its gain as recorded; `null` where neither a knee nor a clean burst was seen. */
export function amplifierCeiling({ result }: RecordOf<'gain'>): Ceiling | null {
  const { toneDbfs, volts, knee, bursts } = result;
  const at = (ceilingVolts: number, isAtLeast: boolean): Ceiling => ({
    toneDbfs: toneDbfs + 20 * Math.log10(ceilingVolts / volts),
    isAtLeast,
    volts: ceilingVolts,
  });
  if (knee !== null && knee.volts !== null) return at(knee.volts, false);
  return bursts?.conclusion.verdict === 'clean' ? at(bursts.conclusion.cleanVolts, true) : null;
}

export type FirstToGive =
  /** Neither can be reached by anything that can be played. */
  | { first: 'neither' }
  | { first: 'both' }
  /** `null` where the records do not say. */
  | { first: null }
  /** `byDb` before the other, or at least so much. */
  | { first: 'source' | 'amplifier'; byDb: number; isAtLeast: boolean };

/** Closer than this two ceilings count as one, dB: what two calibrated readings leave open. */
const TOGETHER_DB = 0.2;

/** Which of the two gives up first as what is played grows louder. */
export function firstToGive(source: Ceiling, amplifier: Ceiling): FirstToGive {
  if (source.toneDbfs >= 0 && amplifier.toneDbfs >= 0) return { first: 'neither' };
  const apartDb = source.toneDbfs - amplifier.toneDbfs;
  if (source.isAtLeast && amplifier.isAtLeast) return { first: null };
  if (!source.isAtLeast && !amplifier.isAtLeast && Math.abs(apartDb) < TOGETHER_DB) return { first: 'both' };
  const isAtLeast = source.isAtLeast || amplifier.isAtLeast;
  // The one that is only known from below may lie anywhere above.
  if (apartDb > 0 && !amplifier.isAtLeast) return { first: 'amplifier', byDb: apartDb, isAtLeast };
  if (apartDb < 0 && !source.isAtLeast) return { first: 'source', byDb: -apartDb, isAtLeast };
  return { first: null };
}
