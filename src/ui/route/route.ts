/** Which station is open, kept in the address's hash so that the browser's back button works. */
import { observable } from '../live/observable.ts';
import { STATION_IDS, type StationId } from '../path/stations.ts';

export interface Route {
  station: StationId;
  channelId: string | null;
}

export function parseRoute(hash: string): Route | null {
  const [station, channelId] = hash.replace(/^#\/?/, '').split('/');
  const known = STATION_IDS.find((id) => id === station);
  if (known === undefined) return null;
  return { station: known, channelId: channelId ? decodeURIComponent(channelId) : null };
}

function routeHash(route: Route): string {
  const channel = route.channelId === null ? '' : `/${encodeURIComponent(route.channelId)}`;
  return `#/${route.station}${channel}`;
}

export const route = observable<Route>(parseRoute(location.hash) ?? { station: 'plan', channelId: null });

addEventListener('hashchange', () => {
  const next = parseRoute(location.hash);
  if (next !== null) route.set(next);
});

export function go(next: Route): void {
  if (routeHash(next) === location.hash) return;
  location.hash = routeHash(next);
}

/** As `go`, but without a step for the back button. */
export function settle(next: Route): void {
  history.replaceState(null, '', routeHash(next));
  route.set(next);
}
