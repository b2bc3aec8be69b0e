import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { DOMAINS } from '../../src/engine/calculations/registry.ts';
import { handbookParts } from '../../src/handbook/handbook.ts';
import { handbookSite } from '../../src/handbook/site/handbook-site.ts';
import { accessibilityFaults, loadAxe } from '../support/accessibility-faults.ts';
import { openBrowser } from '../support/browser-page.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

/** Widths of screens in pixels: a telephone, a desk. */
const WIDTHS = [400, 1280];

const parts = handbookParts({ commands: '' });
const ofDomains = new Set(DOMAINS.map(({ calculations }) => calculations.at(-1)!.definition.name));
/** The list, every topic, and of each domain one calculation with its evidence. */
const pages = [
  'index',
  ...parts
    .flatMap((part) => part.pages)
    .flatMap(({ kind, name }) =>
      kind === 'topic' ? [name] : ofDomains.has(name) ? [name, `${name}.evidence`] : [],
    ),
];

const folder = temporaryFolder();
let opened: Awaited<ReturnType<typeof openBrowser>>;

beforeAll(async () => {
  for (const [path, content] of handbookSite(parts, { software: 'surgenote 9.9.9', script: '' })) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), content);
  }
  opened = await openBrowser();
});

afterAll(() => opened?.close());

test.each(pages)('%s is read on screens of every width, by eye, by keys and by ear', async (name) => {
  const page = await opened.browser.newPage();
  try {
    await page.goto(`file://${join(folder, `${name}.html`)}`);
    await loadAxe(page);
    for (const width of WIDTHS) {
      await page.setViewport({ width, height: 900 });
      const beyond = 'document.documentElement.scrollWidth - document.documentElement.clientWidth';
      expect(await page.evaluate(beyond), `beyond ${width} px`).toBe(0);
      expect(await accessibilityFaults(page), `at ${width} px`).toEqual([]);
    }
  } finally {
    await page.close();
  }
});
