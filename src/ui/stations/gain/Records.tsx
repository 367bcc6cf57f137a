import { fixed } from '../../../job/format/number.ts';
import { decibels, plusMinusVolts, volts } from '../../../job/format/quantity.ts';
import type { RecordOf } from '../../../job/records.ts';
import { REDUCED_BY_DB } from '../../../procedure/gain/tone-level.ts';
import { toneLevel } from '../../format/tone-frequency.ts';
import { MARK_WORDS, type Mark } from '../../marks/mark.ts';
import { type RecordedLine, RecordedList } from '../parts/RecordedList.tsx';
import { shortConclusion } from './burst-figures.ts';

function conditionsWords(record: RecordOf<'gain'>): string {
  const { supplyVolts, engineRunning, loaded, volumeStep, calibration } = record.conditions;
  const parts = [
    supplyVolts === null ? 'supply not noted' : `supply ${fixed(supplyVolts, 1)} V`,
    engineRunning === null ? null : engineRunning ? 'engine running' : 'engine off',
    loaded === null ? null : loaded ? 'speaker connected' : 'speaker pulled',
    volumeStep === null ? null : `volume step ${volumeStep}`,
    record.result.way === 'meter'
      ? 'read by multimeter'
      : calibration === null
        ? null
        : calibration.deviceLabel,
  ];
  return parts.filter((part) => part !== null).join(' · ');
}

/** What a plain setting by the planned tone has none of: a reduced tone, bursts, a stage named. */
function howSet({ toneDbfs, overlapDb, bursts, clippingStage }: RecordOf<'gain'>['result']): string[] {
  const lines: string[] = [];
  const isReduced = overlapDb !== null && toneDbfs <= -overlapDb - REDUCED_BY_DB;
  if (isReduced) lines.push(`set with the tone at ${toneLevel(toneDbfs)}`);
  if (bursts !== null) lines.push(recordedBursts(bursts));
  if (clippingStage !== null && clippingStage.stage !== 'none') {
    lines.push(`two readings named the clipping stage: ${clippingStage.stage}`);
  }
  return lines;
}

function recordedBursts({ readings, conclusion }: NonNullable<RecordOf<'gain'>['result']['bursts']>): string {
  const highest = readings.at(-1);
  if (highest === undefined) return 'bursts not read';
  return `bursts to ${toneLevel(highest.toneDbfs)}: ${shortConclusion(conclusion)}`;
}

function lineOf(record: RecordOf<'gain'>): RecordedLine {
  const { result } = record;
  const mark: Mark = result.inside ? 'done' : 'out-of-tolerance';
  return {
    mark,
    words: (
      <>
        <b>
          {volts(result.volts)} {plusMinusVolts(result.voltsUncertainty)}
        </b>{' '}
        {result.inside ? 'inside' : MARK_WORDS[mark]}, {decibels(result.errorDb, 2)} of{' '}
        {volts(result.aimVolts)}
        {result.knee?.volts != null && <>, knee {volts(result.knee.volts)}</>}
        {howSet(result).map((line) => (
          <span key={line} className="how-set">
            {line}
          </span>
        ))}
      </>
    ),
    foot: conditionsWords(record),
  };
}

/** Every accepted reading of one channel. */
export function Records({ records }: { records: readonly RecordOf<'gain'>[] }) {
  return (
    <RecordedList
      label="Accepted readings"
      nothing="Nothing accepted on this channel yet."
      records={records}
      line={lineOf}
    />
  );
}
