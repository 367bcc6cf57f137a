import { sideFindings } from '../../crossover/findings.ts';
import { judgedSides } from '../../crossover/judge.ts';
import type { SweepTakeReading } from '../../take/sweep-take.ts';
import type { CheckTask, TerminalsPoint } from '../check.ts';
import { type Judgement, nothingSaid } from '../complaint.ts';
import type { PointFacts } from '../facts.ts';
import type { ReadPart } from '../read-parts.ts';
import { inText } from '../words.ts';
import { type BassCut, bassCutComplaint } from './bass-cut.ts';

/**
 * At terminals, where the job says which filters are wanted. In a cabin the room is in the response.
 *
 * @param cut bass that is missing ahead of them: then nothing is said against the filters
 */
export function judgeFilters(task: CheckTask, { point, read }: PointFacts, cut: BassCut | null): Judgement {
  const judgement = nothingSaid();
  for (const one of read) {
    if (one.reading.kind !== 'sweep') continue;
    if (point.at === 'cabin') {
      judgement.open.push({
        read: one,
        why: 'By microphone the cabin is in the response; only terminals show filters.',
      });
    } else {
      const isCut = one.part === cut?.read.part;
      judgeSweep(task, point, { ...one, reading: one.reading }, isCut ? cut : null, judgement);
    }
  }
  return judgement;
}

const NO_REFERENCE = 'No reference was divided out, so an equaliser ahead would be in it.';

function judgeSweep(
  task: CheckTask,
  point: TerminalsPoint,
  read: ReadPart<SweepTakeReading>,
  cut: BassCut | null,
  into: Judgement,
): void {
  const { response, grade, doubts } = read.reading;
  const { part } = read;
  const finding = response?.finding ?? null;
  if (response === null || finding === null || response.fitted === null || part.kind !== 'sweep') {
    into.open.push({ read, why: 'The sweep does not stand out of the noise at this point.' });
    return;
  }
  if (point.wanted === null) {
    into.open.push({ read, why: 'No job says which filters are wanted here.' });
    return;
  }
  const { cornerPercent } = task.limits;
  const { channelId: id, name, fedBy, wanted } = point;
  into.limits.push({ read, limits: { ...wanted.band, cornerPercent } });
  if (cut !== null) {
    into.complaints.push(bassCutComplaint(cut, point));
    return;
  }
  if (finding.verdict === 'none of these') {
    into.open.push({
      read,
      why: 'The response is none of the filters alone; the source’s own equalisation may be in it: sweep at the Crossover station with a reference.',
    });
    return;
  }
  const channel = { id, name, fedBy, ...wanted };
  const sides = judgedSides(channel, finding, response.fitted, cornerPercent);
  const measured = { channelId: id, sweep: part, reference: null, response, sides, grade, doubts };
  for (const one of sideFindings(measured)) {
    into.complaints.push({
      ...one,
      // Two doors may lack the same filter.
      sentence: `${name}: ${inText(one.sentence)}`,
      evidence: `${one.evidence} ${NO_REFERENCE}`,
      channel: id,
      read: [read],
    });
  }
}
