import { thdOfOverdrive } from '../../dsp/clipping/clipped-thd.ts';
import { findKnee as findKneeOnInput } from '../../dsp/knee/find-knee.ts';
import { microphoneKnee } from '../../dsp/knee/microphone-knee.ts';
import { type StageFinding, whoseClipping } from '../../dsp/knee/whose-clipping.ts';
import { AUDIO_BAND } from '../../dsp/reading.ts';
import type { ClippingStage, GainReading, GainTask, Knee, OverdrivenReading, TracePoint } from './gain.ts';

const OVERDRIVEN_LIMIT = 60;
const OVERDRIVEN_CELL_DB = 0.1;
const OVERDRIVEN_PER_CELL = 5;
const SEVERAL = 3;

/** The memory of clipped readings with this one added. A resting control does not push the others out. */
export function withOverdriven(kept: OverdrivenReading[], reading: GainReading): OverdrivenReading[] {
  const { overdriveDb, kneeDbfs, verdict } = reading.clipping;
  if (verdict !== 'clipped' || overdriveDb === null || kneeDbfs === null || reading.levelDbfs === null) {
    return kept;
  }
  const fresh = { levelDbfs: reading.levelDbfs, overdriveDb, kneeDbfs };
  const cell = cellOf(fresh);
  const sameCell = kept.filter((one) => cellOf(one) === cell);
  const oldest = sameCell.length >= OVERDRIVEN_PER_CELL ? sameCell[0] : undefined;
  return [...kept.filter((one) => one !== oldest), fresh].slice(-OVERDRIVEN_LIMIT);
}

function cellOf(reading: OverdrivenReading): number {
  return Math.floor(reading.levelDbfs / OVERDRIVEN_CELL_DB);
}

/** Whose ceiling the clipped readings show: see `whoseClipping`. `null` while three readings do not say. */
export function clippingStage(readings: readonly OverdrivenReading[]): ClippingStage | null {
  if (readings.length < SEVERAL) return null;
  const { stage } = overdrivenFinding(readings);
  return stage === 'input' ? null : stage;
}

/** The same with its evidence. */
export function overdrivenFinding(readings: readonly OverdrivenReading[]): StageFinding {
  return whoseClipping(
    readings.map(({ levelDbfs, overdriveDb, kneeDbfs }) => ({
      levelDbfs,
      kneeDbfs,
      verdict: 'clipped',
      thdPercent:
        100 * thdOfOverdrive(overdriveDb, { rails: 'both', highestOrder: Number.POSITIVE_INFINITY }),
    })),
  );
}

/**
 * The knee of the running turn; its mathematics are those of `dsp/knee`. `null` where none was seen, and where
 * an earlier stage is the one that clips. By microphone (the `meter` way) a driver's own distortion is in the
 * readings, so harmonics of order 4 and up are asked before THD.
 *
 * @param voltsOffsetDb dB by which `20 lg volts` stands above `levelDbfs`; `null` without volts.
 */
export function findKnee(
  points: readonly TracePoint[],
  overdriven: readonly OverdrivenReading[],
  voltsOffsetDb: number | null,
  { toneHz, way }: Pick<GainTask, 'toneHz' | 'way'>,
): Knee | null {
  if (clippingStage(overdriven) === 'earlier') return null;
  const byEar = way === 'meter' && overdriven.length < SEVERAL ? heardKnee(points, toneHz) : null;
  const found = byEar ?? findKneeOnInput(points, overdriven, highestOrderOf(toneHz));
  if (found === null) return null;
  const volts = voltsOffsetDb === null ? null : 10 ** ((found.levelDbfs + voltsOffsetDb) / 20);
  return { volts, ...found };
}

function heardKnee(points: readonly TracePoint[], toneHz: number): Omit<Knee, 'volts'> | null {
  const dots = points.flatMap(({ levelDbfs, highOrderPercent }) =>
    highOrderPercent === undefined ? [] : [{ levelDbfs, highOrderPercent }],
  );
  const heard = microphoneKnee(dots, highestOrderOf(toneHz));
  if (heard === null) return null;
  const { levelDbfs, uncertaintyDb } = heard;
  return { levelDbfs, uncertaintyDb, from: 'trace', crossCheckDb: null, disputed: false };
}

/** Orders that the band holds; a tone whose 3rd harmonic lies past it has all of them counted as a limit's. */
function highestOrderOf(toneHz: number): { highestOrder: number } {
  return { highestOrder: Math.max(3, Math.floor(AUDIO_BAND.highHz / toneHz)) };
}
