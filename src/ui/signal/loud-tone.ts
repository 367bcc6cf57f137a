/** Tones so close to full scale that this device plays them only once somebody at the screen has said so. */
import { HIGHEST_LEVEL_DBFS, loudestDbfs } from '../../audio/playback/protection.ts';
import { useObservable } from '../live/observable.ts';
import { route } from '../route/route.ts';
import { chosenMaker, isOnRig, loudConfirmed, type Signal } from './signal.ts';

let { station } = route.get();
// At the next station the gains may stand otherwise: it is asked anew.
route.subscribe(() => {
  if (route.get().station !== station) loudConfirmed.set(false);
  station = route.get().station;
});

/** Whether this signal has to be confirmed before this device plays it; never where something else plays. */
export function useAsksLoud(signal: Signal | null): boolean {
  const maker = useObservable(chosenMaker);
  return maker === 'this-device' && !isOnRig() && signal !== null && levelOf(signal) > HIGHEST_LEVEL_DBFS;
}

export function levelOf({ spec }: Signal): number {
  return loudestDbfs(spec);
}

/** Why it cannot be played yet, one sentence; `null` where it can. */
export function useWhyTooLoud(signal: Signal | null): string | null {
  const asks = useAsksLoud(signal);
  const isConfirmed = useObservable(loudConfirmed);
  return asks && !isConfirmed ? 'Confirm the loud tone first.' : null;
}
