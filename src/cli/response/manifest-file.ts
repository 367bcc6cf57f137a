import type { SweepSpec } from '../../dsp/tones/spec.ts';
import type { Manifest } from '../../job/manifest.ts';
import { manifestFile } from '../manifest-file.ts';
import { UsageError } from '../usage-error.ts';

/** One sweep of a tone set, with every track or part that plays it. */
export interface NamedSweep {
  ids: string[];
  spec: SweepSpec;
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
  const sweeps = sweepsIn(await manifestFile(path));
  if (sweeps.length === 0) throw new UsageError(`${path}: this tone set holds no track of kind "sweep".`);
  if (id === null) return sweeps;
  const wanted = sweeps.filter((sweep) => sweep.ids.includes(id));
  if (wanted.length > 0) return wanted;
  const known = sweeps.flatMap((sweep) => sweep.ids).join(', ');
  throw new UsageError(`--track ${id}: ${path} has no sweep of that name; it has ${known}.`);
}
