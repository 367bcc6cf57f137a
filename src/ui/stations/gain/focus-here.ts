import { type RefObject, useEffect, useRef } from 'react';

/**
 * For a part that takes the place of the button just pressed: the focus, which went with the button, comes to
 * it, so that the next press of Tab goes on from here. Give the part `tabIndex={-1}`.
 */
export function useFocusHere<T extends HTMLElement>(): RefObject<T | null> {
  const part = useRef<T>(null);
  useEffect(() => {
    const { activeElement } = document;
    if (activeElement === null || activeElement === document.body)
      part.current?.focus({ preventScroll: true });
  }, []);
  return part;
}
