/** The four folds of the Source station, outside React, and where the input is connected for them. */
import { LOAD_PROCEDURE } from '../../procedure/load/load-steps.ts';
import { SIDES_PROCEDURE } from '../../procedure/sides/sides-steps.ts';
import { SOURCE_PROCEDURE } from '../../procedure/source/source-steps.ts';
import { TURN_ON_PROCEDURE } from '../../procedure/turn-on/turn-on-steps.ts';
import { observable } from '../live/observable.ts';
import { StationSession } from './station-session.ts';

export const sourceSession = new StationSession('source', SOURCE_PROCEDURE);
export const loadSession = new StationSession('load', LOAD_PROCEDURE);
export const sidesSession = new StationSession('sides', SIDES_PROCEDURE);
export const turnOnSession = new StationSession('turn-on', TURN_ON_PROCEDURE);

export interface Pickup {
  point: 'radio' | 'converter';
  side: 'left' | 'right';
}

/** Where the input is connected; kept while the page lives. */
export const pickup = observable<Pickup>({ point: 'radio', side: 'left' });

/** Highest clean step of the last walk that came to its end, while the page lives. */
export const foundStep = observable<number | null>(null);
