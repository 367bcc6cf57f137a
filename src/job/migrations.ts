import { wholePath } from './migrations/whole-path.ts';

/** A document of some version, before it is known to be valid. */
export type RawDocument = Record<string, unknown>;

/** One step from a version to the next. Steps are never edited once released: files in the field depend on them. */
export interface Migration {
  from: number;
  /** What changed in the format, and why. */
  why: string;
  /** Gives a new document; `version` is set by the caller. */
  migrate(document: RawDocument): RawDocument;
}

/** Add a step here in the same commit that raises JOB_VERSION. */
export const MIGRATIONS: readonly Migration[] = [
  {
    from: 1,
    why: 'The whole signal path: load resistors, turn-on, amplifier class, wiring, wanted slopes, tolerances; records of every station.',
    migrate: wholePath,
  },
];

export interface Migrated {
  document: RawDocument;
  /** Versions it was lifted from, in order. */
  steps: number[];
}

/**
 * Lifts a document step by step to `toVersion`.
 *
 * @throws RangeError where no step leads on from its version.
 */
export function migrate(
  document: RawDocument,
  fromVersion: number,
  toVersion: number,
  migrations: readonly Migration[] = MIGRATIONS,
): Migrated {
  const steps: number[] = [];
  let current = document;
  for (let version = fromVersion; version < toVersion; version++) {
    const step = migrations.find((one) => one.from === version);
    if (step === undefined) throw new RangeError(`no step leads on from version ${version}`);
    current = { ...step.migrate(current), version: version + 1 };
    steps.push(version);
  }
  return { document: current, steps };
}
