import { observable } from '../live/observable.ts';

/** Which channel of the input is measured: 0 left, 1 right. */
export const inputChannel = observable(0);
