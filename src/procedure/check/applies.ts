import type { ChannelBand } from '../../plan/tone/setting-tone.ts';
import type { CheckPoint, RunPart, TerminalsPoint } from './check.ts';

/** Whether a part says something about what a point hears. A microphone hears everything. */
export function appliesTo(part: RunPart, point: CheckPoint): boolean {
  if (point.at === 'none') return false;
  if (point.at === 'cabin') return true;
  // The other side's, too: whoever hears that one instead is connected to the wrong side.
  if (part.kind === 'identification') {
    return point.fedBy !== 'both' && part.channels !== 'both' && isInBand(part.frequencyHz, point);
  }
  if (part.serves.length > 0) return part.serves.includes(point.channelId);
  if (part.kind === 'silence') return true;
  const reaches = part.channels === 'both' || part.channels === point.fedBy;
  return (
    reaches && (part.kind === 'sine' || part.kind === 'steps' ? isInBand(part.frequencyHz, point) : true)
  );
}

function isInBand(frequencyHz: number, { wanted }: TerminalsPoint): boolean {
  return wanted === null || within(frequencyHz, wanted.band);
}

function within(frequencyHz: number, { highPassHz, lowPassHz }: ChannelBand): boolean {
  return frequencyHz >= (highPassHz ?? 0) && frequencyHz <= (lowPassHz ?? Number.POSITIVE_INFINITY);
}
