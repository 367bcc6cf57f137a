import { signed } from '../../../../job/format/number.ts';
import { type MicrophoneCurve, readsHighDb } from '../../../../plan/calibration/microphone-curve.ts';
import { type ChartView, FREQUENCY_TICKS } from '../../../chart/chart-view.ts';
import { toneFrequency } from '../../../format/tone-frequency.ts';

/** How much the microphone reads high, as far as its file goes. */
export function curveView(curve: MicrophoneCurve): ChartView {
  return {
    x: { scale: 'log', unit: 'Hz', lowest: 20, highest: 20_000, ticks: FREQUENCY_TICKS },
    y: { scale: 'linear', unit: 'dB' },
    series: [
      {
        name: 'the microphone reads high by',
        shape: 'solid',
        tone: 'ink',
        points: curve
          .filter(({ frequencyHz }) => frequencyHz >= 20 && frequencyHz <= 20_000)
          .map(({ frequencyHz, readsHighDb: y }) => ({ x: frequencyHz, y })),
      },
    ],
    marks: [{ axis: 'y', at: 0, words: 'reads true', tone: 'soft' }],
  };
}

/** What a glance at the curve would see, one sentence. */
export function curveWords(curve: MicrophoneCurve): string {
  const all = curve.map((point) => point.readsHighDb);
  const [first, last] = [curve[0], curve.at(-1)];
  if (first === undefined || last === undefined) return 'The file is empty.';
  const middle = readsHighDb(curve, 1000);
  const atMiddle = middle === null ? '' : `, ${signed(middle, 1)} dB at 1 kHz`;
  const [least, most] = [Math.min(...all), Math.max(...all)].map((value) => signed(value, 1));
  return `${curve.length} points from ${toneFrequency(first.frequencyHz)} to ${toneFrequency(last.frequencyHz)}: it reads between ${least} and ${most} dB off${atMiddle}. Beyond these ends the microphone is not known.`;
}
