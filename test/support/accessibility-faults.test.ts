import katex from 'katex';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { accessibilityFaults, loadAxe } from './accessibility-faults.ts';
import { openBrowser } from './browser-page.ts';

let opened: Awaited<ReturnType<typeof openBrowser>>;
beforeAll(async () => {
  opened = await openBrowser();
});
afterAll(() => opened?.close());

const HTML = katex
  .renderToString('\\frac{a^2}{7} + \\textcolor{COLOUR}{\\text{sum}}', { output: 'html' })
  .replace(/^<span class="katex"><span class="katex-html" aria-hidden="true">/, '')
  .replace(/<\/span><\/span>$/, '');
/** A formula as our pages have it, a part of it in a colour of its own. */
const formula = (colour = '#000', role = 'role="img" aria-label="a"'): string =>
  `<span class="katex" ${role}><span class="katex-html">${HTML.replaceAll('COLOUR', colour)}</span></span>`;

const document = (body: string): string =>
  `<!doctype html><html lang="en"><head><title>Trial</title><style>body { color: #000; background: #fff }</style></head><body><main><h1>Trial</h1>${body}</main></body></html>`;

/** The rules that are broken, and in how many places. */
async function found(html: string, rules?: readonly string[]): Promise<string[]> {
  const page = await opened.browser.newPage();
  try {
    await page.setViewport({ width: 500, height: 700 });
    await page.setContent(html);
    await loadAxe(page);
    return (await accessibilityFaults(page, rules)).map(({ id, nodes }) => `${id}: ${nodes.length}`);
  } finally {
    await page.close();
  }
}

test('a sound page has none', async () => {
  expect(await found(document(`<p>Words, ${formula()} and ${formula('#222')}.</p>`))).toEqual([]);
});

test.each([
  ['a formula without words', formula('#000', 'role="img"'), 'role-img-alt: 1'],
  [
    'a formula of two pieces whose colour is too faint',
    `<p style="color: #aaa">${formula('#aaa')}</p>`,
    'color-contrast: 2',
  ],
  ['a part of a formula that is too faint', `<p>${formula('#bbb')}</p>`, 'color-contrast: 1'],
  [
    'words too faint beside a formula that is not',
    `<p>${formula()} <span style="color: #ccc">words</span></p>`,
    'color-contrast: 1',
  ],
  ['a picture without words', '<img src="data:," width="9" height="9">', 'image-alt: 1'],
  ['a link without words', '<a href="#x"></a><p id="x">X</p>', 'link-name: 1'],
  [
    'a table whose cells name no heading',
    '<table><tr><th id="a">A</th></tr><tr><td headers="b">1</td></tr></table>',
    'td-headers-attr: 1',
  ],
])('%s is found', async (_, body, fault) => {
  expect(await found(document(body))).toContain(fault);
});

test.each([
  [
    'a table that scrolls and no key reaches',
    `<div style="overflow: auto; width: 90px; height: 90px"><p style="width: 400px">${'words '.repeat(90)}</p></div>`,
    'scrollable-region-focusable',
  ],
  [
    'links on one another',
    '<p style="font-size: 9px; line-height: 9px"><button style="all: unset">a</button><br><button style="all: unset">b</button></p>',
    'target-size',
  ],
])('%s is found by the rules of the layout', async (_, body, rule) => {
  expect(await found(document(body), [rule])).toEqual([expect.stringMatching(rule)]);
});

test('the size of a formula on the page stays', async () => {
  const page = await opened.browser.newPage();
  try {
    await page.setContent(document(`<p>${formula('black')}</p>`));
    const size = () =>
      page.evaluate(
        `(({ width, height }) => [width, height])(document.querySelector('.katex').getBoundingClientRect())`,
      );
    const parts = () => page.evaluate(`document.querySelectorAll('.katex *').length`);
    const [before, many] = [(await size()) as number[], Number(await parts())];
    await loadAxe(page);
    const after = (await size()) as number[];
    expect([many > 20, Number(await parts()) < 12]).toEqual([true, true]);
    for (const i of [0, 1]) expect(after[i]).toBeCloseTo(before[i]!, 0);
  } finally {
    await page.close();
  }
});
