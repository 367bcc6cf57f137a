import type { Job } from '../../../job/document.ts';
import { toneSet } from '../../../job/tone-set.ts';
import type { SourceToneName } from '../../../procedure/source/source.ts';
import type { TurnOnPurpose } from '../../../procedure/turn-on/turn-on.ts';
import { TONE_SET_FORM } from '../../session/level-track.ts';

function fileOf(job: Job, id: string): string | null {
  try {
    return toneSet(job, TONE_SET_FORM).tracks.find((track) => track.id === id)?.file ?? null;
  } catch (fault) {
    if (fault instanceof RangeError) return null;
    throw fault;
  }
}

/** File of the tone set that plays this; `null` where the set cannot be made. */
export function sourceTrackFile(job: Job, tone: SourceToneName, side: 'left' | 'right'): string | null {
  return fileOf(job, tone === 'middle' ? `source-${side}` : `source-${tone}`);
}

/** As above, for a try of the converter's turn-on; the set holds those for its shortest silence. */
export function turnOnTrackFile(job: Job, purpose: TurnOnPurpose): string | null {
  return fileOf(
    job,
    purpose.try === 'silence' ? `turn-on-${purpose.seconds}` : `keep-alive-${-purpose.levelDbfs}`,
  );
}
