import { type RefObject, useEffect, useRef } from 'react';

/**
 * For the button that a question takes the place of: once the question has been answered and the button stands there
 * again, the focus is on it, and not nowhere.
 */
export function useFocusBack(isAsked: boolean): RefObject<HTMLButtonElement | null> {
  const button = useRef<HTMLButtonElement>(null);
  const wasAsked = useRef(isAsked);
  useEffect(() => {
    if (wasAsked.current && !isAsked) button.current?.focus();
    wasAsked.current = isAsked;
  }, [isAsked]);
  return button;
}
