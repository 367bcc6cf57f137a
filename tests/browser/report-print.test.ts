/** The report as a person keeps it: opened from disk without a network, printed on both papers, its text whole. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findCommand } from '../../bin/browser.js';
import type { Cell, Report } from '../../src/job/report/model.ts';
import { reportFiles } from '../../src/job/report/report-files.ts';
import { reportJob } from '../unit/report-job.ts';
import { launchBrowser } from './fixture-page.ts';

const LACKS_PDFTOTEXT = findCommand('pdftotext') === null;
if (LACKS_PDFTOTEXT) {
  const sentence = 'pdftotext is missing (Debian: poppler-utils)';
  if (process.env.CI) throw new Error(sentence);
  process.stderr.write(`${sentence}; text of printed reports is not checked.\n`);
}

const { report, html } = reportFiles(reportJob(), null);
const asked: string[] = [];
let folder = '';
let browser: Browser;
let page: Page;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'kneepoint-report-'));
  const file = join(folder, 'report.html');
  writeFileSync(file, html);
  browser = await launchBrowser(process.env);
  const context = await browser.newContext({ offline: true, viewport: { width: 360, height: 740 } });
  page = await context.newPage();
  page.on('request', (request) => asked.push(request.url()));
  page.on('console', (message) => asked.push(`console: ${message.text()}`));
  await page.goto(pathToFileURL(file).href);
});

afterAll(async () => {
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
});

const textOf = (cell: Cell) => (typeof cell === 'string' ? cell : cell.text);

/** All that the report says in words and figures, drawings aside. */
function saidBy({ sections }: Report): string[] {
  return sections.flatMap(({ heading, blocks }) => [
    heading,
    ...blocks.flatMap((block): string[] => {
      if (block.type === 'facts') return block.facts.flatMap(({ label, value }) => [label, textOf(value)]);
      if (block.type === 'table') return [block.caption, ...block.rows.flat().map(textOf)];
      if (block.type === 'note') return [block.text];
      return block.type === 'list' ? block.items.flatMap(({ first, why }) => [first, why]) : [];
    }),
  ]);
}

/** What stands above something, and is lost at the foot of a page. */
const HEADINGS = new Set(
  report.sections.flatMap(({ heading, blocks }) => [
    heading,
    ...blocks.flatMap((block) => (block.type === 'table' ? [block.caption] : [])),
  ]),
);

/** The last line of each page, its footer aside. */
function lastLines(text: string): string[] {
  return text.split('\f').flatMap((one) => {
    const lines = one.split('\n').filter((line) => line !== '' && !/^Page \d+ of/.test(line));
    return lines.filter((line) => line !== report.title).slice(-1);
  });
}

/** Lines are broken where the paper ends; what is read is the same. */
const unbroken = (text: string) => text.replace(/\s+/g, '');

describe('a report opened from disk', () => {
  it('asks for nothing but itself and breaks no rule of its own', () => {
    expect(asked).toEqual([page.url()]);
  });

  it('on a phone scrolls sideways only inside its tables', async () => {
    const { scroll, width } = await page.evaluate(() => ({
      scroll: document.documentElement.scrollWidth,
      width: document.documentElement.clientWidth,
    }));
    expect(scroll).toBeLessThanOrEqual(width);
  });
});

describe.skipIf(LACKS_PDFTOTEXT)('a printed report', () => {
  it.each(['A4', 'Letter'] as const)('on %s holds every word and figure as text', async (format) => {
    const file = join(folder, `${format}.pdf`);
    await page.pdf({ path: file, format });
    const text = execFileSync('pdftotext', ['-raw', file, '-'], { encoding: 'utf8' });
    const printed = unbroken(text);
    const said = saidBy(report).filter((one) => one !== '');
    expect(said.length).toBeGreaterThan(500);
    expect(said.filter((one) => !printed.includes(unbroken(one)))).toEqual([]);
    expect(lastLines(text).filter((line) => HEADINGS.has(line))).toEqual([]);
    const pages = text.split('\f').length - 1;
    expect(text).toContain(`Page ${pages} of ${pages}`);
  });
});
