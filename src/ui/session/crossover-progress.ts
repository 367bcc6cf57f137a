/** How far each channel's filters have come: from its records and what the plan wants of them today. */
import type { Job, JobChannel } from '../../job/document.ts';
import { fixed } from '../../job/format/number.ts';
import { jobProgress } from '../../job/progress/job-progress.ts';
import type { RecordOf } from '../../job/records.ts';
import type { RecordedSide } from '../../procedure/crossover/crossover.ts';
import type { ChannelProgress } from './channel-progress.ts';

export function crossoverRecordsOf(job: Job, channelId: string): RecordOf<'crossover'>[] {
  return job.records.filter(
    (record): record is RecordOf<'crossover'> =>
      record.kind === 'crossover' && record.result.channelId === channelId,
  );
}

/** What the channel is known by: its low-pass where one is wanted, else its high-pass; the worse one where one is off. */
export function tellingSide<S extends Pick<RecordedSide, 'wantedHz' | 'found'>>(
  sides: { highPass: S; lowPass: S },
  isOff: (side: S) => boolean,
): S {
  const { highPass, lowPass } = sides;
  if (isOff(highPass) && !isOff(lowPass)) return highPass;
  return lowPass.wantedHz !== null || (highPass.wantedHz === null && lowPass.found !== null)
    ? lowPass
    : highPass;
}

export function cornerFigure(hertz: number): string {
  return fixed(hertz, hertz >= 1000 ? 0 : 1);
}

function figureOf({ result }: RecordOf<'crossover'>): string {
  const { wantedHz, found } = tellingSide(result, (side) => side.inside === false);
  if (wantedHz === null) return found === null ? 'no filter' : `${cornerFigure(found.cutoffHz)} Hz`;
  if (found === null) return `none at ${wantedHz} Hz`;
  return `${cornerFigure(found.cutoffHz)} of ${wantedHz} Hz`;
}

function wantedFigure({ band }: JobChannel): string {
  const wanted = [band.highPassHz, band.lowPassHz].filter((hertz) => hertz !== null);
  return wanted.length === 0 ? 'open band' : `${wanted.join(' and ')} Hz wanted`;
}

export function crossoverProgress(job: Job, channel: JobChannel): ChannelProgress {
  const channelId = channel.id;
  const last = crossoverRecordsOf(job, channelId).at(-1);
  const point = jobProgress(job).find((one) => one.kind === 'crossover' && one.subjectId === channelId);
  if (last === undefined) return { channelId, mark: 'not-done', figure: wantedFigure(channel) };
  // The job asks for nothing where the band is open at both ends; what was found there is told all the same.
  const mark = point?.mark ?? (last.result.findings.length === 0 ? 'done' : 'out-of-tolerance');
  return { channelId, mark, figure: figureOf(last) };
}
