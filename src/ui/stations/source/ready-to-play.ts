import { SOURCE_TONES } from '../../../job/source-tasks.ts';
import { useWhyNothingIsHeard } from '../../session/hearing.ts';
import { useWhyTooLoud } from '../../signal/loud-tone.ts';
import type { Signal } from '../../signal/signal.ts';
import { toneSignal } from './source-signals.ts';

/** The source is measured up to full scale, whichever tone comes next. */
export const LOUDEST: Signal = toneSignal(SOURCE_TONES.middle, 'left');

/** What is still missing before anything may be played and heard, one sentence; `null` where nothing is. */
export function useWhyNotReady(): string | null {
  const unheard = useWhyNothingIsHeard();
  const tooLoud = useWhyTooLoud(LOUDEST);
  return unheard ?? tooLoud;
}
