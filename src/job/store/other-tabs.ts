/** Tells other tabs of this site that something was stored, and hears it from them. */
export interface OtherTabs {
  tell(): void;
  close(): void;
}

/** Without `BroadcastChannel` (very old browsers) each tab sees the other's changes when it next reads. */
export function otherTabs(name: string, onChange: () => void): OtherTabs {
  if (typeof BroadcastChannel === 'undefined') return { tell() {}, close() {} };
  const line = new BroadcastChannel(`${name}-changes`);
  line.onmessage = onChange;
  return {
    tell: () => line.postMessage('changed'),
    close: () => line.close(),
  };
}
