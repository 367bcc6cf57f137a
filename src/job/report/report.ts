/**
 * The report of a job: plan, reading, tolerance and conditions side by side. Pure, and without a clock: the
 * same job gives the same report, in the app and at the terminal, today and in a year.
 */
import type { Job, SignOff } from '../document.ts';
import { signedJob } from '../sign-off/sign-job.ts';
import { balanceSection } from './balance.ts';
import { cautionsSection } from './cautions.ts';
import { chainSection } from './chain.ts';
import { checkSection } from './check.ts';
import { conditionsSection } from './conditions.ts';
import { crossoverSection } from './crossover.ts';
import { moment } from './figures.ts';
import { findingsSection } from './findings.ts';
import { gainSection } from './gain.ts';
import { inputSection } from './input.ts';
import type { Report, ReportSection } from './model.ts';
import { noiseSection } from './noise.ts';
import { factsOf, note } from './parts.ts';
import { signedSection, signOffSection } from './sign-off.ts';
import { sourceSection } from './source.ts';
import { standingSection, verdictOf } from './standing.ts';
import { supplySection } from './supply.ts';
import { tolerancesSection } from './tolerances.ts';

const HOW_TO_READ =
  'Volts are RMS. dBFS is against a full-scale sine (AES17). Each ± is the expanded uncertainty (k = 2, about 95 %, JCGM 100). A dash stands for what was not measured.';

function jobSection(job: Job): ReportSection {
  return {
    id: 'job',
    heading: 'The job',
    blocks: [
      factsOf([
        ['Vehicle', job.vehicle === '' ? 'not noted' : job.vehicle],
        ['Job', job.id],
        ['Begun', moment(job.createdAt)],
        ['Last changed', moment(job.updatedAt)],
        ['Records', `${job.records.length}`],
      ]),
      note(HOW_TO_READ),
    ],
  };
}

/** What nothing was recorded for says so, instead of being left out. */
function orNothing(section: ReportSection): ReportSection {
  return section.blocks.length > 0 ? section : { ...section, blocks: [note('Nothing was recorded.')] };
}

function reportOf(job: Job, signed: ReportSection): Report {
  const { title, vehicle, id: jobId } = job;
  const sections = [
    jobSection(job),
    signed,
    standingSection(job),
    findingsSection(job),
    chainSection(job),
    gainSection(job),
    sourceSection(job),
    crossoverSection(job),
    balanceSection(job),
    noiseSection(job),
    supplySection(job),
    checkSection(job),
    inputSection(job),
    conditionsSection(job),
    tolerancesSection(job),
    cautionsSection(),
  ];
  return { title, vehicle, jobId, verdict: verdictOf(job), sections: sections.map(orNothing) };
}

/** The job as it is today. */
export function jobReport(job: Job): Report {
  return reportOf(job, signOffSection(job));
}

/**
 * The job as it was signed.
 * @throws JobRefused where this version cannot read what was signed
 */
export function signedReport(signOff: SignOff): Report {
  return reportOf(signedJob(signOff), signedSection(signOff));
}
