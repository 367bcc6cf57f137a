import type { SourceChoice } from './engine-state.ts';

/** Whether opening the one would open the other: the same device, the same file played the same way, the rig. */
export function isSameSource(a: SourceChoice, b: SourceChoice): boolean {
  if (a.kind === 'device') return b.kind === 'device' && a.deviceId === b.deviceId;
  if (a.kind === 'file') return b.kind === 'file' && a.file === b.file && a.loop === b.loop;
  return b.kind === 'rig';
}
