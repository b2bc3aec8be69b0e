import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readPageTexts } from '../../src/pdf/read-page-texts.ts';
import { openPrinter, type Printer } from '../../src/print/print-document.ts';

/** What the printer does where a document would end with a nearly empty page, or leave a hole before a figure. A page has 262 mm for text. */

let printer: Printer;
beforeAll(async () => {
  printer = await openPrinter({ environment: process.env });
});
afterAll(() => printer?.close());

const page = (body: string, settings = ':root { --closer-settings: 2 }') =>
  `<!doctype html><html lang="en"><title>Trial</title><style>
  @page { size: 210mm 297mm; margin: 19mm 18mm 16mm 22mm; }
  :root { --column-width: 170mm } ${settings}
  body { margin: 0 } * { break-inside: avoid } body, main, article, section { break-inside: auto }
  main p { height: 20mm; margin: 0 0 4mm } article { break-before: page }
  .closer-1 p { margin-bottom: 3mm } .closer-2 p { margin-bottom: 1mm }
  h2, table, figure { margin: 0; height: 15mm }
  </style><main>${body}</main>`;

async function printTexts(html: string): Promise<readonly string[]> {
  return readPageTexts((await printer.print(html)).pdf);
}

describe('a last page of which little is taken', () => {
  const blocks = (count: number) => '<p>block</p>'.repeat(count);
  /** How many blocks stand on each page. */
  const countBlocks = async (html: string) =>
    (await printTexts(html)).map((text) => text.split('block').length - 1);

  // Of 20 mm with 4 or 3 mm between them 11 have room on a page, with 1 mm 12.
  test.each([
    [24, [12, 12]],
    [23, [12, 11]],
    [36, [12, 12, 12]],
    // One too many for that: as it was.
    [25, [11, 11, 3]],
    // More than a little.
    [28, [11, 11, 6]],
    [11, [11]],
  ])('%i blocks are set closer where that ends the document a page earlier: %j', async (count, pages) => {
    expect(await countBlocks(page(blocks(count)))).toEqual(pages);
  });

  test('is filled by the first setting that does', async () => {
    const first = page(blocks(24)).replace('.closer-1 p { margin-bottom: 3mm }', '.closer-1 p { margin: 0 }');
    // Without anything between them 13 have room.
    expect(await countBlocks(first)).toEqual([13, 11]);
  });

  test('stays where the style sheet has no such settings, as those of documents that were issued before', async () => {
    expect(await countBlocks(page(blocks(24), ''))).toEqual([11, 11, 2]);
  });

  test('that is there in print all the same leaves the lines as they were', async () => {
    // In columns nobody sees that another kind of page begins: 24 blocks seem to have room on two, and the last two never do.
    const other = `<div style="page: other">${blocks(2)}</div>`;
    const html = page(blocks(22) + other).replace('@page', '@page other { margin-top: 19mm } @page');
    expect(await countBlocks(html)).toEqual([11, 11, 2]);
  });

  test('of each note of a submittal is judged by itself', async () => {
    const notes = [24, 28, 23].map((count) => `<article class="note">${blocks(count)}</article>`).join('');
    expect(await countBlocks(page(notes))).toEqual([12, 12, 11, 11, 6, 12, 11]);
  });

  test('before a sheet is that of the text', async () => {
    const sheet = '<section class="sheet" style="break-before: page; height: 250mm">sheet</section>';
    expect(await countBlocks(page(blocks(24) + sheet))).toEqual([12, 12, 0]);
  });
});

describe('a figure at the end of its calculation', () => {
  const part = (name: string, height: number) =>
    `<div class="${name}" style="height: ${height}mm">${name}</div>`;
  const calculation = (figure: number, judged: number) =>
    page(`<section class="calculation"><h2>heading</h2><table class="givens"><tr><td>givens</table>
      ${part('steps', 100)}<table class="results" style="height: 60mm"><tr><td>results</table>${part('judged', judged)}
      <figure style="height: ${figure}mm">figure</figure></section>`);
  const order = async (html: string) =>
    (await printTexts(html)).map((text) =>
      text
        .match(/[a-z]+/g)
        ?.filter((word) => word !== 'heading')
        .join(' '),
    );

  test('goes up to where it has room, where it would leave a hole', async () => {
    // 15 + 15 + 100 + 60 + 30 mm leave 42 mm empty; behind the steps there is room for 132 mm.
    expect(await order(calculation(120, 30))).toEqual(['givens steps figure', 'results judged']);
    expect(await order(calculation(130, 25))).toEqual(['givens steps figure', 'results judged']);
  });

  test('goes up no further than it has to', async () => {
    expect(await order(calculation(66, 45))).toEqual(['givens steps results figure', 'judged']);
  });

  test('stays where the hole is small, or nothing is won', async () => {
    expect(await order(calculation(120, 55))).toEqual(['givens steps results judged', 'figure']);
    expect(await order(calculation(240, 30))).toEqual(['givens steps results judged', 'figure']);
  });

  test('goes up where only closer lines leave a hole, which would cost the page that they are to save', async () => {
    // 7 blocks of 24 mm leave 5 mm before the figure, of 20 mm 33 mm; with the figure before the check 11 further blocks have room.
    const body = `${'<p>block</p>'.repeat(7)}<section class="calculation"><h2>heading</h2>
      <table class="givens"><tr><td>givens</table>${part('steps', 30)}${part('judged', 29)}
      <figure style="height: 60mm">figure</figure></section>${'<p>more</p>'.repeat(11)}`;
    const html = page(body).replace('.closer-2 p { margin-bottom: 1mm }', '.closer-2 p { margin: 0 }');
    const pages = (await order(html)).map((words) => words?.replaceAll(/block |more ?/g, ''));
    expect(pages).toEqual(['givens steps figure', 'judged ']);
  });

  test('stands on the page from the start where it has room', async () => {
    expect(await order(calculation(40, 20))).toEqual(['givens steps results judged figure']);
  });
});

test('what is known of the pages changes nothing', async () => {
  const html = page(
    `<a href="#end">end on <span class="page-number" data-target="end">000</span></a>${'<p>block</p>'.repeat(22)}<p id="end">end`,
  );
  const fresh = await printer.print(html);
  expect(fresh).toMatchObject({ passes: 1, pageMap: { end: 2 } });
  for (const [knownPageMap, passes] of [
    [fresh.pageMap, 1],
    [{ end: 123_456 }, 2],
  ] as const) {
    const known = await printer.print(html, { knownPageMap });
    expect(known).toMatchObject({ passes, pageMap: { end: 2 }, pageCount: 2 });
    expect(await readPageTexts(known.pdf)).toEqual(await readPageTexts(fresh.pdf));
  }
});
