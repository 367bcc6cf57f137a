/**
 * Plain text columns for a person at a terminal: the first column to the
 * left, figures to the right, two spaces between, no lines drawn.
 */
export function formatTable(header: readonly string[], rows: readonly (readonly string[])[]): string {
  const widths = header.map((title, column) =>
    Math.max(title.length, ...rows.map((row) => row[column]?.length ?? 0)),
  );
  const line = (cells: readonly string[]) =>
    cells
      .map((cell, column) => (column === 0 ? cell.padEnd(widths[column]!) : cell.padStart(widths[column]!)))
      .join('  ')
      .trimEnd();
  return `${[header, ...rows].map(line).join('\n')}\n`;
}

/** A figure to so many decimals, or a dash for what could not be measured. */
export function figure(value: number | null, decimals: number): string {
  if (value === null) return '-';
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text;
}
