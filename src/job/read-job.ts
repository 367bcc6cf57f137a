import { JOB_FORMAT, JOB_VERSION, type Job, jobDocument } from './document.ts';
import { firstFault } from './first-fault.ts';
import { MIGRATIONS, type Migration, migrate, type RawDocument } from './migrations.ts';
import { readJson } from './read-json.ts';
import { JobRefused } from './refused.ts';

/**
 * A job from a file's text; an older version is migrated.
 *
 * @throws JobRefused with one sentence: not JSON (and where), not a job, of a newer version, or invalid (where,
 * what is there, what would be right).
 */
export function readJob(text: string): Job {
  return parseJob(readJobJson(text));
}

/** As `readJob`, from data that was JSON already. Steps and version are parameters so that migrating can be tested. */
export function parseJob(
  data: unknown,
  migrations: readonly Migration[] = MIGRATIONS,
  version: number = JOB_VERSION,
): Job {
  const raw = formatChecked(data);
  const parsed = jobDocument.safeParse(lifted(raw, migrations, version));
  if (parsed.success) return parsed.data;
  throw new JobRefused(`This job cannot be used: ${firstFault(raw, parsed.error)}.`);
}

/** @throws JobRefused where the text is not JSON, with the place */
export function readJobJson(text: string): unknown {
  return readJson(text, `a job is a JSON document of format "${JOB_FORMAT}"`);
}

function formatChecked(data: unknown): RawDocument {
  const format = typeof data === 'object' && data !== null && 'format' in data ? data.format : undefined;
  if (format === JOB_FORMAT) return data as RawDocument;
  const found = format === undefined ? 'has no format' : `is of format ${JSON.stringify(format)}`;
  throw new JobRefused(`This file ${found}; a job says "format": "${JOB_FORMAT}".`);
}

function lifted(raw: RawDocument, migrations: readonly Migration[], toVersion: number): RawDocument {
  const { version } = raw;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 0) {
    throw new JobRefused(
      `This job's version is ${JSON.stringify(version) ?? 'missing'}; it must be a whole number up to ${toVersion}.`,
    );
  }
  if (version > toVersion) {
    throw new JobRefused(
      `This job is of version ${version}, made by a newer Kneepoint; this one reads up to version ${toVersion}, so update it to open the job.`,
    );
  }
  try {
    return migrate(raw, version, toVersion, migrations).document;
  } catch (fault) {
    if (!(fault instanceof RangeError)) throw fault;
    throw new JobRefused(
      `This job is of version ${version}, which cannot be read: ${fault.message}; versions 1 to ${toVersion} can.`,
      { cause: fault },
    );
  }
}
