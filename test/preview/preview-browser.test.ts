import { readFileSync, renameSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { Page } from 'puppeteer-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest';
import { spread } from '../support/at-length.ts';
import { PATIENCE } from '../support/patience.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { openBrowser } from './open-browser.ts';
import { edit, startPreview, type TrialPreview } from './start-preview.ts';
import { FEEDERS, writeTrialProject } from './trial-project.ts';

const NOTE = '021-feeders.md';
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const folder = join(temporaryFolder(), 'feeders');
let opened: Awaited<ReturnType<typeof openBrowser>>;
let preview: TrialPreview;
let page: Page;
const complaints: string[] = [];

beforeAll(async () => {
  writeTrialProject(folder);
  [opened, preview] = await Promise.all([
    openBrowser(),
    startPreview(folder, 'trial-editor://open?file={path}&line={line}'),
  ]);
});
afterAll(async () => {
  await preview?.close();
  await opened?.close();
});
beforeEach(async () => {
  writeFileSync(join(folder, NOTE), FEEDERS);
  // What the test before left there is shown no more, however late its changes are noticed.
  await preview.project.renew();
  page = await opened.browser.newPage();
  page.setDefaultTimeout(PATIENCE);
  page.on('pageerror', (error) => complaints.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
});
afterEach(async () => {
  await page.close();
  expect(complaints.splice(0)).toEqual([]);
});

/** Opens the page of the note, and waits until everything is shown. */
async function openNote(): Promise<void> {
  await page.goto(`${preview.address}/note/${NOTE}`);
  await page.waitForSelector('#told details');
  await until(() =>
    inPaper<string>('document.body.innerText').then((text) => text.includes('Arrester south')),
  );
}

/** The value of an expression in the document of the page that is shown. */
function inPaper<Result>(expression: string): Promise<Result> {
  return page.evaluate(
    `(() => { const { contentDocument: document, contentWindow: window } = globalThis.document.getElementById('paper'); return ${expression}; })()`,
  ) as Promise<Result>;
}

async function until(holds: () => Promise<boolean>): Promise<void> {
  for (const late = Date.now() + PATIENCE; Date.now() < late; await pause(50)) if (await holds()) return;
  throw new Error('it did not come to that');
}

const rowOf = (block: string, value: string) =>
  `document.querySelector('[data-block="${block}"] [data-value="${value}"]')`;
const textOf = (block: string, value: string) => inPaper<string>(`${rowOf(block, value)}.innerText`);

const lineOf = (words: string) => FEEDERS.split('\n').findIndex((text) => text.includes(words)) + 1;

test('a save renews the number that it changes; what is read stays where it is, with focus', async () => {
  await openNote();
  await inPaper(`document.querySelector('[data-block="south"]').scrollIntoView()`);
  const focused = `document.querySelector('[data-block="south"] [data-value="earth_lead"]')`;
  await inPaper(`(${focused}.tabIndex = -1, ${focused}.focus(), window.kept = ${focused})`);
  const topBefore = await inPaper<number>(`${focused}.getBoundingClientRect().top`);
  let runs = 0;
  const stop = preview.project.listen(({ kind }) => {
    if (kind === 'revision') runs += preview.project.renewal.computed.get('run') ?? 0;
  });
  // Two lines more above what is read, and another value there.
  edit(folder, NOTE, (text) =>
    text
      .replace('Words before the first block.', 'Words.\n\nMore words before the first block.')
      .replace('1.7 m', '2.7 m'),
  );
  await until(() => textOf('south', 'line_lead').then((text) => text.includes('2.7')));
  expect(await inPaper<string>('document.body.innerText')).toContain('More words before the first block.');
  expect(await inPaper<boolean>(`document.activeElement === window.kept`)).toBe(true);
  expect(await inPaper<boolean>(`window.kept === ${focused}`)).toBe(true);
  expect(
    Math.abs((await inPaper<number>(`${focused}.getBoundingClientRect().top`)) - topBefore),
  ).toBeLessThan(2);
  stop();
  // A save may be told of twice; the second time there is nothing to compute.
  expect(runs).toBe(1);
  expect(await page.$eval('#state', (element) => element.textContent)).toMatch(
    /^renewed in \d+ ms: 1 calculation computed|^up to date$/,
  );
});

test('blocks come and go, and the page is that of a fresh load', async () => {
  await openNote();
  const east = FEEDERS.slice(FEEDERS.indexOf('## East'), FEEDERS.indexOf('## South'));
  edit(folder, NOTE, (text) => text.replace(east, ''));
  await until(() => inPaper<boolean>(`document.querySelector('[data-block="east"]') === null`));
  edit(folder, NOTE, () =>
    FEEDERS.replace('Closing words.', 'Closing words.\n\nAnd a last one.').replace('1.1 m', '1.2 m'),
  );
  await until(() =>
    inPaper<string>('document.body.innerText').then((text) => text.includes('And a last one.')),
  );
  const renewed = await inPaper<string>('document.body.innerText');
  await page.reload();
  await until(() =>
    inPaper<string>('document.body?.innerText ?? ""').then((text) => text.includes('And a last one.')),
  );
  expect(await inPaper<string>('document.body.innerText')).toBe(renewed);
});

test('an error stands where it belongs, the last good page beneath it, and goes with its cause', async () => {
  await openNote();
  edit(folder, NOTE, (text) => text.replace('value: 1.3 m', 'value: 1.3 kV'));
  await until(() => inPaper<boolean>(`document.querySelector('[data-preview] .fault.error') !== null`));
  const fault = await inPaper<string>(`document.querySelector('[data-preview] .fault.error').innerText`);
  expect(fault).toContain("'line_lead' is a length");
  expect(fault).toContain(`${NOTE}:${lineOf('value: 1.3 m')}`);
  // It stands before the block of that line, whose value is still the last good one.
  expect(
    await inPaper<string>(
      `[...document.querySelectorAll('[data-preview]')].at(-1).nextElementSibling.dataset.block`,
    ),
  ).toBe('east');
  expect(await textOf('east', 'line_lead')).toContain('1.3');
  expect(await page.$eval('#state', (element) => element.textContent)).toBe(
    '1 error: the page is that of the last source without errors',
  );
  // A note elsewhere in the project that takes a value from here says so, and keeps its page too.
  await page.goto(`${preview.address}/`);
  expect(await page.$$eval('.entry-fault', (all) => all.map((one) => one.textContent))).toHaveLength(2);
  await openNote();
  writeFileSync(join(folder, NOTE), FEEDERS);
  await until(() => inPaper<boolean>(`document.querySelector('[data-preview]') === null`));
});

test('a click on a value shows the line that gives it, and a line leads back to its value', async () => {
  await openNote();
  await inPaper(`${rowOf('east', 'line_lead')}.click()`);
  await page.waitForSelector('.source-line[aria-current]');
  const line = lineOf('value: 1.3 m');
  expect(await page.$eval('#source-name', (element) => element.textContent)).toBe(`${NOTE}:${line}`);
  expect(await page.$eval('.source-line[aria-current] code', (element) => element.textContent)).toContain(
    '1.3 m',
  );
  expect(await page.$eval('#source-editor', (element) => element.getAttribute('href'))).toBe(
    `trial-editor://open?file=${folder}/${NOTE}&line=${line}`,
  );
  // A result leads to its block, a paragraph to its line.
  await inPaper(`${rowOf('south', 'terminal_voltage')}.click()`);
  await until(() =>
    page.$eval('.source-line[aria-current] code', (element) => element.textContent === '```yaml calc'),
  );
  await inPaper(
    `[...document.querySelectorAll('p')].find((one) => one.innerText === 'Closing words.').click()`,
  );
  await until(() =>
    page.$eval('.source-line[aria-current] code', (element) => element.textContent === 'Closing words.'),
  );
  await page.click(`.source-line[data-line="${line}"] button`);
  await until(() => inPaper<boolean>(`${rowOf('east', 'line_lead')}.classList.contains('pointed')`));
});

test('by keyboard: from value to value, to its source, and back', async () => {
  await openNote();
  await page.focus('#paper');
  await inPaper(`document.querySelector('[data-block="north"]').scrollIntoView()`);
  const press = async (key: 'ArrowDown') => {
    await page.keyboard.down('Alt');
    await page.keyboard.press(key);
    await page.keyboard.up('Alt');
  };
  await press('ArrowDown');
  await press('ArrowDown');
  const value = await inPaper<string>('document.activeElement.dataset.value');
  expect(value).toBe('line_lead');
  await page.keyboard.press('Enter');
  await page.waitForFunction(`document.activeElement?.closest('.source-line') !== null`);
  const before = await page.evaluate('document.activeElement.textContent');
  await page.keyboard.press('ArrowDown');
  expect(await page.evaluate('document.activeElement.textContent')).toBe(String(Number(before) + 1));
  await page.keyboard.press('Enter');
  await until(() => inPaper<boolean>(`${rowOf('north', 'earth_lead')}.classList.contains('pointed')`));
});

/** What a browser does with a hidden tab may differ: the page is told that it is hidden. */
function hide(hidden: boolean): string {
  return `Object.defineProperty(document, 'hidden', { value: ${hidden}, configurable: true });
    document.dispatchEvent(new Event('visibilitychange'))`;
}

test('a tab that slept asks for what is new since its own revision', async () => {
  await openNote();
  const other = await opened.browser.newPage();
  other.setDefaultTimeout(PATIENCE);
  await other.goto(`${preview.address}/`);
  await other.bringToFront();
  await page.evaluate(hide(true));
  for (const lead of ['1.8 m', '1.9 m', '2.9 m']) {
    edit(folder, NOTE, () => FEEDERS.replace('1.7 m', lead));
    await preview.project.renew();
  }
  expect(await textOf('south', 'line_lead')).toContain('1.7');
  await other.close();
  await page.evaluate(hide(false));
  await until(() => textOf('south', 'line_lead').then((text) => text.includes('2.9')));
});

test('the project may go away and come back while it is looked at', async () => {
  await openNote();
  renameSync(folder, `${folder}-moved`);
  await until(() =>
    inPaper<boolean>(
      `document.querySelector('.preview-top')?.innerText.includes('goes on with the next change') ?? false`,
    ),
  );
  expect(await textOf('south', 'line_lead')).toContain('1.7');
  renameSync(`${folder}-moved`, folder);
  await until(() => inPaper<boolean>(`document.querySelector('.preview-top') === null`));
  edit(folder, NOTE, (text) => text.replace('1.7 m', '3.7 m'));
  await until(() => textOf('south', 'line_lead').then((text) => text.includes('3.7')));
});

// In dark surroundings only colours are others.
const SCHEMES: readonly [string, readonly string[] | undefined][] = [
  ['light', undefined],
  ['dark', ['color-contrast', 'link-in-text-block']],
];

test.each(spread(SCHEMES, 1))(
  'axe finds nothing in %s surroundings, at phone width too',
  async (scheme, rules) => {
    await page.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: scheme }]);
    const findings = async () => {
      for (const frame of page.frames()) await frame.evaluate(AXE);
      return page.evaluate(
        `axe.run(document, ${JSON.stringify(rules ? { runOnly: rules } : {})}).then(({ violations }) => violations.map(({ id, nodes }) => id + ': ' + nodes.map(({ html }) => html.slice(0, 120)).join(' | ')))`,
      );
    };
    await page.goto(`${preview.address}/`);
    expect(await findings()).toEqual([]);
    await openNote();
    await inPaper(`${rowOf('east', 'line_lead')}.click()`);
    await page.waitForSelector('.source-line[aria-current]');
    expect(await findings()).toEqual([]);
    await page.setViewport({ width: 400, height: 760 });
    edit(folder, NOTE, (text) => text.replace('value: 1.3 m', 'value: 1.3 kV'));
    await until(() => inPaper<boolean>(`document.querySelector('[data-preview] .fault.error') !== null`));
    expect(await findings()).toEqual([]);
    // Nothing is wider than the phone.
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(400);
    await page.goto(`${preview.address}/`);
    expect(await findings()).toEqual([]);
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(400);
  },
);
