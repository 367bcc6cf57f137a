/** The parts of a chain, each with one place in the drawing and one form beside it. */
export type PartName = 'source' | 'converter' | `amplifier ${string}` | `channel ${string}`;

/** The heading over all of them. */
export const CHAIN_TITLE = 'chain-title';

function elementId(part: PartName): string {
  return `part-${part.replace(' ', '-')}`;
}

/** For the `<details>` that holds a part's form. */
export function partElement(part: PartName): { id: string } {
  return { id: elementId(part) };
}

/** Opens a part's form and goes there. */
export function openPart(part: PartName): void {
  const details = document.getElementById(elementId(part));
  if (!(details instanceof HTMLDetailsElement)) return;
  details.open = true;
  const summary = details.querySelector('summary');
  summary?.focus();
  summary?.scrollIntoView({ block: 'center' });
}
