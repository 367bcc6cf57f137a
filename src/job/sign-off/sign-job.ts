import type { Job } from '../document.ts';
import { parseJob } from '../read-job.ts';
import { JobRefused } from '../refused.ts';
import { writeJob } from '../write-job.ts';
import { canonicalJson } from './canonical.ts';
import type { SignOff } from './sign-off.ts';

/** SHA-256 of a text in UTF-8, 64 small hexadecimal digits. The floors above bring their own. */
export type Sha256 = (text: string) => Promise<string>;

/** Who signs, when, and what there is to say. */
export type Signature = Pick<SignOff, 'id' | 'at' | 'signedBy' | 'note'>;

/** The text whose hash a sign-off carries: the name, the date and the note are covered as well as the job. */
export function hashedText({ sha256: _, ...rest }: SignOff): string {
  return canonicalJson(rest);
}

/**
 * Freezes a job as it stands. Earlier sign-offs are left out of the content, so that a job's size does not
 * double with each.
 *
 * @throws JobRefused where nobody's name is given, or the job is not valid
 */
export async function signJob(job: Job, signature: Signature, sha256: Sha256): Promise<SignOff> {
  if (signature.signedBy.trim() === '') {
    throw new JobRefused('A sign-off needs the name of whoever signs it.');
  }
  // By way of its file's text, so that what is signed is what a file can hold.
  const { signOffs: _, exportedSha256: __, ...content } = JSON.parse(writeJob(job));
  const signOff: SignOff = { ...signature, content, sha256: '' };
  return { ...signOff, sha256: await sha256(hashedText(signOff)) };
}

/**
 * The job as it was signed, lifted to today's version; without sign-offs of its own.
 *
 * @throws JobRefused where it cannot be read
 */
export function signedJob({ content }: SignOff): Job {
  return parseJob(content);
}
