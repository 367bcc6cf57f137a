/** Under which conditions, and with which instruments, everything was recorded. */
import type { Job } from '../document.ts';
import { NOTHING } from '../format/number.ts';
import { plusMinusPercent, volts } from '../format/quantity.ts';
import { channelsOf } from '../progress/changed-since.ts';
import type { CalibrationStamp, JobRecord } from '../records.ts';
import { moment, plain, yesNo } from './figures.ts';
import { standingCell } from './marks.ts';
import type { Cell, ReportSection } from './model.ts';
import { amplifierName, channelName, recordNumber } from './newest.ts';
import { tableOf } from './parts.ts';

const BASES: Record<CalibrationStamp['basis'], string> = {
  multimeter: 'against a multimeter',
  divider: 'from the divider’s values',
  assumed: 'assumed, not measured',
  'practice-rig': 'of the practice rig: simulated',
};

/** `null` where it is of no channel or amplifier in particular. */
function subjectOf(job: Job, record: JobRecord): string | null {
  if (record.kind === 'supply') return amplifierName(job, record.result.amplifierId);
  const channels = channelsOf(record);
  return channels.length === 1 ? channelName(job, channels[0] ?? null) : null;
}

/** Each calibration once, oldest first; the report calls them by their place, from 1. */
function calibrationsOf({ records }: Job): CalibrationStamp[] {
  const stamps = new Map<string, CalibrationStamp>();
  for (const { conditions } of records) {
    const stamp = conditions.calibration;
    if (stamp !== null) stamps.set(JSON.stringify(stamp), stamp);
  }
  return [...stamps.values()];
}

function calibrationWords(stamps: readonly CalibrationStamp[], stamp: CalibrationStamp | null): string {
  if (stamp === null) return 'none';
  const text = JSON.stringify(stamp);
  return `${stamps.findIndex((one) => JSON.stringify(one) === text) + 1}`;
}

function recordRow(job: Job, record: JobRecord, stamps: readonly CalibrationStamp[]): Cell[] {
  const { conditions } = record;
  return [
    `${recordNumber(job, record)}`,
    [record.kind, subjectOf(job, record)].filter((word) => word !== null).join(', '),
    moment(record.at),
    volts(conditions.supplyVolts),
    yesNo(conditions.engineRunning, 'running', 'off'),
    yesNo(conditions.loaded, 'connected', 'unplugged'),
    conditions.volumeStep === null ? NOTHING : `${conditions.volumeStep}`,
    conditions.input ?? 'not noted',
    calibrationWords(stamps, conditions.calibration),
    standingCell(job, record),
    conditions.note,
  ];
}

function calibrationRows(stamps: readonly CalibrationStamp[]): Cell[][] {
  return stamps.map((stamp, index) => [
    `${index + 1}`,
    stamp.deviceLabel,
    plain(stamp.voltsPerFs, 'V', 3),
    plusMinusPercent(stamp.uncertaintyDb),
    BASES[stamp.basis],
    moment(stamp.at),
  ]);
}

export function conditionsSection(job: Job): ReportSection {
  const stamps = calibrationsOf(job);
  return {
    id: 'conditions',
    heading: 'Conditions and instruments',
    blocks: [
      ...tableOf(
        'Calibrations (volts RMS at the measured point of a full-scale sine at the input)',
        ['Calibration', 'Device', '#Full scale', '#Uncertainty', 'Basis', '@Made'],
        calibrationRows(stamps),
      ),
      ...tableOf(
        'Every record, oldest first: nothing recorded is ever replaced',
        [
          'Record',
          'What',
          '@When',
          '#Supply',
          'Engine',
          'Drivers',
          '#Volume step',
          'Input',
          '#Calibration',
          'State',
          'Note',
        ],
        job.records.map((record) => recordRow(job, record, stamps)),
      ),
    ],
  };
}
