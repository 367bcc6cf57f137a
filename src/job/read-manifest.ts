import { firstFault } from './first-fault.ts';
import { MANIFEST_FORMAT, MANIFEST_VERSION, type Manifest, manifest } from './manifest.ts';
import { readJson } from './read-json.ts';
import { JobRefused } from './refused.ts';

/** A tone set's manifest from a file's text. @throws JobRefused with what is wrong, to follow the file's name */
export function readManifest(text: string): Manifest {
  const document = readJson(text, `a manifest of format "${MANIFEST_FORMAT}" is needed`);
  const fields = (typeof document === 'object' && document !== null ? document : {}) as Record<
    string,
    unknown
  >;
  if (fields.format !== MANIFEST_FORMAT) {
    throw new JobRefused(`this is no tone set's manifest; one says "format": "${MANIFEST_FORMAT}".`);
  }
  if (typeof fields.version === 'number' && fields.version > MANIFEST_VERSION) {
    throw new JobRefused(
      `this manifest is of version ${fields.version}, made by a newer Kneepoint; this one reads version ${MANIFEST_VERSION}.`,
    );
  }
  const result = manifest.safeParse(document);
  if (result.success) return result.data;
  throw new JobRefused(`this manifest cannot be used: ${firstFault(document, result.error)}.`);
}
