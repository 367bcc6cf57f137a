import { type Observable, observable } from '../../live/observable.ts';

/** Which part of a station is open: coming back to the station, or a reload of the page, finds the one that was left. */
export function keptPart<T extends string>(station: string, parts: readonly [T, ...T[]]): Observable<T> {
  const key = `kneepoint-${station}-part`;
  const left = parts.find((part) => part === sessionStorage.getItem(key));
  const open = observable<T>(left ?? parts[0]);
  open.subscribe(() => sessionStorage.setItem(key, open.get()));
  return open;
}
