/** The spectra of the engine's states over each other, the lines of every comb marked. */
import type { Comb } from '../../../../dsp/noise/mains-comb.ts';
import { ENGINE_STATES, type EngineState, type NoiseState } from '../../../../procedure/noise/noise.ts';
import {
  type ChartMark,
  type ChartSeries,
  type ChartView,
  FREQUENCY_TICKS,
} from '../../../chart/chart-view.ts';
import { ENGINE_NAMES } from './purpose-words.ts';

const FACES: Record<EngineState, Pick<ChartSeries, 'shape' | 'tone'>> = {
  off: { shape: 'solid', tone: 'soft' },
  idle: { shape: 'dashed', tone: 'under' },
  revved: { shape: 'dotted', tone: 'ink' },
};

/** The scale ends at whole tens. */
const STEP_DB = 10;
/** Room above the highest line for the words of the marks. */
const WORDS_DB = 20;

function curves({ takes }: NoiseState, shiftDb: number): ChartSeries[] {
  return ENGINE_STATES.flatMap((engine): ChartSeries[] => {
    const curve = takes[engine]?.curve;
    if (curve === undefined) return [];
    const points = curve.frequenciesHz.map((x, index) => {
      const level = curve.levelsDbfs[index] ?? null;
      return { x, y: level === null ? null : level + shiftDb };
    });
    return [{ name: ENGINE_NAMES[engine], ...FACES[engine], points }];
  });
}

function heardCombs({ ripple, hum, takes, steadyTones }: NoiseState): Comb[] {
  const mains = hum === null ? null : (takes[hum.heardIn[0] ?? 'off']?.mains ?? null);
  return [ripple?.idle ?? null, ripple?.revved ?? null, mains, ...steadyTones.map(({ comb }) => comb)].filter(
    (comb) => comb !== null,
  );
}

function marks({ ripple, hum }: NoiseState): ChartMark[] {
  const at = (hz: number | undefined, words: string): ChartMark[] =>
    hz === undefined ? [] : [{ axis: 'x', at: hz, words: `${words} ${hz.toFixed(0)} Hz`, tone: 'over' }];
  return [
    ...at(hum?.fundamentalHz, 'mains'),
    ...at(ripple?.idle?.fundamentalHz, 'idle'),
    ...at(ripple?.revved?.fundamentalHz, 'revved'),
  ];
}

/** `null` while nothing was recorded. */
export function noiseView(state: NoiseState): ChartView | null {
  const { voltsPerFs } = state.task;
  const shiftDb = voltsPerFs === null ? 0 : 20 * Math.log10(voltsPerFs);
  const spectra = curves(state, shiftDb);
  const levels = spectra.flatMap(({ points }) => points.flatMap(({ y }) => (y === null ? [] : [y])));
  if (levels.length === 0) return null;
  const lines = heardCombs(state).flatMap((comb) =>
    comb.lines.map(({ frequencyHz, levelDbfs }) => ({ x: frequencyHz, y: levelDbfs + shiftDb })),
  );
  const combs: ChartSeries[] =
    lines.length === 0 ? [] : [{ name: 'lines that stand out', shape: 'dots', tone: 'over', points: lines }];
  const all = [...levels, ...lines.map(({ y }) => y)];
  const marked = marks(state);
  return {
    x: { scale: 'log', unit: 'Hz', lowest: 20, highest: 20_000, ticks: FREQUENCY_TICKS },
    y: {
      scale: 'linear',
      unit: `${voltsPerFs === null ? 'dBFS' : 'dBV'} in a twelfth of an octave`,
      lowest: STEP_DB * Math.floor(Math.min(...all) / STEP_DB),
      highest: STEP_DB * Math.ceil(Math.max(...all) / STEP_DB) + (marked.length > 0 ? WORDS_DB : 0),
    },
    series: [...spectra, ...combs],
    marks: marked,
  };
}

/** What a glance at the picture would see. */
export function noiseViewWords(state: NoiseState): string {
  const { findings } = state;
  if (findings.length > 0) return findings.map(({ sentence }) => sentence).join(' ');
  return 'No line stands out of the noise.';
}
