/** What `response --json` prints: a contract with other programs, see the help text. */
import type { ChannelResponse } from '../../dsp/response/channel-response.ts';

interface NamedFilter {
  kind: string;
  alignment: string | null;
  order: number | null;
  cutoffHz: number;
  cutoffUncertaintyHz: number;
  slopeDbPerOctave: number | null;
  residualDb: number;
}

export interface RespondedChannel {
  index: number;
  /** Place in the recording that phases are counted from: where the sweep's first frequency arrives. */
  sweepStartSeconds: number | null;
  clockSkewPpm: number | null;
  frequenciesHz: number[];
  magnitudesDb: (number | null)[];
  uncertaintiesDb: (number | null)[];
  phasesDeg: (number | null)[];
  verdict: string | null;
  residualDb: number | null;
  fittedFromHz: number | null;
  fittedToHz: number | null;
  filters: NamedFilter[];
  harmonics: { order: number; levelsDbc: (number | null)[] }[];
}

export interface ResponseDocument {
  file: string;
  reference: string | null;
  sampleRateHz: number;
  /** What was found, as the manifest has it. */
  sweep: { tracks: string[]; startHz: number; endHz: number; levelDbfs: number; durationSeconds: number };
  channels: RespondedChannel[];
}

/** As many digits as no reading of 24-bit samples reaches. */
function digits(value: number, count: number): number {
  return Number(value.toPrecision(count));
}

function decimals(value: number, count: number): number;
function decimals(value: number | null, count: number): number | null;
function decimals(value: number | null, count: number): number | null {
  return value === null ? null : Number(value.toFixed(count)) + 0;
}

/** A channel in which the sweep was not found. */
export function silentChannel(index: number): RespondedChannel {
  return {
    index,
    sweepStartSeconds: null,
    clockSkewPpm: null,
    frequenciesHz: [],
    magnitudesDb: [],
    uncertaintiesDb: [],
    phasesDeg: [],
    verdict: null,
    residualDb: null,
    fittedFromHz: null,
    fittedToHz: null,
    filters: [],
    harmonics: [],
  };
}

export function respondedChannel(
  index: number,
  sweepStartSeconds: number,
  response: ChannelResponse,
): RespondedChannel {
  const { finding, fitted } = response;
  return {
    index,
    sweepStartSeconds: decimals(sweepStartSeconds, 9),
    clockSkewPpm: decimals(response.clockSkewPpm, 2),
    frequenciesHz: response.frequenciesHz.map((hertz) => digits(hertz, 9)),
    magnitudesDb: response.magnitudesDb.map((level) => decimals(level, 5)),
    uncertaintiesDb: response.uncertaintiesDb.map((level) => decimals(level, 5)),
    phasesDeg: response.phasesDeg.map((degrees) => decimals(degrees, 3)),
    verdict: finding?.verdict ?? null,
    residualDb: decimals(finding?.residualDb ?? null, 4),
    fittedFromHz: fitted === null ? null : digits(fitted.lowHz, 6),
    fittedToHz: fitted === null ? null : digits(fitted.highHz, 6),
    filters: (finding?.filters ?? []).map((filter) => ({
      ...filter,
      cutoffHz: digits(filter.cutoffHz, 7),
      cutoffUncertaintyHz: digits(filter.cutoffUncertaintyHz, 3),
      residualDb: decimals(filter.residualDb, 4),
    })),
    harmonics: response.harmonics.map(({ order, levelsDbc }) => ({
      order,
      levelsDbc: levelsDbc.map((level) => decimals(level, 3)),
    })),
  };
}
