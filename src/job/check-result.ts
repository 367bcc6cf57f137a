import type { CheckedPart, CheckReport, CheckTask, RunPart } from '../procedure/check/check.ts';
import type { RecordOf } from './records.ts';

type CheckResult = RecordOf<'check'>['result'];

/** What the report itself does not say of where it comes from. */
export interface CheckOrigin {
  /** Name of the file that was checked. */
  recording: string;
  run: { file: string; parts: readonly RunPart[] };
  /** For each channel of the recording: one of the job's channels, `cabin`, or `none`. */
  at: readonly string[];
  voltsPerFs: CheckTask['voltsPerFs'];
  /** Standard uncertainty (k = 1) of `voltsPerFs`, dB; `null` where it is not known. */
  voltsUncertaintyDb: number | null;
}

/** What a check freezes as a record: the whole report, and what was played and where it was read. */
export function checkResultOf(report: CheckReport, origin: CheckOrigin): CheckResult {
  const { recording, run, at, voltsPerFs, voltsUncertaintyDb } = origin;
  const played = new Map(run.parts.map((part) => [part.id, part]));
  return {
    recording,
    track: run.file,
    at: [...at],
    voltsPerFs,
    voltsUncertaintyDb: voltsPerFs === null ? null : voltsUncertaintyDb,
    markers: report.markers,
    parts: report.parts.map((part) => recordedPart(part, played.get(part.id))),
    missing: report.missing,
    faults: report.faults,
    pass: report.pass,
  };
}

function recordedPart(part: CheckedPart, played: RunPart | undefined): CheckResult['parts'][number] {
  const playedHz = played !== undefined && 'frequencyHz' in played ? played.frequencyHz : null;
  const playedDbfs = played !== undefined && 'levelDbfs' in played ? played.levelDbfs : null;
  const { reading, limits, ...rest } = part;
  return {
    ...rest,
    playedHz,
    playedDbfs,
    reading: reading as CheckResult['parts'][number]['reading'],
    limits: limits as CheckResult['parts'][number]['limits'],
  };
}
