/** Cautions are confirmed once per session of this tab; a reload does not ask again, a new visit does. */
import { observable } from '../live/observable.ts';

const KEY = 'kneepoint-cautions-read';

export const cautionsRead = observable(sessionStorage.getItem(KEY) === 'yes');

export function confirmCautions(): void {
  sessionStorage.setItem(KEY, 'yes');
  cautionsRead.set(true);
}
