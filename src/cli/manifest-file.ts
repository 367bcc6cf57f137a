import { readFile } from 'node:fs/promises';
import { firstFault } from '../job/first-fault.ts';
import { MANIFEST_FORMAT, MANIFEST_VERSION, type Manifest, manifest } from '../job/manifest.ts';
import { fileFault } from './file-fault.ts';
import { UsageError } from './usage-error.ts';

function parsed(path: string, text: string): unknown {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    if (error instanceof SyntaxError) {
      throw new UsageError(`${path}: this is not JSON; a manifest of format "${MANIFEST_FORMAT}" is needed.`);
    }
    throw error;
  }
}

function readManifest(path: string, document: unknown): Manifest {
  const fields = (typeof document === 'object' && document !== null ? document : {}) as Record<
    string,
    unknown
  >;
  if (fields.format !== MANIFEST_FORMAT) {
    throw new UsageError(`${path}: this is no tone set's manifest; one says "format": "${MANIFEST_FORMAT}".`);
  }
  if (typeof fields.version === 'number' && fields.version > MANIFEST_VERSION) {
    throw new UsageError(
      `${path}: this manifest is of version ${fields.version}, made by a newer Kneepoint; this one reads version ${MANIFEST_VERSION}.`,
    );
  }
  const result = manifest.safeParse(document);
  if (result.success) return result.data;
  throw new UsageError(`${path}: this manifest cannot be used: ${firstFault(document, result.error)}.`);
}

/** @throws UsageError when the file cannot be read or is no manifest that can be used */
export async function manifestFile(path: string): Promise<Manifest> {
  const text = await readFile(path, 'utf8').catch((error: unknown) => {
    throw fileFault(path, error);
  });
  return readManifest(path, parsed(path, text));
}
