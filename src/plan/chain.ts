/**
 * The parts of a chain as their data sheets state them, in plain data. The job
 * document stores these; the arithmetic beside this file turns them into
 * loads, targets and warnings.
 */

/** How the coils of one driver, or several drivers, are joined. The last two are the unequal three-driver cases. */
export type CoilWiring = 'single' | 'series' | 'parallel';
export type DriverWiring =
  | 'single'
  | 'series'
  | 'parallel'
  | 'series-parallel'
  | 'one-in-series-with-parallel-pair'
  | 'one-in-parallel-with-series-pair';

/** Equal drivers on one channel. */
export interface DriverGroup {
  count: number;
  coilsEach: 1 | 2;
  /** Nominal impedance of one coil. */
  coilOhms: number;
  coilWiring: CoilWiring;
  driverWiring: DriverWiring;
  /** Continuous (thermal) power of one driver, all its coils together. */
  continuousWattsEach: number;
}

/** Rated continuous power into one stated load. */
export interface PowerRating {
  loadOhms: number;
  watts: number;
}

export interface ChannelRating {
  ratings: PowerRating[];
  minimumLoadOhms: number;
}

interface AmplifierRating {
  /** One channel, all channels alike. */
  perChannel: ChannelRating;
  /** Two channels bridged; `null` where the maker forbids it. */
  bridged: ChannelRating | null;
  /** Supply at which the power is rated, often 14.4 V (CTA-2006). */
  ratedSupplyVolts: number;
}

/** One channel's chain, all that its target depends on. */
export interface ChannelChain {
  amplifier: AmplifierRating;
  bridged: boolean;
  drivers: DriverGroup;
  /** Supply actually found at the amplifier; `null` while nobody has measured it. */
  supplyVolts: number | null;
  /** Gain overlap: a tone at minus this level reaches the target. */
  overlapDb: number;
  /** Level of the setting tone. */
  toneDbfs: number;
  /** Inputs whose sum feeds this channel, and how many of them carry the tone. */
  summedInputs: number;
  inputsWithTone: number;
}

export type PlanWarningKind =
  | 'load-under-minimum'
  | 'no-rating-at-load'
  | 'rating-interpolated'
  | 'drivers-rated-below-amplifier'
  | 'amplifier-rated-below-drivers'
  | 'supply-differs-from-rating'
  | 'bridging-not-allowed'
  | 'tone-reads-low-on-summed-input'
  /** At the right gain the setting tone stays below the target, so it cannot show the knee. */
  | 'tone-never-reaches-target'
  /** At the right gain the setting tone lies above the target, so it clips there. */
  | 'tone-past-target';

export interface PlanWarning {
  kind: PlanWarningKind;
  /** One sentence: what, and what follows from it. */
  sentence: string;
}

/** What one channel should read. Volts are RMS unless the name says otherwise. */
export interface ChannelPlan {
  loadOhms: number;
  /** `null` where no rating covers the load, the load is under the minimum, or bridging is not allowed. */
  amplifierWatts: number | null;
  /** What the group takes while its hardest worked driver stays within its continuous rating. */
  driverWatts: number;
  /** Smaller of the two; `null` where the amplifier's is unknown. */
  cleanWatts: number | null;
  /** `drivers` where both are equal. */
  limitedBy: 'amplifier' | 'drivers' | null;
  targetVolts: number | null;
  targetPeakVolts: number | null;
  targetDbv: number | null;
  overlapDb: number;
  toneDbfs: number;
  /** What the setting tone must read once the gain is right: V * 10^((overlap + tone) / 20), less any summing loss. */
  toneVolts: number | null;
  warnings: PlanWarning[];
}
