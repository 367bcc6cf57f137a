/** Short ways to put blocks of a report together. */
import type { Cell, ReportColumn, ReportFacts, ReportNote, ReportTable } from './model.ts';

const HOLDS: Record<string, ReportColumn['holds']> = { '#': 'figures', '@': 'moments' };

function columnOf(title: string): ReportColumn {
  const holds = HOLDS[title.charAt(0)];
  return holds === undefined ? { title, holds: 'words' } : { title: title.slice(1), holds };
}

/**
 * A table, or nothing where it has no rows.
 * @param titles of the columns, those of figures with a `#` ahead, of moments with a `@`; neither is shown
 */
export function tableOf(caption: string, titles: readonly string[], rows: Cell[][]): ReportTable[] {
  return rows.length === 0 ? [] : [{ type: 'table', caption, columns: titles.map(columnOf), rows }];
}

export function factsOf(facts: readonly (readonly [label: string, value: Cell])[]): ReportFacts {
  return { type: 'facts', facts: facts.map(([label, value]) => ({ label, value })) };
}

export function note(text: string, weight: ReportNote['weight'] = 'plain'): ReportNote {
  return { type: 'note', weight, text };
}
