import { UsageError } from './usage-error.ts';

const REASONS: Record<string, string> = {
  ENOENT: 'there is no such file or folder',
  EACCES: 'permission is refused',
  EPERM: 'permission is refused',
  EISDIR: 'this is a folder; a file is needed',
  ENOTDIR: 'part of this path is a file, not a folder',
  EEXIST: 'this is already there',
  ENOSPC: 'the disk is full',
  EROFS: 'this place is read-only',
  ENAMETOOLONG: 'the name is too long',
};

/** What the operating system said of a path, as one sentence; anything unheard of is handed on as it is. */
export function fileFault(path: string, error: unknown): unknown {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  const reason = REASONS[code];
  return reason === undefined ? error : new UsageError(`${path}: ${reason}.`);
}
