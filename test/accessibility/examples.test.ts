import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { PDFDocument } from '@cantoo/pdf-lib';
import type { Page } from 'puppeteer-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { judgeTags } from '../../src/pdf/judge-tags.ts';
import { getDocument } from '../../src/pdf/pdfjs.ts';
import { accessibilityFaults, loadAxe } from '../support/accessibility-faults.ts';
import { spread, trials } from '../support/at-length.ts';
import { openBrowser } from '../support/browser-page.ts';
import { EXAMPLES, type PrintedExample, printExamples } from '../support/example-prints.ts';

const PROJECTS = resolve(import.meta.dirname, '../../projects');

/** Every note and submittal of the examples, by project and name. */
const DOCUMENTS = spread(
  EXAMPLES.flatMap((project) =>
    readdirSync(join(PROJECTS, project))
      .filter((name) => /^\d+.*\.md$|^submittal\.yaml$/.test(name))
      .map((name) => [project, name.replace(/\.\w+$/, '')] as const),
  ),
  1,
);

/** Widths of screens in pixels: a telephone, a tablet, a desk, a large desk. */
const WIDTHS = [400, 800, 1280, 1600];
/** Rules of axe-core whose outcome may depend on the width; all of its default rules are asked at the first width. */
const OF_THE_LAYOUT = ['scrollable-region-focusable', 'target-size', 'bypass', 'region', 'skip-link'];

let printed: ReadonlyMap<string, PrintedExample>;
let opened: Awaited<ReturnType<typeof openBrowser>>;

beforeAll(async () => {
  printed = await printExamples();
  for (const { outcome } of printed.values()) {
    expect(outcome.err).not.toMatch(/^error/m);
    expect(outcome.status).toBe(0);
  }
  opened = await openBrowser();
});

afterAll(() => opened?.close());

test('there are examples', () => expect(DOCUMENTS.length).toBeGreaterThan(trials(0, 15)));

describe.each(DOCUMENTS)('%s, %s', (project, name) => {
  const file = (ending: string): string => join(printed.get(project)!.folder, `${name}.${ending}`);

  test('has tags without a fault, and claims PDF/UA', async () => {
    const bytes = readFileSync(file('pdf'));
    expect(judgeTags(await PDFDocument.load(bytes, { updateMetadata: false }))).toEqual([]);
    const task = getDocument({ data: Uint8Array.from(bytes), verbosity: 0 });
    const document = await task.promise;
    const { metadata } = await document.getMetadata();
    expect(metadata?.getRaw()).toContain('<pdfuaid:part>1</pdfuaid:part>');
    const roles = new Set<string>();
    for (let page = 1; page <= document.numPages; page += 1)
      collectRoles(await (await document.getPage(page)).getStructTree(), roles);
    await task.destroy();
    for (const role of ['H1', 'H2', 'Table', 'TH', 'Formula', 'Link', 'LBody', 'Figure'])
      expect(roles).toContain(role);
    expect([...roles].filter((role) => ['Strong', 'Em', 'H'].includes(role))).toEqual([]);
  });

  test('is read on screens of every width, by eye, by keys and by ear', async () => {
    const page = await opened.browser.newPage();
    try {
      await page.goto(`file://${file('html')}`);
      for (const width of WIDTHS) {
        await page.setViewport({ width, height: 900 });
        const beyond = 'document.documentElement.scrollWidth - document.documentElement.clientWidth';
        expect(await page.evaluate(beyond), `beyond ${width} px`).toBe(0);
      }
      expect(await lettersOfLines(page)).toBeLessThanOrEqual(90);
      await loadAxe(page);
      for (const width of WIDTHS) {
        await page.setViewport({ width, height: 900 });
        const rules = width === WIDTHS[0] ? undefined : OF_THE_LAYOUT;
        expect(await accessibilityFaults(page, rules), `at ${width} px`).toEqual([]);
      }
    } finally {
      await page.close();
    }
  });
});

function collectRoles(node: object | null, roles: Set<string>): void {
  if (!node || !('role' in node)) return;
  roles.add(String(node.role));
  if ('children' in node && Array.isArray(node.children))
    for (const child of node.children) collectRoles(child, roles);
}

/** How many letters stand in a line of the longest paragraph of the text. */
async function lettersOfLines(page: Page): Promise<number> {
  const letters = await page.evaluate(`(() => {
    const [longest] = [...document.querySelectorAll('main .text p')].sort((a, b) => b.textContent.length - a.textContent.length);
    const style = getComputedStyle(longest);
    return longest.textContent.trim().length / Math.round(longest.getBoundingClientRect().height / longest.currentCSSZoom / parseFloat(style.lineHeight));
  })()`);
  return Number(letters);
}
