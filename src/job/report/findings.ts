/** Faults that were named when a record was accepted, of the records that the report stands on. */
import type { Job } from '../document.ts';
import { jobProgress } from '../progress/job-progress.ts';
import type { JobRecord } from '../records.ts';
import type { ReportSection } from './model.ts';
import { recordNumber } from './newest.ts';
import { tableOf } from './parts.ts';

function shownRecords(job: Job): JobRecord[] {
  const records = jobProgress(job).flatMap(({ record }) => (record === null ? [] : [record]));
  return [...new Set(records)];
}

interface Named {
  sentence: string;
  evidence: string;
  remedy?: string;
}

function namedIn({ result }: JobRecord): readonly Named[] {
  if ('findings' in result) return result.findings;
  return 'faults' in result ? result.faults : [];
}

export function findingsSection(job: Job): ReportSection {
  const rows = shownRecords(job).flatMap((record) =>
    namedIn(record).map((one) => [
      one.sentence,
      one.evidence,
      one.remedy ?? '',
      `${recordNumber(job, record)}`,
    ]),
  );
  return {
    id: 'findings',
    heading: 'Faults found',
    blocks: tableOf('Faults as they were found', ['What', 'Evidence', 'Remedy', '#Record'], rows),
  };
}
