import { firstFault } from './first-fault.ts';
import { MANIFEST_FORMAT, MANIFEST_VERSION, type Manifest, manifest } from './manifest.ts';
import { JobRefused } from './refused.ts';

function parsed(text: string): unknown {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (fault) {
    if (!(fault instanceof SyntaxError)) throw fault;
    throw new JobRefused(`this is not JSON; a manifest of format "${MANIFEST_FORMAT}" is needed.`, {
      cause: fault,
    });
  }
}

/** A tone set's manifest from a file's text. @throws JobRefused with what is wrong, to follow the file's name */
export function readManifest(text: string): Manifest {
  const document = parsed(text);
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
