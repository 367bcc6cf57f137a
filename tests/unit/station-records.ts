/** Invented records of the demo job's stations, valid by the schema; a test bends what it is about. */
import { type RecordKind, type RecordOf, record } from '../../src/job/records.ts';
import { gainRecord } from './job-records.ts';

type Bent<K extends RecordKind> = Partial<RecordOf<K>['result']>;

function valid<K extends RecordKind>(kind: K, id: string, result: object): RecordOf<K> {
  const { at, conditions } = gainRecord(id);
  return record.parse({ kind, id, at, conditions, result }) as RecordOf<K>;
}

export function gainOf(id: string, bent: Bent<'gain'> = {}): RecordOf<'gain'> {
  return valid('gain', id, { ...gainRecord(id).result, ...bent });
}

const tone = (frequencyHz: number) => ({ frequencyHz, levelDbfs: -5 });

export function sourceOf(id: string, bent: Bent<'source'> = {}): RecordOf<'source'> {
  return valid('source', id, {
    point: 'converter',
    side: 'left',
    volumeSteps: 40,
    tones: { middle: tone(997), bass: tone(45), treble: tone(8000) },
    steps: [
      {
        step: 30,
        levelDbfs: -12,
        volts: 1.6,
        thdPercent: 0.02,
        verdict: 'clean',
        overdriveDb: null,
        bassDb: 0,
        trebleDb: 0,
        bassVerdict: 'clean',
      },
    ],
    highestCleanStep: 30,
    cleanToTop: false,
    ceilingDbfs: -12,
    ceilingVolts: 1.6,
    ceilingVoltsUncertainty: 0.01,
    kneeVolts: 1.7,
    clippedTone: 'middle',
    bassCutFromStep: null,
    bassCutAtCeilingDb: 0,
    limitsFromStep: null,
    grade: 'valid',
    doubts: [],
    findings: [],
    ...bent,
  });
}

export function crossoverOf(
  id: string,
  cutoffHz: number,
  bent: Bent<'crossover'> = {},
): RecordOf<'crossover'> {
  return valid('crossover', id, {
    channelId: 'front-left',
    inside: true,
    tolerancePercent: 10,
    reference: null,
    sweep: { startHz: 20, endHz: 20_000, levelDbfs: -20, durationSeconds: 5 },
    highPass: {
      wantedHz: 80,
      wanted: { alignment: 'linkwitz-riley', order: 4 },
      found: {
        alignment: 'linkwitz-riley',
        order: 4,
        cutoffHz,
        cutoffUncertaintyHz: 0.1,
        slopeDbPerOctave: 24,
      },
      errorPercent: 100 * (cutoffHz / 80 - 1),
      inside: true,
    },
    lowPass: { wantedHz: null, wanted: null, found: null, errorPercent: null, inside: null },
    verdict: 'filters',
    residualDb: 0.02,
    inverted: false,
    sums: [],
    curve: { frequenciesHz: [100], magnitudesDb: [-3], phasesDeg: [0], uncertaintiesDb: [0.1] },
    grade: 'valid',
    doubts: [],
    findings: [],
    ...bent,
  });
}

const side = (channelId: string) => ({
  channelId,
  levelDbfs: -10,
  volts: 10,
  uncertaintyDb: 0.05,
  spreadDb: null,
  places: [],
  roomDb: null,
  trimDb: 0,
});

export function levelOf(id: string, bent: Bent<'level'> = {}): RecordOf<'level'> {
  return valid('level', id, {
    way: 'wire',
    weighting: null,
    toleranceDb: 0.5,
    channels: [side('front-left'), side('front-right')],
    pairs: [],
    worstDifferenceDb: 0.1,
    inside: true,
    findings: [],
    ...bent,
  });
}
