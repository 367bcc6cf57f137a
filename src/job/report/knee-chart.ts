/** Distortion against voltage as the gain control was turned. */

import { percent, volts } from '../format/quantity.ts';
import type { RecordOf } from '../records.ts';
import { plain } from './figures.ts';
import type { ReportChart, ReportMark } from './model.ts';
import { linearRange } from './ranges.ts';

type Result = RecordOf<'gain'>['result'];

/** As on the screen's knee trace: from a good input's floor to a square wave. */
const LOWEST_PERCENT = 0.0002;
const HIGHEST_PERCENT = 50;

function marksOf({ aimVolts, knee }: Result, unit: 'V' | 'dBFS'): ReportMark[] {
  const aim: ReportMark[] =
    unit === 'V' ? [{ axis: 'x', at: aimVolts, words: `aim ${volts(aimVolts)}` }] : [];
  const at = unit === 'V' ? knee?.volts : knee?.levelDbfs;
  if (at == null) return aim;
  return [...aim, { axis: 'x', at, words: `knee ${unit === 'V' ? volts(at) : plain(at, unit, 2)}` }];
}

function words(name: string, { trace, knee }: Result): string {
  const floor = Math.min(...trace.map((point) => point.thdPercent));
  const found =
    knee === null
      ? 'no knee was seen'
      : `the knee was found at ${knee.volts === null ? plain(knee.levelDbfs, 'dBFS', 2) : volts(knee.volts)}`;
  return `${name}: ${trace.length} readings, distortion from ${percent(floor)} up; ${found}.`;
}

/** Nothing where no trace was kept: with a multimeter, or of one dot only. */
export function kneeChart(name: string, result: Result): ReportChart[] {
  const { trace } = result;
  if (trace.length < 2) return [];
  const unit = trace.every((point) => point.volts !== null) ? 'V' : 'dBFS';
  const points = trace.map((point) => ({
    x: unit === 'V' ? (point.volts ?? 0) : point.levelDbfs,
    y: Math.min(HIGHEST_PERCENT, Math.max(LOWEST_PERCENT, point.thdPercent)),
  }));
  const marks = marksOf(result, unit);
  return [
    {
      type: 'chart',
      title: `Knee trace, ${name}`,
      words: words(name, result),
      x: {
        scale: 'linear',
        title: unit,
        ...linearRange([...points.map(({ x }) => x), ...marks.map(({ at }) => at)]),
      },
      y: { scale: 'log', title: 'THD, %', lowest: LOWEST_PERCENT, highest: HIGHEST_PERCENT },
      series: [{ name: 'reading', line: 'dots', points }],
      marks,
    },
  ];
}
