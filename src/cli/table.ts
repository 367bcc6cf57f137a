/**
 * Plain text columns for a person at a terminal: words to the left, figures to
 * the right, two spaces between, no lines drawn.
 */
export function formatTable(header: readonly string[], rows: readonly (readonly string[])[]): string {
  const columns = header.map((title, column) => [title, ...rows.map((row) => row[column] ?? '')]);
  const aligned = columns.map((cells) => {
    const width = Math.max(...cells.map((cell) => cell.length));
    const holdsFigures = cells.slice(1).some((cell) => /^-?\d/.test(cell));
    return cells.map((cell) => (holdsFigures ? cell.padStart(width) : cell.padEnd(width)));
  });
  const lines = [header, ...rows].map((_, line) => aligned.map((cells) => cells[line]).join('  '));
  return lines.map((line) => `${line.trimEnd()}\n`).join('');
}

/** A figure to so many decimals, or a dash for what could not be measured. */
export function figure(value: number | null, decimals: number): string {
  if (value === null) return '-';
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text;
}
