import type { Job } from '../document.ts';
import { parseJob, readJobJson } from '../read-job.ts';
import { JobRefused } from '../refused.ts';
import { writeJob } from '../write-job.ts';
import { type Alteration, alterationsOf } from './alterations.ts';
import { canonicalJson } from './canonical.ts';
import type { Sha256 } from './sign-job.ts';

/** A job that was altered after it was signed. What it claims may be looked at, and is not to be used. */
export class JobAltered extends JobRefused {
  override name = 'JobAltered';
  readonly alterations: readonly Alteration[];
  readonly claimed: Job;

  constructor(alterations: readonly Alteration[], claimed: Job) {
    super(sentenceOf(alterations));
    this.alterations = alterations;
    this.claimed = claimed;
  }
}

function sentenceOf([first, ...more]: readonly Alteration[]): string {
  const others = more.length === 0 ? '' : ` (and ${more.length} more)`;
  return `This job was altered after it was signed: ${first === undefined ? '' : alterationWords(first)}${others}; take in the file as it was exported.`;
}

/** The middle of a sentence: what was altered, and which hashes say so. */
function alterationWords(alteration: Alteration): string {
  if (alteration.what === 'file') {
    return `the file says its SHA-256 is ${alteration.claimedSha256}, and it is ${alteration.foundSha256}`;
  }
  const { signedBy, at, sha256 } = alteration.signOff;
  const whose = `the sign-off by ${signedBy} of ${at}`;
  if (alteration.what === 'sign-off') {
    return `${whose} says its SHA-256 is ${sha256}, and it is ${alteration.foundSha256}`;
  }
  const { recordId, found } = alteration;
  return found === null
    ? `record "${recordId}" of ${whose} is gone`
    : `record "${recordId}" is not what ${whose} holds`;
}

/**
 * A job from a file's text, as `readJob`, and unaltered as far as its hashes tell.
 *
 * @throws JobAltered where it was altered; JobRefused where it cannot be read
 */
export async function readUnaltered(text: string, sha256: Sha256): Promise<Job> {
  const raw = readJobJson(text);
  const { exportedSha256: _, ...job } = parseJob(raw);
  const alterations = await alterationsOf(raw, job, sha256);
  if (alterations.length > 0) throw new JobAltered(alterations, job);
  return job;
}

/**
 * A job as a file's text; where it has sign-offs, with a hash over the whole file. A job without is left open to
 * anybody's editor.
 *
 * @throws JobRefused as `writeJob` does
 */
export async function writeSealed(job: Job, sha256: Sha256): Promise<string> {
  const { exportedSha256: _, ...bare } = job;
  const text = writeJob(bare);
  if (job.signOffs.length === 0) return text;
  return writeJob({ ...bare, exportedSha256: await sha256(canonicalJson(JSON.parse(text))) });
}
