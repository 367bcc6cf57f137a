/**
 * Watches an open input: track, context, page and device list. Says what
 * happened; what to do about it is the engine's part.
 */
import type { Trouble } from './engine-state.ts';

export interface DeviceWatchEvents {
  /** The input is gone for good. */
  onLost(kind: Trouble['kind']): void;
  /** Samples stopped, but may come back by themselves. */
  onHeld(kind: Trouble['kind']): void;
  /** They are back. */
  onReleased(): void;
  onPageHidden(hidden: boolean): void;
  /** The browser switched processing or device under the open track. */
  onReconfigured(): void;
  onDevicesChanged(): void;
}

const TICK_MS = 1000;
/** Android's Chrome may not announce a changed device list. */
const ANDROID_POLL_TICKS = 4;

/** @returns a function that ends the watch. `context` is `null` where samples do not pass through one. */
export function watchDevice(
  track: MediaStreamTrack,
  context: AudioContext | null,
  events: DeviceWatchEvents,
): () => void {
  const ends = [watchTrack(track, events), watchPage(events), watchDevices(events)];
  if (context !== null) ends.push(watchContext(context, events));
  return () => {
    for (const end of ends) end();
  };
}

function watchTrack(track: MediaStreamTrack, events: DeviceWatchEvents): () => void {
  const offs = [
    listen(track, 'ended', () => void whyEnded().then(events.onLost)),
    listen(track, 'mute', () => events.onHeld('muted-by-system')),
    listen(track, 'unmute', () => events.onReleased()),
    listen(track, 'configurationchange', () => events.onReconfigured()),
  ];
  return () => {
    for (const off of offs) off();
  };
}

/** A permission taken back ends the track just as a pulled plug does. */
async function whyEnded(): Promise<'permission-refused' | 'unplugged'> {
  try {
    const status = await navigator.permissions.query({ name: 'microphone' as PermissionName });
    return status.state === 'denied' ? 'permission-refused' : 'unplugged';
  } catch {
    // Not every browser answers for this name; that says nothing about the plug.
    return 'unplugged';
  }
}

function watchContext(context: AudioContext, events: DeviceWatchEvents): () => void {
  let lastTime = context.currentTime;
  let held = false;
  const hold = (kind: Trouble['kind']) => {
    held = true;
    events.onHeld(kind);
  };
  const release = () => {
    if (held) events.onReleased();
    held = false;
  };
  const check = () => {
    if (context.state === 'running') release();
    else if (context.state !== 'closed')
      hold((context.state as string) === 'interrupted' ? 'interrupted' : 'suspended');
  };
  const timer = setInterval(() => {
    const advanced = context.currentTime !== lastTime;
    lastTime = context.currentTime;
    // Some browsers resume into "running" with a clock that stands still.
    if (context.state === 'running' && !advanced && document.visibilityState === 'visible')
      hold('interrupted');
    else if (context.state === 'running' && advanced) release();
  }, TICK_MS);
  const off = listen(context, 'statechange', check);
  return () => {
    off();
    clearInterval(timer);
  };
}

function watchPage(events: DeviceWatchEvents): () => void {
  return listen(document, 'visibilitychange', () =>
    events.onPageHidden(document.visibilityState !== 'visible'),
  );
}

function watchDevices(events: DeviceWatchEvents): () => void {
  const off = listen(navigator.mediaDevices, 'devicechange', () => events.onDevicesChanged());
  if (!/Android/.test(navigator.userAgent)) return off;
  const timer = setInterval(() => events.onDevicesChanged(), ANDROID_POLL_TICKS * TICK_MS);
  return () => {
    off();
    clearInterval(timer);
  };
}

function listen(target: EventTarget, type: string, handler: () => void): () => void {
  target.addEventListener(type, handler);
  return () => target.removeEventListener(type, handler);
}
