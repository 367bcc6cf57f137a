/** The report as one page that needs nothing else: no script, no font, no picture, no network. */
import type { Report, ReportSection } from '../model.ts';
import { blocksHtml } from './blocks.ts';
import { escaped } from './escape.ts';
import { reportStyle } from './style.ts';

/** Whatever a job's words may hold, the page can load nothing and run nothing. */
const POLICY = "default-src 'none'; style-src 'unsafe-inline'";

function sectionHtml({ id, heading, blocks }: ReportSection): string {
  return `<section aria-labelledby="${id}">\n<h2 id="${id}">${escaped(heading)}</h2>\n${blocksHtml(id, blocks)}</section>\n`;
}

/** The same report always gives the same text. */
export function reportHtml(report: Report): string {
  const { title, vehicle, verdict, sections } = report;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${POLICY}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)} · report</title>
<style>${reportStyle(title)}</style>
</head>
<body>
<header>
<p class="kind">Kneepoint report</p>
<h1>${escaped(title)}</h1>
<p>${escaped(vehicle)}</p>
<p class="verdict ${verdict.mark}"><strong>${escaped(verdict.text)}</strong><br>${escaped(verdict.sentence)}</p>
</header>
<main>
${sections.map(sectionHtml).join('')}</main>
</body>
</html>
`;
}
