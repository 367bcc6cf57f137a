import { readFile } from 'node:fs/promises';
import type { SweepSpec } from '../../dsp/tones/spec.ts';
import { firstFault } from '../../job/first-fault.ts';
import { MANIFEST_FORMAT, MANIFEST_VERSION, type Manifest, manifest } from '../../job/manifest.ts';
import { fileFault } from '../file-fault.ts';
import { UsageError } from '../usage-error.ts';

/** One sweep of a tone set, with every track or part that plays it. */
export interface NamedSweep {
  ids: string[];
  spec: SweepSpec;
}

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

function sweepsIn(read: Manifest): NamedSweep[] {
  const pieces = read.tracks.flatMap((track) => (track.kind === 'run' ? track.parts : [track]));
  const sweeps: NamedSweep[] = [];
  for (const piece of pieces) {
    if (piece.kind !== 'sweep') continue;
    const { kind, startHz, endHz, levelDbfs, durationSeconds } = piece;
    const spec = { kind, startHz, endHz, levelDbfs, durationSeconds };
    const same = sweeps.find((known) => JSON.stringify(known.spec) === JSON.stringify(spec));
    if (same === undefined) sweeps.push({ ids: [piece.id], spec });
    else if (!same.ids.includes(piece.id)) same.ids.push(piece.id);
  }
  return sweeps;
}

/**
 * The different sweeps of a manifest, parts of run tracks among them.
 *
 * @param id only the sweep of this track; `null` for all
 * @throws UsageError when the file is no manifest, or holds no such sweep
 */
export async function manifestSweeps(path: string, id: string | null): Promise<NamedSweep[]> {
  const text = await readFile(path, 'utf8').catch((error: unknown) => {
    throw fileFault(path, error);
  });
  const sweeps = sweepsIn(readManifest(path, parsed(path, text)));
  if (sweeps.length === 0) throw new UsageError(`${path}: this tone set holds no track of kind "sweep".`);
  if (id === null) return sweeps;
  const wanted = sweeps.filter((sweep) => sweep.ids.includes(id));
  if (wanted.length > 0) return wanted;
  const known = sweeps.flatMap((sweep) => sweep.ids).join(', ');
  throw new UsageError(`--track ${id}: ${path} has no sweep of that name; it has ${known}.`);
}
