import type { Resistors } from '../../../procedure/load/load.ts';
import { observable } from '../../live/observable.ts';

/** What the hand said hangs on the radio; kept while the page lives. */
export const resistorsNow = observable<Resistors>('connected');
