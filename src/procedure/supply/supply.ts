/**
 * The supply and ground part of the Quiet station as a pure fold: typed
 * readings of a multimeter, at rest and under a tone, become the resistance of
 * each leg between battery and amplifier, judged against its wire.
 */
import type { AmplifierClass } from '../../plan/supply/draw.ts';
import type { DcMeter, LegJudgement, Measured } from '../../plan/supply/leg.ts';
import type { WireRun } from '../../plan/wire/wire-run.ts';
import type { StationState } from '../procedure.ts';

export interface SupplyTask {
  amplifierId: string;
  positive: WireRun | null;
  ground: WireRun | null;
  /** `null` where nobody has noted it: class AB is taken. */
  stage: AmplifierClass | null;
  /** All channels at their clean power. */
  ratedWatts: number;
  supplyVolts: number;
  /** Drop that the ground leg may show under the tone. */
  groundVolts: number;
}

/**
 * Where the probes stand: `ground-leg` between the battery's minus post and the
 * amplifier's ground terminal, `amplifier` across its supply terminals,
 * `battery` across the posts.
 */
export type SupplyPoint = 'ground-leg' | 'amplifier' | 'battery';
export const SUPPLY_POINTS: readonly SupplyPoint[] = ['ground-leg', 'amplifier', 'battery'];

/** The same point at rest and under the tone, as the meter showed it. */
export interface VoltsPair {
  restVolts: number;
  toneVolts: number;
  /** One count of the last digit shown. */
  voltsPerDigit: number;
}

/** Where the current's step comes from. */
export type SupplyCurrent =
  | { from: 'clamp'; restAmperes: number; toneAmperes: number; amperesPerDigit: number }
  | { from: 'power'; watts: number };

export type SupplyEvent =
  | { type: 'volts'; point: SupplyPoint; pair: VoltsPair }
  | { type: 'current'; current: SupplyCurrent }
  | { type: 'meter'; meter: MeterAccuracy };

/** Of a multimeter on DC volts. */
export type MeterAccuracy = Pick<DcMeter, 'percentOfReading' | 'digits'>;

/** What to do next; `done` where everything has been read. */
export type SupplyStep = SupplyPoint | 'current' | 'done';

export type LegName = 'ground' | 'positive';

export interface SupplyFigures {
  /** What the tone adds to the current. */
  riseAmperes: Measured | null;
  /** What it adds to the drop along each leg, and takes from the battery's posts. */
  groundStepVolts: Measured | null;
  positiveStepVolts: Measured | null;
  batterySagVolts: Measured | null;
  legs: Record<LegName, LegJudgement | null>;
}

export interface SupplyState extends StationState {
  task: SupplyTask;
  meter: MeterAccuracy;
  volts: Record<SupplyPoint, VoltsPair | null>;
  current: SupplyCurrent | null;
  next: SupplyStep;
  figures: SupplyFigures;
}

export interface SupplyResult {
  amplifierId: string;
  meter: MeterAccuracy;
  readings: Record<SupplyPoint, VoltsPair | null>;
  current: SupplyCurrent;
  riseAmperes: number;
  /** Standard uncertainties (k = 1), as everywhere. */
  riseAmperesUncertainty: number;
  /** Across the ground leg under the tone. */
  groundDropVolts: number;
  groundVolts: number;
  ground: LegResult;
  positive: LegResult | null;
  batterySagVolts: number | null;
  /** Ground good and inside its tolerance, nothing else found. */
  inside: boolean;
  findings: { fault: string; sentence: string; evidence: string }[];
}

export interface LegResult {
  wire: WireRun | null;
  ohms: number;
  ohmsUncertainty: number;
  wireLowOhms: number | null;
  wireHighOhms: number | null;
  restOhms: number | null;
  verdict: LegJudgement['verdict'];
}
