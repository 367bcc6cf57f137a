import type { Job, SignOff } from '../document.ts';
import { jobChange } from '../history/job-change.ts';
import { JobRefused } from '../refused.ts';
import { signedJob } from './sign-job.ts';

/** Whether the newest sign-off still says what the job says. */
export type SignOffStanding =
  | { standing: 'none' }
  | { standing: 'current'; signOff: SignOff }
  /** `why` is one sentence. */
  | { standing: 'outdated'; signOff: SignOff; why: string };

export function signOffStanding(job: Job): SignOffStanding {
  const signOff = job.signOffs.at(-1);
  if (signOff === undefined) return { standing: 'none' };
  const why = changedSince(job, signOff);
  return why === null ? { standing: 'current', signOff } : { standing: 'outdated', signOff, why };
}

function changedSince(job: Job, signOff: SignOff): string | null {
  const signed = readable(signOff);
  if (signed === null) return 'What was signed cannot be read by this version.';
  const known = new Set(signed.records.map(({ id }) => id));
  const fresh = job.records.filter(({ id }) => !known.has(id)).length;
  if (fresh > 0)
    return `${fresh === 1 ? 'One record was' : `${fresh} records were`} added since it was signed.`;
  const change = jobChange(signed, job);
  return change === null ? null : `The plan was changed since it was signed: ${change.what}.`;
}

function readable(signOff: SignOff): Job | null {
  try {
    return signedJob(signOff);
  } catch (fault) {
    if (fault instanceof JobRefused) return null;
    throw fault;
  }
}
