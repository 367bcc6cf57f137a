/** What is kept of the input at hand beside its volts: found again by device and channel, added to, never replaced. */
import { soundEngine } from '../../audio/engine/sound-engine.ts';
import type { DeviceIdentity, Found, JobStore, OfDevice } from '../../job/store/job-store.ts';
import { type Observable, observable } from '../live/observable.ts';
import { inputChannel } from './input-channel.ts';
import { inputIdentity } from './input-identity.ts';
import { jobSession } from './job-session.ts';
import { newId } from './new-id.ts';

export interface KnownOfInput<T extends OfDevice> {
  /** `null` where nothing is known of this input; the last one's while none is open. */
  known: Observable<T | null>;
  /** @returns why it was not kept, or `null` */
  keep(part: Omit<T, keyof OfDevice>): Promise<string | null>;
}

type Finder<T extends OfDevice> = (
  store: JobStore,
  device: DeviceIdentity,
  channel: number,
) => Found<T> | null;

/** @param words what it is, as the beginning of a sentence: "The calibration file" */
export function knownOfInput<T extends OfDevice>(
  words: string,
  find: Finder<T>,
  add: (store: JobStore, value: T) => Promise<void>,
): KnownOfInput<T> {
  const known = observable<T | null>(null);
  const findAgain = (): void => {
    const device = inputIdentity(soundEngine.getState());
    const { store } = jobSession.get();
    if (device === null) return;
    const found = store === null ? null : find(store, device, inputChannel.get());
    if (found?.known.id !== known.get()?.id) known.set(found?.known ?? null);
  };
  soundEngine.subscribe(findAgain);
  inputChannel.subscribe(findAgain);
  jobSession.subscribe(findAgain);
  const keep = async (part: Omit<T, keyof OfDevice>): Promise<string | null> => {
    const device = inputIdentity(soundEngine.getState());
    const { store } = jobSession.get();
    if (device === null) return `Press Listen first: ${lowered(words)} belongs to the input that is open.`;
    if (store === null) return `Nothing can be stored in this browser, so ${lowered(words)} was not kept.`;
    const of: OfDevice = {
      id: newId(),
      at: new Date().toISOString(),
      device,
      inputChannel: inputChannel.get(),
    };
    try {
      await add(store, { ...part, ...of } as T);
      findAgain();
      return null;
    } catch (fault) {
      return `${words} was not kept: ${fault instanceof Error ? fault.message : String(fault)}`;
    }
  };
  return { known, keep };
}

function lowered(words: string): string {
  return `${words.charAt(0).toLowerCase()}${words.slice(1)}`;
}
