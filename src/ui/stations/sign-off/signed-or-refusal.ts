import type { Job, SignOff } from '../../../job/document.ts';
import { JobRefused } from '../../../job/refused.ts';
import { signedJob } from '../../../job/sign-off/sign-job.ts';

/** The job as it was signed, or one sentence why this version cannot read it. */
export function signedOrRefusal(signOff: SignOff): Job | string {
  try {
    return signedJob(signOff);
  } catch (fault) {
    if (fault instanceof JobRefused) return fault.message;
    throw fault;
  }
}
