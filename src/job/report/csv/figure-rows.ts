/** Every figure and every word of a record on a row of its own. */
import { channelsOf } from '../../progress/changed-since.ts';
import type { JobRecord } from '../../records.ts';

export interface FigureRow {
  recordId: string;
  kind: string;
  at: string;
  /** Channel that the figure is of; empty where it is of none, or of several. */
  channel: string;
  /** Where it stands in the record, its unit at the end of its name: `result.knee.volts`. */
  figure: string;
  value: string | number | boolean | null;
  /** Standard uncertainty (k = 1); `null` where none stands beside the figure. */
  uncertainty: number | null;
  /** Name of the uncertainty, which ends in its unit. */
  uncertaintyName: string;
}

/** Uncertainties that do not carry the name of their figure: which figures beside them they are of. */
const SHARED: Record<string, readonly string[]> = {
  uncertaintyDb: ['levelDbfs', 'differenceDb', 'riseDb'],
  uncertaintyMs: ['arrivalMs'],
  uncertaintyHz: ['fundamentalHz'],
};

type Plain = Record<string, unknown>;

function isPlain(value: unknown): value is Plain {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** `cutoffHz` has `cutoffUncertaintyHz`, `volts` has `voltsUncertainty`. */
function ownUncertaintyNames(name: string): string[] {
  const unit = /[A-Z][a-z]+$/.exec(name)?.[0] ?? '';
  const stem = name.slice(0, name.length - unit.length);
  return [`${name}Uncertainty`, ...(unit === '' ? [] : [`${stem}Uncertainty${unit}`])];
}

function uncertaintyOf(parent: Plain, name: string): Pick<FigureRow, 'uncertainty' | 'uncertaintyName'> {
  const shared = Object.keys(SHARED).filter((key) => SHARED[key]?.includes(name));
  for (const key of [...ownUncertaintyNames(name), ...shared]) {
    const found = parent[key];
    if (typeof found === 'number') return { uncertainty: found, uncertaintyName: key };
  }
  return { uncertainty: null, uncertaintyName: '' };
}

type Stamp = Pick<FigureRow, 'recordId' | 'kind' | 'at'>;

/** A check names the channel of each part otherwise than the stations' records. */
function channelIn({ channelId, channel }: Plain): string | null {
  if (typeof channelId === 'string') return channelId;
  return typeof channel === 'string' ? channel : null;
}

function rowsUnder(stamp: Stamp, path: string, value: unknown, parent: Plain, channel: string): FigureRow[] {
  if (Array.isArray(value)) {
    return value.flatMap((one, index) => rowsUnder(stamp, `${path}[${index}]`, one, {}, channel));
  }
  if (isPlain(value)) {
    const of = channelIn(value) ?? channel;
    return Object.entries(value).flatMap(([name, inner]) =>
      rowsUnder(stamp, `${path}.${name}`, inner, value, of),
    );
  }
  const name = path.slice(path.lastIndexOf('.') + 1);
  const plain = value as FigureRow['value'];
  return [{ ...stamp, channel, figure: path, value: plain, ...uncertaintyOf(parent, name) }];
}

/** In the order in which the record holds them. */
export function figureRows(record: JobRecord): FigureRow[] {
  const stamp = { recordId: record.id, kind: record.kind, at: record.at };
  const channels = channelsOf(record);
  const channel = channels.length === 1 ? (channels[0] ?? '') : '';
  return [
    ...rowsUnder(stamp, 'result', record.result, {}, channel),
    ...rowsUnder(stamp, 'conditions', record.conditions, {}, channel),
  ];
}
