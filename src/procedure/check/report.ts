import type { CheckedPart, CheckFault, CheckMarkers, CheckReport, CheckTask, PartVerdict } from './check.ts';
import { type Complaint, type Judgement, together } from './complaint.ts';
import { factsOf, isLeadIn, type PointFacts } from './facts.ts';
import { figuresOf } from './figures.ts';
import { bassCutAt } from './judge/bass-cut.ts';
import { judgeCabinBalance } from './judge/cabin-balance.ts';
import { judgeClipping } from './judge/clipping.ts';
import { judgeFilters } from './judge/filters.ts';
import { judgeHonesty, notBelieved } from './judge/honesty.ts';
import { type BentResponse, judgeLevels } from './judge/level.ts';
import { judgeNoise } from './judge/noise.ts';
import { judgePolarity } from './judge/polarity.ts';
import { judgePresence } from './judge/presence.ts';
import type { ReadPart, ReadRun } from './read-parts.ts';

function judged(task: CheckTask, all: readonly PointFacts[]): Judgement {
  const honesty = new Map(all.map((facts) => [facts, judgeHonesty(facts)]));
  const honestyOf = (facts: PointFacts) => honesty.get(facts)!;
  const isHonest = (facts: PointFacts) => honestyOf(facts).complaints.length === 0;
  const [honest, dishonest] = [all.filter(isHonest), all.filter((facts) => !isHonest(facts))];
  const presence = honest.map((facts) => judgePresence(task, facts));
  const heard = honest.filter((_, at) => !presence[at]!.isSilent);
  const each = (judge: (facts: PointFacts) => Judgement) => heard.map(judge);
  const cuts = new Map(heard.map((facts) => [facts, bassCutAt(task, facts)]));
  const filters = new Map(heard.map((facts) => [facts, judgeFilters(task, facts, cuts.get(facts)!)]));
  const bent = (facts: PointFacts): BentResponse => ({
    cut: cuts.get(facts)!,
    isNamed: filters.get(facts)!.complaints.length > 0,
  });
  return together([
    ...dishonest.map(honestyOf),
    ...dishonest.map(notBelieved),
    ...presence,
    ...each((facts) => judgeClipping(task, facts)),
    judgeLevels(task, heard, bent),
    ...each(honestyOf),
    ...filters.values(),
    judgePolarity(task, [...heard, ...dishonest]),
    ...each((facts) => judgeNoise(task, facts)),
    ...each((facts) => judgeCabinBalance(task, facts)),
  ]);
}

/** Everything that was read, judged and put in the order of the track. */
export function reportOf(task: CheckTask, markers: CheckMarkers, { read, missing }: ReadRun): CheckReport {
  const all = factsOf(task, read);
  const judgement = judged(task, all);
  const parts = [
    ...read.map((one) => checkedPart(one, task, all, judgement)),
    ...missing.map((one): CheckedPart => {
      const lost = !isLeadIn(one.part, task);
      return {
        ...aboutPart(one),
        pass: !lost,
        verdict: 'missing',
        reading: {},
        limits: {},
        why: one.why,
      };
    }),
  ];
  const place = ({ id }: CheckedPart) => task.run.parts.findIndex((part) => part.id === id);
  parts.sort((a, b) => place(a) - place(b) || a.recordedChannel - b.recordedChannel);
  const lost = missing.filter(({ part }) => !isLeadIn(part, task)).map(({ part }) => part.id);
  return {
    markers,
    parts,
    missing: [...new Set(lost)],
    faults: judgement.complaints.map(faultOf),
    pass: parts.length > 0 && parts.every(({ pass }) => pass),
  };
}

function aboutPart({ part, point, recordedChannel }: Omit<ReadPart, 'reading'>) {
  const { id, kind, serves } = part;
  const channel = point.at === 'terminals' ? point.channelId : 'cabin';
  return { id, kind, channel, recordedChannel, serves };
}

function checkedPart(
  read: ReadPart,
  task: CheckTask,
  all: readonly PointFacts[],
  { complaints, limits, open }: Judgement,
): CheckedPart {
  const facts = all.find(({ recordedChannel }) => recordedChannel === read.recordedChannel)!;
  const isThis = (one: ReadPart) => one.part === read.part && one.recordedChannel === read.recordedChannel;
  const against = complaints.filter((complaint) => complaint.read.some(isThis));
  const held = limits.filter((one) => isThis(one.read)).map((one) => one.limits);
  const unknown = open.filter((one) => isThis(one.read)).map(({ why }) => why);
  const failed = against.length > 0;
  return {
    ...aboutPart(read),
    pass: !failed,
    verdict: verdictOf(failed, unknown.length > 0),
    reading: figuresOf(read, facts, task),
    limits: Object.assign({}, ...held),
    why: failed ? against.map(({ sentence }) => sentence).join(' ') : unknown.join(' '),
  };
}

function verdictOf(failed: boolean, isOpen: boolean): PartVerdict {
  if (failed) return 'failed';
  return isOpen ? 'not-judged' : 'passed';
}

function faultOf({ fault, channel, sentence, evidence, remedy, read }: Complaint): CheckFault {
  const parts = [...new Set(read.map(({ part }) => part.id))];
  return { fault, channel, sentence, evidence, remedy, parts };
}
