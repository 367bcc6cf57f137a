import type { InkTone } from './chart-view.ts';

export type ChartColours = Record<InkTone | 'rule' | 'sans', string>;

export function coloursOf(element: HTMLElement): ChartColours {
  const style = getComputedStyle(element);
  const token = (name: string) => style.getPropertyValue(name).trim();
  return {
    ink: token('--ink'),
    soft: token('--soft'),
    rule: token('--rule'),
    under: token('--under'),
    over: token('--over'),
    sans: token('--sans'),
  };
}

/** Calls back when day, night or contrast change, and once the type has arrived. @returns the way to stop it */
export function followColours(recolour: () => void): () => void {
  const queries = ['(prefers-color-scheme: dark)', '(prefers-contrast: more)'].map((query) =>
    matchMedia(query),
  );
  for (const query of queries) query.addEventListener('change', recolour);
  let over = false;
  void document.fonts.ready.then(() => {
    if (!over) recolour();
  });
  return () => {
    over = true;
    for (const query of queries) query.removeEventListener('change', recolour);
  };
}
