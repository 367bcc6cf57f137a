/** What the supply and the ground drop under load. */
import type { Job } from '../document.ts';
import { fixed, NOTHING } from '../format/number.ts';
import type { RecordOf } from '../records.ts';
import { wireWords } from './chain.ts';
import { entered, measured, moment, plain } from './figures.ts';
import { insideCell, markCell, standingCell } from './marks.ts';
import type { Cell, ReportBlock, ReportSection } from './model.ts';
import { amplifierName, newestOf } from './newest.ts';
import { factsOf, tableOf } from './parts.ts';

type Supply = RecordOf<'supply'>;
type Leg = Supply['result']['ground'];

const MILLI = 1000;
const VERDICTS = { good: 'done', poor: 'out-of-tolerance', 'cannot-tell': 'not-done' } as const;

function milliohms(ohms: number | null): string {
  return ohms === null ? NOTHING : `${fixed(ohms * MILLI, 2)} mΩ`;
}

function legRow(name: string, leg: Leg): Cell[] {
  const inMilliohms = { unit: 'mΩ', decimals: 2 };
  const explained =
    leg.wireLowOhms === null || leg.wireHighOhms === null
      ? NOTHING
      : `${fixed(leg.wireLowOhms * MILLI, 2)} to ${milliohms(leg.wireHighOhms)}`;
  return [
    name,
    measured(leg.ohms * MILLI, leg.ohmsUncertainty * MILLI, inMilliohms),
    wireWords(leg.wire),
    explained,
    milliohms(leg.restOhms),
    { ...markCell(VERDICTS[leg.verdict]), text: leg.verdict.replace('-', ' ') },
  ];
}

/** As many decimals as the meter shows. */
function meterVolts(value: number, voltsPerDigit: number): string {
  return `${fixed(value, Math.max(0, -Math.floor(Math.log10(voltsPerDigit))))} V`;
}

function readingRows({ readings }: Supply['result']): Cell[][] {
  return Object.entries(readings).flatMap(([point, pair]) =>
    pair === null
      ? []
      : [
          [
            point.replace('-', ' '),
            meterVolts(pair.restVolts, pair.voltsPerDigit),
            meterVolts(pair.toneVolts, pair.voltsPerDigit),
          ],
        ],
  );
}

function blocksOf(job: Job, record: Supply): ReportBlock[] {
  const { result } = record;
  const name = amplifierName(job, result.amplifierId);
  const current =
    result.current.from === 'clamp'
      ? `by a clamp: ${entered(result.current.restAmperes, 'A')} at rest, ${entered(result.current.toneAmperes, 'A')} under the tone`
      : `from an output of ${entered(result.current.watts, 'W')}`;
  return [
    factsOf([
      ['Amplifier', `${name}, ${moment(record.at)}`],
      [
        'Drop on the ground leg under the tone',
        `${plain(result.groundDropVolts, 'V', 3)}; allowed ${entered(result.groundVolts, 'V')}`,
      ],
      [
        'The tone adds',
        `${measured(result.riseAmperes, result.riseAmperesUncertainty, { unit: 'A', decimals: 2 })}, ${current}`,
      ],
      ['The battery sags', plain(result.batterySagVolts, 'V', 3)],
      ['Multimeter', `${result.meter.percentOfReading} % of the reading and ${result.meter.digits} digits`],
      ['Judgement', insideCell(result.inside)],
      ['State', standingCell(job, record)],
    ]),
    ...tableOf(`Volts read, ${name}`, ['Point', '#At rest', '#Under the tone'], readingRows(result)),
    ...tableOf(
      `Resistance of the legs, ${name}`,
      ['Leg', '#Measured', 'Wire', '#Its wire explains', '#Left unexplained', 'Verdict'],
      [
        legRow('ground', result.ground),
        ...(result.positive === null ? [] : [legRow('plus, with its fuse', result.positive)]),
      ],
    ),
  ];
}

export function supplySection(job: Job): ReportSection {
  const records = newestOf(job, 'supply', ({ result }) => result.amplifierId);
  return {
    id: 'supply',
    heading: 'Quiet: supply and ground',
    blocks: records.flatMap((record) => blocksOf(job, record)),
  };
}
