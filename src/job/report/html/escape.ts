const NAMED: Record<string, string> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' };

/** Text as it may stand in an element or in a quoted attribute. */
export function escaped(text: string): string {
  return text.replace(/[&<>"']/g, (letter) => NAMED[letter] ?? letter);
}

/** Text as a quoted string of CSS inside a style element, where neither quote nor tag may end it. */
export function cssString(text: string): string {
  const safe = [...text].map((letter) =>
    /[\w ,.-]/.test(letter) ? letter : `\\${letter.codePointAt(0)?.toString(16)} `,
  );
  return `"${safe.join('')}"`;
}

/** A coordinate: a hundredth of a pixel is finer than any print. */
export function place(value: number): string {
  return String(Number(value.toFixed(2)));
}
