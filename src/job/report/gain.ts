/** Plan against reading: what each channel should give and what it gave, with knee and room. */
import type { Job } from '../document.ts';
import { fixed, NOTHING } from '../format/number.ts';
import { percent, volts } from '../format/quantity.ts';
import type { RecordOf } from '../records.ts';
import { measured, moment, plain } from './figures.ts';
import { kneeChart } from './knee-chart.ts';
import { standingCell } from './marks.ts';
import type { Cell, ReportSection } from './model.ts';
import { channelName, inChannelOrder, newestOf } from './newest.ts';
import { tableOf } from './parts.ts';

type Gain = RecordOf<'gain'>;

export function newestGains(job: Job): Gain[] {
  const newest = newestOf(job, 'gain', ({ result }) => result.channelId);
  return inChannelOrder(job, newest, ({ result }) => result.channelId);
}

function readingRow(job: Job, record: Gain): Cell[] {
  const { result } = record;
  return [
    channelName(job, result.channelId),
    volts(result.targetVolts),
    `${fixed(result.toneHz, 1)} Hz at ${fixed(result.toneDbfs, 2)} dBFS`,
    volts(result.aimVolts) + (result.limitedByKnee ? ' (lowered: the knee)' : ''),
    measured(result.volts, result.voltsUncertainty, { unit: 'V', decimals: 2 }),
    measured(result.errorDb, null, { unit: 'dB', decimals: 2, isDifference: true }),
    `±${result.toleranceDb} dB`,
    standingCell(job, record),
    result.way === 'wire' ? 'by wire' : 'typed from a multimeter',
    moment(record.at),
  ];
}

const VERDICTS = {
  clean: 'clean',
  clipped: 'clipped',
  'input-overload': 'input overloaded',
  undecided: 'undecided',
} as const;

function burstWords({ bursts }: Gain['result']): string {
  if (bursts === null) return 'not played';
  const { conclusion } = bursts;
  if (conclusion.verdict === 'clean') return `clean at ${volts(conclusion.cleanVolts)}`;
  if (conclusion.verdict === 'clipped') {
    return `clipped: turn back ${plain(conclusion.turnBackDb, 'dB', 1)}`;
  }
  return `undecided: ${conclusion.why}`;
}

function kneeWords({ knee }: Gain['result']): string {
  if (knee === null) return 'not seen';
  const at = knee.volts === null ? plain(knee.levelDbfs, 'dBFS', 2) : volts(knee.volts);
  return `${at} ± ${fixed(2 * knee.uncertaintyDb, 2)} dB`;
}

function kneeRow(job: Job, { result }: Gain): Cell[] {
  const { knee } = result;
  const found = { overdrive: 'overdrive of a clipped tone', trace: 'distortion against voltage' };
  return [
    channelName(job, result.channelId),
    kneeWords(result),
    knee === null ? NOTHING : found[knee.from] + (knee.disputed ? ' (the other way disagrees)' : ''),
    measured(result.marginDb, null, { unit: 'dB', decimals: 2, isDifference: true }),
    percent(result.thdPercent),
    result.clippingVerdict === null ? NOTHING : VERDICTS[result.clippingVerdict],
    burstWords(result),
  ];
}

export function gainSection(job: Job): ReportSection {
  const records = newestGains(job);
  return {
    id: 'gain',
    heading: 'Gain: plan against reading',
    blocks: [
      ...tableOf(
        'Plan against reading (volts RMS)',
        [
          'Channel',
          '#Full target',
          'Tone',
          '#Must read',
          '#Reads',
          '#Off by',
          '#Allowed',
          'State',
          'How',
          '@Measured',
        ],
        records.map((record) => readingRow(job, record)),
      ),
      ...tableOf(
        'Knee and room above the target',
        ['Channel', '#Knee', 'Found by', '#Knee over target', '#THD', 'Tone was', 'Bursts at full level'],
        records.map((record) => kneeRow(job, record)),
      ),
      ...records.flatMap((record) => kneeChart(channelName(job, record.result.channelId), record.result)),
    ],
  };
}
