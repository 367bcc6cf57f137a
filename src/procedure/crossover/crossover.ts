/**
 * The Crossover station as a pure fold: one sweep ahead of the filters, one
 * behind them for each channel, the fitted filters held against the wanted
 * ones, and what neighbours add up to.
 */
import type { FittedFilter } from '../../dsp/filters/filter-fit.ts';
import type { Filter } from '../../dsp/filters/filter-response.ts';
import type { Doubt, Grade } from '../../dsp/reading.ts';
import type { Transfer } from '../../dsp/response/transfer.ts';
import type { ResponseSweep } from '../../plan/tone/response-sweep.ts';
import type { ChannelBand } from '../../plan/tone/setting-tone.ts';
import type { StationState, TakeEvent } from '../procedure.ts';
import type { SweepResponse, SweepTakeRequest } from '../take/sweep-take.ts';

export type WantedSlope = Pick<Filter, 'alignment' | 'order'>;

export interface CrossoverChannel {
  id: string;
  name: string;
  fedBy: 'left' | 'right' | 'both';
  band: ChannelBand;
  /** `null`: any will do, what is found is only reported. */
  slopes: { highPass: WantedSlope | null; lowPass: WantedSlope | null };
}

export interface CrossoverTask {
  channels: CrossoverChannel[];
  /** How far a corner may lie from the wanted one. */
  cornerPercent: number;
  /** What the amplifier's input plug carries: speaker level where no converter stands ahead of it. */
  ahead: 'line-level' | 'speaker-level';
}

/**
 * Where the reference is taken: at the plug of the amplifier's input, which is the converter's output, or at the
 * channel's own terminals with its filters switched off; `none` where neither can be reached.
 */
export type ReferenceWay = 'input-plug' | 'filters-off' | 'none';

interface Reference {
  way: Exclude<ReferenceWay, 'none'>;
  /** While this channel was on the bench. */
  channelId: string;
  transfer: Transfer;
}

/** The channel on the bench when the sweep was begun counts, also for a reference. */
export interface CrossoverPurpose {
  what: 'reference' | 'channel';
  channelId: string;
}

export type CrossoverEvent =
  | TakeEvent<CrossoverPurpose, SweepTakeRequest>
  | { type: 'channel'; channelId: string }
  | { type: 'reference-way'; way: ReferenceWay }
  /** The source's volume or tone controls were moved: the old reference is of no use. */
  | { type: 'new-reference' };

export type SideProblem =
  | 'corner-off'
  | 'order-low'
  | 'order-high'
  | 'alignment-other'
  | 'missing'
  | 'none-of-these';

/** One end of a channel's band: what is wanted there, and what was found. */
export interface JudgedSide {
  kind: 'high-pass' | 'low-pass';
  /** `null` where the band is open at this end. */
  wantedHz: number | null;
  wanted: WantedSlope | null;
  found: FittedFilter | null;
  /** Corner found against the wanted one, like with like; `null` where there is nothing to compare. */
  errorPercent: number | null;
  problems: SideProblem[];
  /** What could not be told: `out-of-sight` where the sweep shows too little of where the corner should be. */
  open: 'out-of-sight' | 'slope' | null;
}

export interface JudgedSides {
  highPass: JudgedSide;
  lowPass: JudgedSide;
}

export interface MeasuredChannel {
  channelId: string;
  sweep: ResponseSweep;
  /** What was divided out; `null` for nothing. */
  reference: Omit<Reference, 'transfer'> | null;
  response: SweepResponse;
  sides: JudgedSides;
  grade: Grade;
  doubts: Doubt[];
}

/** What two channels add up to around the frequency where their bands meet, 0 dB: handed over without loss. */
export interface Handover {
  deepestDb: number;
  deepestHz: number;
  highestDb: number;
  highestHz: number;
}

export interface NeighbourSum {
  lowerId: string;
  upperId: string;
  /** Middle of the two wanted corners. */
  meetHz: number;
  asWired: Handover;
  /** One of the two turned over. */
  turned: Handover;
}

export interface CrossoverState extends StationState {
  task: CrossoverTask;
  channelId: string;
  way: ReferenceWay;
  reference: Reference | null;
  /** By channel id; the last sweep of each. */
  measured: Record<string, MeasuredChannel>;
  /** Of the channel on the bench with its measured neighbours. */
  sums: NeighbourSum[];
  /** Why the last sweep was not used, one sentence; `null` where it was. */
  refused: string | null;
  /** What the next sweep is for. */
  next: CrossoverPurpose['what'];
}

/** What accepting freezes: the channel on the bench. */
export interface CrossoverResult {
  channelId: string;
  inside: boolean;
  tolerancePercent: number;
  reference: Omit<Reference, 'transfer'> | null;
  sweep: ResponseSweep;
  highPass: RecordedSide;
  lowPass: RecordedSide;
  verdict: 'filters' | 'flat' | 'none of these';
  residualDb: number;
  /** Upside down against the reference; `null` where the phase does not tell. */
  inverted: boolean | null;
  sums: NeighbourSum[];
  curve: Omit<Transfer, 'snrDb'>;
  grade: Grade;
  doubts: Doubt[];
  findings: StationState['findings'];
}

export interface RecordedSide {
  wantedHz: number | null;
  wanted: WantedSlope | null;
  found: Omit<FittedFilter, 'kind' | 'residualDb'> | null;
  errorPercent: number | null;
  /** `null` where nothing is wanted, or it could not be told. */
  inside: boolean | null;
}
