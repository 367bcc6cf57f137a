import type { Job, JobRecord } from '../document.ts';
import { canonicalJson } from './canonical.ts';
import { hashedText, type Sha256, signedJob } from './sign-job.ts';
import type { SignOff } from './sign-off.ts';

/** One way in which a job is not what was signed or exported. */
export type Alteration =
  | { what: 'sign-off'; signOff: SignOff; foundSha256: string }
  | { what: 'record'; signOff: SignOff; recordId: string; signed: JobRecord; found: JobRecord | null }
  | { what: 'file'; claimedSha256: string; foundSha256: string };

/**
 * What was altered in a job since it was signed and, where the file says so, exported.
 *
 * Noticed: any figure or word of a sign-off; any record that was signed, since records never change; and
 * anything at all in a file that was exported with sign-offs. Not noticed: a change by somebody who worked the
 * hashes out anew, for a hash is no signature.
 *
 * @param raw what the file held before it was migrated; it must be a job that can be read
 * @param job the same, read
 */
export async function alterationsOf(raw: unknown, job: Job, sha256: Sha256): Promise<Alteration[]> {
  const found: Alteration[] = [];
  for (const signOff of job.signOffs) {
    const foundSha256 = await sha256(hashedText(signOff));
    if (foundSha256 === signOff.sha256) found.push(...alteredRecords(job, signOff));
    else found.push({ what: 'sign-off', signOff, foundSha256 });
  }
  const file = await alteredFile(raw, sha256);
  return file === null ? found : [...found, file];
}

function alteredRecords(job: Job, signOff: SignOff): Alteration[] {
  const present = new Map(job.records.map((record) => [record.id, record]));
  return signedJob(signOff).records.flatMap((signed): Alteration[] => {
    const found = present.get(signed.id) ?? null;
    if (found !== null && canonicalJson(found) === canonicalJson(signed)) return [];
    return [{ what: 'record', signOff, recordId: signed.id, signed, found }];
  });
}

async function alteredFile(raw: unknown, sha256: Sha256): Promise<Alteration | null> {
  if (typeof raw !== 'object' || raw === null || !('exportedSha256' in raw)) return null;
  const { exportedSha256: claimedSha256, ...rest } = raw;
  const foundSha256 = await sha256(canonicalJson(rest));
  if (claimedSha256 === foundSha256) return null;
  return { what: 'file', claimedSha256: String(claimedSha256), foundSha256 };
}
