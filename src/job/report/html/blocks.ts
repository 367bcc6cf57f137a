/** Each block of the report as HTML. */
import type {
  Cell,
  ReportBlock,
  ReportColumn,
  ReportFacts,
  ReportList,
  ReportNote,
  ReportTable,
} from '../model.ts';
import { barsSvg } from './bars-svg.ts';
import { chainSvg } from './chain-svg.ts';
import { chartSvg } from './chart-svg.ts';
import { escaped } from './escape.ts';

/** Up to so many rows a table is kept on one page. */
const SHORT_ROWS = 12;

function cellHtml(cell: Cell): string {
  if (typeof cell === 'string') return escaped(cell);
  return `<span class="state ${cell.mark}">${escaped(cell.text)}</span>`;
}

function factsHtml({ facts }: ReportFacts): string {
  const rows = facts.map(({ label, value }) => `<dt>${escaped(label)}</dt><dd>${cellHtml(value)}</dd>`);
  return `<dl>\n${rows.join('\n')}\n</dl>`;
}

/** Beyond so many columns there is no room for a moment on one line. */
const FEW_COLUMNS = 6;

function columnClass({ holds }: ReportColumn, { length }: readonly ReportColumn[]): string {
  if (holds === 'words') return '';
  if (holds === 'figures') return ' class="figure"';
  return length <= FEW_COLUMNS ? ' class="moment one-line"' : ' class="moment"';
}

function rowHtml(row: readonly Cell[], columns: readonly ReportColumn[]): string {
  const cells = columns.map((column, index) => {
    const content = cellHtml(row[index] ?? '');
    return index === 0
      ? `<th scope="row">${content}</th>`
      : `<td${columnClass(column, columns)}>${content}</td>`;
  });
  return `<tr>${cells.join('')}</tr>`;
}

/** A figure's caption rather than the table's own: only that one is never left behind at the foot of a page. */
function tableHtml({ caption, columns, rows }: ReportTable, id: string): string {
  const heads = columns.map(
    (one) => `<th scope="col"${columnClass(one, columns)}>${escaped(one.title)}</th>`,
  );
  const size = rows.length <= SHORT_ROWS ? ' short' : '';
  // The region can be reached and scrolled by the keyboard where a screen is narrower than the table.
  return (
    `<figure class="table${size}"><figcaption id="${id}">${escaped(caption)}</figcaption>\n` +
    `<div class="wide" role="region" tabindex="0" aria-labelledby="${id}"><table aria-labelledby="${id}">\n` +
    `<thead><tr>${heads.join('')}</tr></thead>\n<tbody>\n${rows.map((row) => rowHtml(row, columns)).join('\n')}\n</tbody></table></div></figure>`
  );
}

function noteHtml({ weight, text }: ReportNote): string {
  return `<p class="note ${weight}">${escaped(text)}</p>`;
}

function listHtml({ items }: ReportList): string {
  const each = items.map(({ first, why }) => `<li><b>${escaped(first)}</b> ${escaped(why)}</li>`);
  return `<ul>\n${each.join('\n')}\n</ul>`;
}

function figureHtml(title: string, svg: string): string {
  return `<figure>${svg}<figcaption>${escaped(title)}</figcaption></figure>`;
}

function blockHtml(block: ReportBlock, id: string): string {
  switch (block.type) {
    case 'facts':
      return factsHtml(block);
    case 'table':
      return tableHtml(block, id);
    case 'note':
      return noteHtml(block);
    case 'list':
      return listHtml(block);
    case 'chart':
      return figureHtml(block.title, chartSvg(block, id));
    case 'bars':
      return figureHtml(block.title, barsSvg(block, id));
    case 'chain':
      return `<figure class="whole">${chainSvg(block, id)}</figure>`;
    case 'pen':
      return `<div class="pen">${block.lines.map((line) => `<span>${escaped(line)}</span>`).join('')}</div>`;
  }
}

function isPicture({ type }: ReportBlock): boolean {
  return type === 'chart' || type === 'bars';
}

/** All blocks of a section; pictures that follow each other stand side by side. */
export function blocksHtml(sectionId: string, blocks: readonly ReportBlock[]): string {
  let html = '';
  for (const [index, block] of blocks.entries()) {
    const before = blocks[index - 1];
    const after = blocks[index + 1];
    if (isPicture(block) && (before === undefined || !isPicture(before))) html += '<div class="pictures">\n';
    html += `${blockHtml(block, `${sectionId}-${index}`)}\n`;
    if (isPicture(block) && (after === undefined || !isPicture(after))) html += '</div>\n';
  }
  return html;
}
