/** The files that a report is handed out as: the same bytes from the app and from the terminal. */
import type { Job } from '../document.ts';
import { JobRefused } from '../refused.ts';
import { signedJob } from '../sign-off/sign-job.ts';
import { recordsCsv } from './csv/records-csv.ts';
import { reportHtml } from './html/page.ts';
import type { Report } from './model.ts';
import { jobReport, signedReport } from './report.ts';

export interface ReportFiles {
  report: Report;
  html: string;
  csv: string;
}

/**
 * @param signOffId the sign-off to report as it was signed; `null` for the job as it is
 * @throws JobRefused where the job has no such sign-off
 */
export function reportFiles(job: Job, signOffId: string | null): ReportFiles {
  if (signOffId === null) {
    const report = jobReport(job);
    return { report, html: reportHtml(report), csv: recordsCsv(job) };
  }
  const signOff = job.signOffs.find(({ id }) => id === signOffId);
  if (signOff === undefined) {
    const known = job.signOffs.map(({ id }) => id).join(', ');
    throw new JobRefused(
      `this job has no sign-off "${signOffId}"; ${known === '' ? 'it has none' : `it has ${known}`}.`,
    );
  }
  const report = signedReport(signOff);
  return { report, html: reportHtml(report), csv: recordsCsv(signedJob(signOff)) };
}
