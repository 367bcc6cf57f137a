/** What every drawing of the report has: words for those who do not see it. */
import { escaped } from './escape.ts';

/** @param id unique on the page */
export function drawing(
  id: string,
  size: { width: number; height: number },
  words: { title: string; words: string },
  shapes: string,
): string {
  return (
    `<svg viewBox="0 0 ${size.width} ${size.height}" role="img" aria-labelledby="${id}-t ${id}-d">` +
    `<title id="${id}-t">${escaped(words.title)}</title><desc id="${id}-d">${escaped(words.words)}</desc>` +
    `${shapes}</svg>`
  );
}

export function label(x: number, y: number, text: string, attributes = ''): string {
  return `<text x="${Number(x.toFixed(2))}" y="${Number(y.toFixed(2))}"${attributes && ` ${attributes}`}>${escaped(text)}</text>`;
}
