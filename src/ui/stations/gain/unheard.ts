import { useGain } from '../../session/gain-session.ts';
import { useWhyNothingIsHeard } from '../../session/hearing.ts';

/**
 * Why what the station stands on does not come in, one sentence; `null` where it does, or where the volts are
 * typed and no stage is to be named by ear.
 */
export function useUnheard(): string | null {
  const why = useWhyNothingIsHeard();
  const needsInput = useGain((state) => state?.task.way === 'wire' || state?.stageCheck != null);
  return needsInput ? why : null;
}
