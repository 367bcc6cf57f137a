import { type RefObject, useEffect, useLayoutEffect, useRef } from 'react';

/** What had the focus last; once it is no longer on the page, the focus went with it. */
let last: Element | null = null;
document.addEventListener('focusin', ({ target }) => {
  last = target instanceof Element ? target : null;
});

function isFocusLost(): boolean {
  const { activeElement } = document;
  return (activeElement === null || activeElement === document.body) && last !== null && !last.isConnected;
}

/**
 * For a part that takes the place of the button or field just used: the focus, which went with it, comes to
 * this part, so that the next press of Tab goes on from here. Looks again whenever its component is drawn.
 * Give the part `tabIndex={-1}`.
 */
export function useFocusHere<T extends HTMLElement>(): RefObject<T | null> {
  const part = useRef<T>(null);
  useLayoutEffect(() => {
    if (isFocusLost()) part.current?.focus({ preventScroll: true });
  });
  return part;
}

/** As `useFocusHere`, where no other part took the place. */
export function useFocusElseHere<T extends HTMLElement>(): RefObject<T | null> {
  const part = useRef<T>(null);
  // After every `useFocusHere` of the same drawing.
  useEffect(() => {
    if (isFocusLost()) part.current?.focus({ preventScroll: true });
  });
  return part;
}
