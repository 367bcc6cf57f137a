/** The report's look: ink on paper, on screen as in print, with fonts that every computer has. */
import { cssString } from './escape.ts';

/** @param footer stands at the foot of every printed page */
export function reportStyle(footer: string): string {
  return `
:root { color-scheme: light; --ink: #111; --soft: #555; --rule: #bbb; }
* { box-sizing: border-box; }
html { background: #fff; color: var(--ink); font: 10.5pt/1.4 system-ui, "Segoe UI", "Liberation Sans", Arial, sans-serif; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
body { margin: 0 auto; padding: 16px; max-width: 190mm; }
h1 { font-size: 20pt; line-height: 1.15; margin: 0 0 4px; }
h2 { font-size: 13.5pt; margin: 26px 0 8px; padding-top: 6px; border-top: 2px solid var(--ink); break-after: avoid; }
header p { margin: 0 0 8px; }
.kind { font-weight: 700; letter-spacing: .02em; color: var(--soft); }
.verdict { border: 2px solid var(--ink); padding: 8px 12px; margin: 12px 0; break-inside: avoid; }
.verdict strong { font-size: 14pt; }
.verdict.out-of-tolerance { border-width: 6px; }
.verdict.not-done, .verdict.stale { border-style: dashed; }
dl { display: grid; grid-template-columns: minmax(120px, 30%) 1fr; gap: 3px 14px; margin: 10px 0; break-inside: avoid; }
dl + figure { break-before: avoid; }
dt { color: var(--soft); }
dd { margin: 0; overflow-wrap: anywhere; }
figure { margin: 0; break-inside: avoid; }
figcaption { font-size: 9pt; font-weight: 700; }
.wide { overflow-x: auto; }
figure.table { margin: 12px 0 16px; break-inside: auto; }
figure.table figcaption { font-size: 10pt; padding: 0 0 4px; break-after: avoid; }
table { border-collapse: collapse; width: 100%; font-size: 8.5pt; line-height: 1.3; }
th, td { text-align: left; vertical-align: top; padding: 3px 6px; border-bottom: 1px solid var(--rule); overflow-wrap: break-word; }
thead th { border-bottom: 1.5px solid var(--ink); vertical-align: bottom; }
tbody th { font-weight: 600; }
.figure { text-align: right; font-variant-numeric: tabular-nums; }
td.figure { white-space: nowrap; }
.moment { min-width: 13ch; }
.moment.one-line { white-space: nowrap; }
.state { white-space: nowrap; }
.state:not(.done) { display: inline-block; padding: 0 4px; }
.state.out-of-tolerance { border: 2px solid var(--ink); font-weight: 700; }
.state.stale { border: 1px dashed var(--ink); }
.state.not-done { border: 1px dotted var(--soft); }
.note { margin: 6px 0; }
.note.grave { border-left: 5px solid var(--ink); padding: 2px 0 2px 10px; font-weight: 600; }
ul { padding-left: 18px; margin: 8px 0; }
li { margin: 3px 0; break-inside: avoid; }
.pictures { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 300px), 1fr)); gap: 12px 18px; margin: 12px 0; }
figure.whole { margin: 12px 0; }
svg { display: block; width: 100%; height: auto; }
svg text { font: 11px system-ui, "Segoe UI", "Liberation Sans", Arial, sans-serif; fill: var(--ink); }
svg text.words, svg text.name { font-weight: 700; }
svg text.words { paint-order: stroke; stroke: #fff; stroke-width: 3px; }
svg text.small { font-size: 9px; }
svg .grid { stroke: #d5d5d5; stroke-width: .8; fill: none; }
svg .frame { stroke: var(--ink); stroke-width: 1; fill: none; }
svg .line { stroke: var(--ink); stroke-width: 1.5; fill: none; }
svg .mark { stroke: var(--ink); stroke-width: 1; stroke-dasharray: 5 4; fill: none; }
svg .axis, svg .wire { stroke: var(--ink); stroke-width: 1.5; fill: none; }
svg .part { stroke: var(--ink); stroke-width: 1.5; fill: #fff; }
svg .driver { stroke: var(--soft); stroke-width: 1.2; stroke-dasharray: 4 4; fill: none; }
.pen { display: grid; grid-template-columns: 2fr 1fr 2fr; gap: 18px; margin: 34px 0 10px; break-inside: avoid; }
.pen span { border-top: 1px solid var(--ink); padding-top: 3px; font-size: 9pt; color: var(--soft); }
@page {
  margin: 16mm 15mm 18mm;
  @bottom-left { content: ${cssString(footer)}; font: 8pt system-ui, Arial, sans-serif; color: #555; }
  @bottom-right { content: "Page " counter(page) " of " counter(pages); font: 8pt system-ui, Arial, sans-serif; color: #555; }
}
@media print {
  html { font-size: 9.5pt; }
  body { padding: 0; max-width: none; }
  .wide { overflow: visible; }
  thead { display: table-header-group; }
  tr { break-inside: avoid; }
  figure.table.short { break-inside: avoid; }
  .pictures { grid-template-columns: 1fr 1fr; }
  p { orphans: 3; widows: 3; }
}
`;
}
