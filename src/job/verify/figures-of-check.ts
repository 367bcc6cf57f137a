/**
 * What a check by the run track says of the same things as the stations: under the same keys, so that either may be
 * held against the other wherever their circumstances allow it.
 */
import { ALIGNMENT_NAMES } from '../../procedure/crossover/words.ts';
import type { RecordOf } from '../records.ts';
import { type BareFigure, linear, type NameOf, word } from './bare-figure.ts';
import { alike, loaded, volumeStep } from './circumstances.ts';
import type { Circumstance } from './recorded-figure.ts';

type Check = RecordOf<'check'>;
type Part = Check['result']['parts'][number];
type Sited = BareFigure & { station: 'gain' | 'crossover' | 'balance' | 'quiet' };

/** By microphone the place is in every level; only terminals give figures that another visit can repeat. */
export function checkFigures(record: Check, nameOf: NameOf): Sited[] {
  return record.result.parts
    .filter(({ channel, verdict }) => channel !== 'cabin' && verdict !== 'missing')
    .filter((part) => part.kind === 'polarity' || isBelieved(record, part))
    .flatMap((part) => partFigures(record, part, nameOf));
}

/** What an input that was found not to be honest makes of a level is no figure of the vehicle. */
function isBelieved({ result }: Check, { channel }: Part): boolean {
  return !result.faults.some((one) => one.fault === 'input-not-honest' && one.channel === channel);
}

function partFigures(record: Check, part: Part, nameOf: NameOf): Sited[] {
  switch (part.kind) {
    case 'sine':
      return toneFigures(record, part, nameOf);
    case 'sweep':
      return filterFigures(record, part, nameOf);
    case 'silence':
      return noiseFigures(record, part, nameOf);
    case 'polarity':
      return polarityFigures(part, nameOf);
    default:
      return [];
  }
}

function number(part: Part, name: string): number | null {
  const value = part.reading[name];
  return typeof value === 'number' ? value : null;
}

function toneCircumstances({ conditions }: Check, { playedHz, playedDbfs }: Part): Circumstance[] {
  return [
    volumeStep(conditions),
    loaded(conditions),
    alike('the tone', playedHz, 'Hz', 0.5),
    alike('the level of the tone', playedDbfs, 'dBFS', 0.01),
  ];
}

function isLoudest({ result }: Check, part: Part): boolean {
  return result.parts.every(
    (one) =>
      one.kind !== 'sine' ||
      one.channel !== part.channel ||
      (one.playedDbfs ?? Number.NEGATIVE_INFINITY) <= (part.playedDbfs ?? Number.NEGATIVE_INFINITY),
  );
}

function toneFigures(record: Check, part: Part, nameOf: NameOf): Sited[] {
  const { channel } = part;
  const name = nameOf(channel);
  const volts = number(part, 'levelVolts');
  const ownDb = number(part, 'levelUncertaintyDb');
  const scaleDb = record.result.voltsUncertaintyDb;
  const circumstances = toneCircumstances(record, part);
  const isFull = isLoudest(record, part);
  const at = isFull ? '' : ` at ${part.id}`;
  const clipping = part.reading.clipping === 'undecided' ? null : part.reading.clipping;
  return [
    ...(volts === null
      ? []
      : [
          {
            station: 'gain' as const,
            key: `gain/${channel}/volts${isFull ? '' : `/${part.id}`}`,
            title: `gain of the ${name}${at}`,
            value: volts,
            unit: 'V',
            uncertainty: ownDb === null || scaleDb === null ? null : linear(volts, ownDb, scaleDb),
            circumstances,
          },
        ]),
    {
      station: 'gain',
      ...word(
        `gain/${channel}/clipping/${part.id}`,
        `tone of the ${name}${at}`,
        typeof clipping === 'string' ? clipping : null,
      ),
      circumstances,
    },
  ];
}

interface FoundFilter {
  kind: 'high-pass' | 'low-pass';
  cutoffHz: number;
  cutoffUncertaintyHz: number;
  alignment: keyof typeof ALIGNMENT_NAMES | null;
  order: number | null;
}

/** Swept without a reference: the radio's own shaping is in the curve, and it goes with the volume. */
function filterFigures({ conditions }: Check, part: Part, nameOf: NameOf): Sited[] {
  const filters = (Array.isArray(part.reading.filters)
    ? part.reading.filters
    : []) as unknown as FoundFilter[];
  const circumstances = [alike('the reference', 'none'), volumeStep(conditions)];
  return filters.flatMap(({ kind, cutoffHz, cutoffUncertaintyHz, alignment, order }): Sited[] => {
    const of = `${kind} of the ${nameOf(part.channel)}`;
    const slope =
      alignment === null || order === null ? null : `${ALIGNMENT_NAMES[alignment]}, order ${order}`;
    return [
      {
        station: 'crossover',
        key: `crossover/${part.channel}/${kind}/corner`,
        title: `corner of the ${of}`,
        value: cutoffHz,
        unit: 'Hz',
        uncertainty: cutoffUncertaintyHz,
        circumstances,
      },
      {
        station: 'crossover',
        ...word(`crossover/${part.channel}/${kind}/slope`, `slope of the ${of}`, slope),
      },
    ];
  });
}

/** What the loudest tone at a channel was to read; `null` where nothing was asked of it. */
function targetVolts(record: Check, channel: string): number | null {
  const full = record.result.parts.find(
    (part) => part.kind === 'sine' && part.channel === channel && isLoudest(record, part),
  );
  const volts = full?.limits.targetVolts;
  return typeof volts === 'number' ? volts : null;
}

function noiseFigures(record: Check, part: Part, nameOf: NameOf): Sited[] {
  const { result, conditions } = record;
  const ownDb = number(part, 'levelUncertaintyDb');
  const { engineRunning } = conditions;
  const engines = engineRunning === null ? null : engineRunning ? 'running' : 'off';
  return [
    {
      station: 'quiet',
      key: `noise/${part.channel}/below-target`,
      title: `noise of the ${nameOf(part.channel)} below its target`,
      value: number(part, 'belowTargetDb'),
      unit: 'dB',
      uncertainty: ownDb === null ? null : Math.hypot(ownDb, result.voltsUncertaintyDb ?? 0),
      circumstances: [
        volumeStep(conditions),
        alike('the states of the engine', engines),
        alike('the target', targetVolts(record, part.channel), 'V', 0.01),
      ],
    },
  ];
}

const WAYS_UP: Record<string, string> = { upright: 'the right way up', inverted: 'the other way up' };

/** At terminals it is the wiring's; the Balance station tells what the driver makes of it. */
function polarityFigures(part: Part, nameOf: NameOf): Sited[] {
  const { polarity } = part.reading;
  const value = typeof polarity === 'string' ? (WAYS_UP[polarity] ?? null) : null;
  const title = `polarity at the terminals of the ${nameOf(part.channel)}`;
  return [{ station: 'balance', ...word(`polarity/${part.channel}/terminals`, title, value) }];
}
