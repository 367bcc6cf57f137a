/** Short ways to put blocks of a report together. */
import type { Cell, ReportColumn, ReportFacts, ReportNote, ReportTable } from './model.ts';

/** Columns by their titles; figures are marked by a leading `#`, which is not shown. */
function columnsOf(titles: readonly string[]): ReportColumn[] {
  return titles.map((title) =>
    title.startsWith('#') ? { title: title.slice(1), holds: 'figures' } : { title, holds: 'words' },
  );
}

/**
 * A table, or nothing where it has no rows.
 * @param titles of the columns, those of figures with a `#` ahead
 */
export function tableOf(caption: string, titles: readonly string[], rows: Cell[][]): ReportTable[] {
  return rows.length === 0 ? [] : [{ type: 'table', caption, columns: columnsOf(titles), rows }];
}

export function factsOf(facts: readonly (readonly [label: string, value: Cell])[]): ReportFacts {
  return { type: 'facts', facts: facts.map(([label, value]) => ({ label, value })) };
}

export function note(text: string, weight: ReportNote['weight'] = 'plain'): ReportNote {
  return { type: 'note', weight, text };
}
