/** What the document says of a part: figures by name, to as many digits as they are worth. */
import { levelScatterDb } from '../../dsp/noise/level-scatter.ts';
import { movingComb } from '../noise/ripple.ts';
import type { NoiseTakeReading } from '../take/noise-take.ts';
import type { PulseTakeReading } from '../take/pulse-take.ts';
import type { StepsTakeReading } from '../take/steps-take.ts';
import type { SweepTakeReading } from '../take/sweep-take.ts';
import type { ToneTakeReading } from '../take/tone-take.ts';
import type { CheckFigures, CheckTask } from './check.ts';
import type { PointFacts } from './facts.ts';
import { voltsOf } from './judge/level.ts';
import { belowTargetDb, targetDbfs } from './judge/noise.ts';
import type { ReadPart } from './read-parts.ts';
import { decimals } from './words.ts';

export function figuresOf({ reading }: ReadPart, facts: PointFacts, task: CheckTask): CheckFigures {
  switch (reading.kind) {
    case 'tone':
      return toneFigures(reading, task.voltsPerFs);
    case 'steps':
      return stepFigures(reading);
    case 'noise':
      return noiseFigures(reading, facts, task);
    case 'pink': {
      const [level] = reading.levels;
      return {
        levelDbfs: decimals(level?.levelDbfs ?? null, 3),
        uncertaintyDb: decimals(level?.uncertaintyDb ?? null, 3),
      };
    }
    case 'sweep':
      return sweepFigures(reading);
    case 'pulses':
      return pulseFigures(reading);
    case 'identification':
      return { loudestDbfs: decimals(reading.loudestDbfs, 2) };
    default:
      return reading satisfies never;
  }
}

function toneFigures(
  { channel: { tone, clipping } }: ToneTakeReading,
  voltsPerFs: number | null,
): CheckFigures {
  return {
    frequencyHz: decimals(tone?.frequencyHz ?? null, 6),
    levelDbfs: decimals(tone?.levelDbfs ?? null, 4),
    levelVolts: decimals(voltsOf(tone?.levelDbfs ?? null, voltsPerFs), 6),
    levelUncertaintyDb: decimals(tone?.uncertainty.levelDb ?? null, 5),
    thdPercent: decimals(tone?.thdPercent ?? null, 5),
    thdPlusNoisePercent: decimals(tone?.thdPlusNoisePercent ?? null, 5),
    clipping: clipping.verdict,
    overdriveDb: decimals(clipping.overdriveDb, 3),
    kneeDbfs: decimals(clipping.kneeDbfs, 3),
    kneeVolts: decimals(voltsOf(clipping.kneeDbfs, voltsPerFs), 5),
  };
}

function stepFigures({ judgement: { figures } }: StepsTakeReading): CheckFigures {
  return {
    levelsDbfs: figures?.steps.map(({ levelDbfs }) => decimals(levelDbfs, 4)) ?? null,
    stepErrorsDb: figures?.stepErrorsDb.map((error) => decimals(error, 4)) ?? null,
  };
}

function noiseFigures(reading: NoiseTakeReading, facts: PointFacts, task: CheckTask): CheckFigures {
  const { floor, mains, steady, interruptions } = reading;
  const { point } = facts;
  const referenceDbfs = point.at === 'terminals' ? targetDbfs(facts, point, task) : null;
  return {
    levelDbfs: decimals(floor.levelDbfs, 2),
    levelUncertaintyDb: decimals(levelScatterDb(floor.octaves), 3),
    levelVolts: decimals(voltsOf(floor.levelDbfs, task.voltsPerFs), 8),
    aWeightedDbfs: decimals(floor.aWeightedDbfs, 2),
    belowTargetDb: decimals(belowTargetDb(reading, referenceDbfs), 2),
    mainsHz: decimals(mains?.fundamentalHz ?? null, 3),
    whineHz: decimals(movingComb(reading)?.fundamentalHz ?? null, 2),
    steadyHz: decimals(steady?.fundamentalHz ?? null, 2),
    clicks: interruptions.clicks.length,
    dropouts: interruptions.dropouts.length,
  };
}

function sweepFigures({ response }: SweepTakeReading): CheckFigures {
  const finding = response?.finding ?? null;
  const transfer = response?.transfer ?? null;
  return {
    verdict: finding?.verdict ?? null,
    residualDb: decimals(finding?.residualDb ?? null, 3),
    filters:
      finding?.filters.map((filter) => ({
        ...filter,
        cutoffHz: Number(filter.cutoffHz.toPrecision(6)),
        cutoffUncertaintyHz: Number(filter.cutoffUncertaintyHz.toPrecision(3)),
        residualDb: decimals(filter.residualDb, 3),
      })) ?? [],
    inverted: response?.delay?.inverted ?? null,
    frequenciesHz: transfer?.frequenciesHz.map((hertz) => Number(hertz.toPrecision(6))) ?? [],
    magnitudesDb: transfer?.magnitudesDb.map((level) => decimals(level, 3)) ?? [],
    uncertaintiesDb: transfer?.uncertaintiesDb.map((level) => decimals(level, 3)) ?? [],
  };
}

function pulseFigures({ signalToNoiseDb, heard }: PulseTakeReading): CheckFigures {
  return {
    polarity: heard?.polarity ?? null,
    confidence: decimals(heard?.confidence ?? null, 4),
    pulses: heard?.pulses ?? null,
    signalToNoiseDb: decimals(signalToNoiseDb, 1),
  };
}
