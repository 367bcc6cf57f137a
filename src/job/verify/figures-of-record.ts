import { ALIGNMENT_NAMES } from '../../procedure/crossover/words.ts';
import type { JobRecord, RecordOf } from '../records.ts';
import { type BareFigure, linear, type NameOf, word } from './bare-figure.ts';
import { alike, loaded, supply, volumeStep } from './circumstances.ts';
import { checkFigures } from './figures-of-check.ts';
import type { RecordedFigure } from './recorded-figure.ts';

/** A knee is found against full scale; in volts, the calibration's uncertainty comes to it. */
function gainFigures({ result, conditions }: RecordOf<'gain'>, nameOf: NameOf): BareFigure[] {
  const { channelId, volts, voltsUncertainty, toneDbfs, toneHz, knee } = result;
  const name = nameOf(channelId);
  const tone = [alike('the tone', toneHz, 'Hz', 0.5), alike('the level of the tone', toneDbfs, 'dBFS', 0.01)];
  const set: BareFigure = {
    key: `gain/${channelId}/volts`,
    title: `gain of the ${name}`,
    value: volts,
    unit: 'V',
    uncertainty: voltsUncertainty,
    circumstances: [volumeStep(conditions), loaded(conditions), ...tone],
  };
  if (knee === null || knee.volts === null) return [set];
  const scale = conditions.calibration;
  const bend: BareFigure = {
    key: `gain/${channelId}/knee`,
    title: `knee of the ${name}`,
    value: knee.volts,
    unit: 'V',
    uncertainty: scale === null ? null : linear(knee.volts, knee.uncertaintyDb, scale.uncertaintyDb),
    circumstances: [supply(conditions), loaded(conditions)],
  };
  return [set, bend];
}

function sourceFigures({ result }: RecordOf<'source'>): BareFigure[] {
  const { point, side, highestCleanStep, ceilingVolts, ceilingVoltsUncertainty } = result;
  const where = [alike('the point', point), alike('the side', side)];
  return [
    {
      ...word('source/step', 'highest clean step of the radio', `step ${highestCleanStep}`),
      circumstances: where,
    },
    {
      key: 'source/ceiling',
      title: `ceiling of the radio at the ${point}`,
      value: ceilingVolts,
      unit: 'V',
      uncertainty: ceilingVoltsUncertainty,
      circumstances: [...where, alike('the highest clean step', highestCleanStep)],
    },
  ];
}

function crossoverFigures({ result, conditions }: RecordOf<'crossover'>, nameOf: NameOf): BareFigure[] {
  const { channelId, reference } = result;
  const ends = [
    ['highPass', 'high-pass'],
    ['lowPass', 'low-pass'],
  ] as const;
  // Without a reference the radio's own shaping is in the curve, and it goes with the volume.
  const circumstances = [
    alike('the reference', reference?.way ?? 'none'),
    ...(reference === null ? [volumeStep(conditions)] : []),
  ];
  return ends.flatMap(([end, words]): BareFigure[] => {
    const { found, wantedHz } = result[end];
    if (found === null && wantedHz === null) return [];
    const slope =
      found === null || found.alignment === null || found.order === null
        ? null
        : `${ALIGNMENT_NAMES[found.alignment]}, order ${found.order}`;
    const of = `${words} of the ${nameOf(channelId)}`;
    return [
      {
        key: `crossover/${channelId}/${words}/corner`,
        title: `corner of the ${of}`,
        value: found?.cutoffHz ?? null,
        unit: 'Hz',
        uncertainty: found?.cutoffUncertaintyHz ?? null,
        circumstances,
      },
      word(`crossover/${channelId}/${words}/slope`, `slope of the ${of}`, slope),
    ];
  });
}

function levelFigures({ result }: RecordOf<'level'>, nameOf: NameOf): BareFigure[] {
  const { way, weighting, microphoneFile, pairs } = result;
  return pairs.map(({ leftId, rightId, differenceDb, uncertaintyDb }) => ({
    key: `level/${leftId}/${rightId}`,
    title: `level of the ${nameOf(leftId)} against the ${nameOf(rightId)}`,
    value: differenceDb,
    unit: 'dB',
    uncertainty: uncertaintyDb,
    circumstances: [
      alike('the way of reading', way),
      alike('the weighting', weighting ?? 'none'),
      alike("the microphone's file", microphoneFile ?? 'none'),
    ],
  }));
}

function polarityFigures({ result }: RecordOf<'polarity'>, nameOf: NameOf): BareFigure[] {
  return result.channels.map(({ channelId, verdict }) =>
    word(
      `polarity/${channelId}`,
      `polarity of the ${nameOf(channelId)}`,
      verdict === 'cannot-tell' ? null : verdict,
    ),
  );
}

/** Against the first to arrive: which one that is belongs to what is compared. */
function arrivalFigures({ result }: RecordOf<'arrival'>, nameOf: NameOf): BareFigure[] {
  const first = result.channels.find(({ arrivalMs }) => arrivalMs === 0)?.channelId ?? 'none';
  return result.channels.map(({ channelId, arrivalMs, uncertaintyMs }) => ({
    key: `arrival/${channelId}`,
    title: `arrival of the ${nameOf(channelId)}`,
    value: arrivalMs,
    unit: 'ms',
    uncertainty: uncertaintyMs,
    circumstances: [alike('the first to arrive', first)],
  }));
}

function noiseFigures({ result, conditions }: RecordOf<'noise'>, nameOf: NameOf): BareFigure[] {
  const { channelId, place, targetVolts, belowTargetDb, belowTargetUncertaintyDb, ripple, hum } = result;
  const at = channelId === null ? 'at the microphone' : `of the ${nameOf(channelId)}`;
  const key = `noise/${channelId ?? place}`;
  const engines = result.states.map(({ engine }) => engine).join(', ');
  const heard = [volumeStep(conditions), alike('the states of the engine', engines)];
  return [
    {
      key: `${key}/below-target`,
      title: `noise ${at} below its target`,
      value: belowTargetDb,
      unit: 'dB',
      uncertainty: belowTargetUncertaintyDb,
      circumstances: [...heard, alike('the target', targetVolts, 'V', 0.01)],
    },
    {
      ...word(`${key}/whine`, `engine whine ${at}`, ripple === null ? 'not heard' : 'heard'),
      circumstances: heard,
    },
    {
      ...word(`${key}/hum`, `mains hum ${at}`, hum === null ? 'not heard' : `heard at ${hum.nominalHz} Hz`),
      circumstances: heard,
    },
  ];
}

function supplyFigures({ result }: RecordOf<'supply'>, nameOf: NameOf): BareFigure[] {
  const { amplifierId, ground, positive, groundDropVolts, riseAmperes } = result;
  const leg = (name: string, found: typeof ground): BareFigure => ({
    key: `supply/${amplifierId}/${name}`,
    title: `resistance of the ${name} leg of the ${nameOf(amplifierId)}`,
    value: 1000 * found.ohms,
    unit: 'mΩ',
    uncertainty: 1000 * found.ohmsUncertainty,
    circumstances: [],
  });
  return [
    leg('ground', ground),
    ...(positive === null ? [] : [leg('positive', positive)]),
    {
      key: `supply/${amplifierId}/ground-drop`,
      title: `drop on the ground leg of the ${nameOf(amplifierId)}`,
      value: groundDropVolts,
      unit: 'V',
      uncertainty: null,
      circumstances: [alike('the current', riseAmperes, 'A', 0.05 * riseAmperes)],
    },
  ];
}

type StationRecord = Exclude<JobRecord, { kind: 'check' }>;

function bareFigures(record: StationRecord, nameOf: NameOf): BareFigure[] {
  switch (record.kind) {
    case 'gain':
      return gainFigures(record, nameOf);
    case 'source':
      return sourceFigures(record);
    case 'crossover':
      return crossoverFigures(record, nameOf);
    case 'level':
      return levelFigures(record, nameOf);
    case 'polarity':
      return polarityFigures(record, nameOf);
    case 'arrival':
      return arrivalFigures(record, nameOf);
    case 'noise':
      return noiseFigures(record, nameOf);
    case 'supply':
      return supplyFigures(record, nameOf);
    case 'input':
      return [word('input', 'honesty of the input', record.result.verdict)];
    case 'load':
      return [word('load', 'load of the radio', record.result.sensesLoad ? 'sensed' : 'not sensed')];
    case 'sides':
      return [word('sides', 'left and right', record.result.verdict)];
    case 'turn-on':
      return [word('turn-on', 'converter in silence', record.result.sleeps ? 'falls asleep' : 'stays awake')];
  }
}

const STATIONS: Record<StationRecord['kind'], RecordedFigure['station']> = {
  input: 'input',
  source: 'source',
  load: 'source',
  sides: 'source',
  'turn-on': 'source',
  gain: 'gain',
  crossover: 'crossover',
  level: 'balance',
  polarity: 'balance',
  arrival: 'balance',
  noise: 'quiet',
  supply: 'quiet',
};

/** What of a record can be held against another visit's, each with what it leaves open and depends on. */
export function figuresOfRecord(record: JobRecord, nameOf: NameOf): RecordedFigure[] {
  const { id: recordId, at, kind } = record;
  const figures =
    record.kind === 'check'
      ? checkFigures(record, nameOf)
      : bareFigures(record, nameOf).map((bare) => ({ ...bare, station: STATIONS[record.kind] }));
  return figures.map((figure) => ({ ...figure, recordId, kind, at }));
}
