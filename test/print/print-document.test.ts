import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type FinishRequest, finishPdf } from '../../src/pdf/finish-pdf.ts';
import { readPageTexts } from '../../src/pdf/read-page-texts.ts';
import { readPdf } from '../../src/pdf/read-pdf.ts';
import { openPrinter, type Printer } from '../../src/print/print-document.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { makePage } from './sample-page.ts';

const SECTIONS = ['Purpose', 'Arresters as found', 'Leads', 'Proposed change & result'];
const environment = process.env;

const requestFor = (headings: readonly string[]): FinishRequest => ({
  title: 'Arresters of Heron Weir',
  author: 'A. Person',
  subject: '',
  keywords: [],
  creator: 'surgenote',
  producer: 'surgenote',
  language: 'en-GB',
  date: '2031-05-04',
  identity: '0123456789abcdef0123456789abcdef',
  page: '',
  headings: headings.map((text) => ({ text })),
});

const finish = async (pdf: Uint8Array, headings: readonly string[]): Promise<Uint8Array> =>
  (await finishPdf(pdf, requestFor(headings))).pdf;

let printer: Printer;
beforeAll(async () => {
  printer = await openPrinter({ environment });
});
afterAll(() => printer?.close());

describe('a printed document', () => {
  it('comes from the packaged browser of this major version, whatever the version of Node', () => {
    expect(printer.version).toMatch(/^HeadlessChrome\/153\./);
  });

  it('is refused for what is too wide in print, and not for what only a screen shows so wide', async () => {
    const page = (medium: string) =>
      `<!doctype html><title>Wide</title><style>:root { --column-width: 150mm } @media ${medium} { p { width: 190mm } }</style><h1>Leads</h1><p>Nine metres`;
    expect(await printer.print(page('screen'))).toMatchObject({ pageCount: 1 });
    await expect(printer.print(page('print'))).rejects.toMatchObject({ code: 'print-overflow' });
  });

  it('shows in its contents the pages on which the headings stand', async () => {
    const html = makePage(SECTIONS);
    const printed = await printer.print(html);
    const texts = await readPageTexts(printed.pdf);
    expect(printed.pageCount).toBe(texts.length);
    expect(printed.passes).toBe(2);
    expect(Object.keys(printed.pageMap)).toEqual(SECTIONS.map((_, index) => `part-${index}`));
    SECTIONS.forEach((title, index) => {
      const page = printed.pageMap[`part-${index}`]!;
      expect(page).toBeGreaterThan(index + 1);
      expect(texts[page - 1]).toContain(title);
      expect(texts[0]?.replaceAll(/\s+/g, ' ')).toContain(`${title} ${page}`);
    });
    texts.forEach((text, index) => {
      expect(text).toContain(`Page ${index + 1} of ${texts.length}`);
    });

    const again = await printer.print(html, { knownPageMap: printed.pageMap });
    expect(again).toMatchObject({ passes: 1, pageMap: printed.pageMap });
    const outdated = { ...printed.pageMap, 'part-2': 99 };
    expect(await printer.print(html, { knownPageMap: outdated })).toMatchObject({
      passes: 2,
      pageMap: printed.pageMap,
    });
  });

  it('is printed once where its pages are guessed right, twice where they are not, and is the same', async () => {
    const sized = (rule: string) =>
      makePage(SECTIONS).replace(
        '@page { size: A4; margin: 20mm;',
        `:root { --column-width: 170mm } ${rule} @page { size: 210mm 297mm; margin: 19mm 18mm 16mm 22mm;`,
      );
    const uneven = '@page small { size: 210mm 148mm; margin: 20mm } section:nth-of-type(2) { page: small }';
    for (const [rule, passes] of [
      ['', 1],
      [uneven, 2],
    ] as const) {
      const html = sized(rule);
      const printed = await printer.print(html);
      expect(printed.passes).toBe(passes);
      const known = await printer.print(html, { knownPageMap: printed.pageMap });
      expect(known).toMatchObject({ passes: 1, pageMap: printed.pageMap, pageCount: printed.pageCount });
      expect(Buffer.compare(await finish(printed.pdf, SECTIONS), await finish(known.pdf, SECTIONS))).toBe(0);
    }
    const lost = sized('').replace('data-target="part-1"', 'data-target="elsewhere"');
    await expect(printer.print(lost)).rejects.toThrow('no link leads there');
  });

  it('is tagged, has bookmarks and the size that its style sheet names', async () => {
    const { pdf } = await printer.print(makePage(SECTIONS.slice(0, 2)));
    const contents = await readPdf(pdf);
    expect(contents).toMatchObject({ tagged: true, language: 'en-GB' });
    expect(contents.outline.map(({ title, page }) => [title, page])).toEqual([
      ['Purpose', 2],
      ['Arresters as found', 4],
    ]);
    // A4 is 210 mm by 297 mm (ISO 216), 1 point is 25.4/72 mm; the browser works in steps of 1/96 inch, 0.75 points.
    expect(contents.pageSizes[0]?.width).toBeCloseTo((210 / 25.4) * 72, 0);
    expect(contents.pageSizes[0]?.height).toBeCloseTo((297 / 25.4) * 72, 0);
  });

  it('is printed once where it shows no page numbers', async () => {
    const printed = await printer.print('<!doctype html><title>Short</title><p>One page.');
    expect(printed).toMatchObject({ pageCount: 1, passes: 1, pageMap: {} });
  });

  it('is the same to the byte in another browser, in another order and beside others', async () => {
    const wanted = SECTIONS.slice(0, 2);
    const first = await finish((await printer.print(makePage(wanted))).pdf, wanted);
    const other = await openPrinter({ environment });
    try {
      const [, second] = await Promise.all([
        other.print(makePage(SECTIONS, '<table><tr><th>x<td>y</table>'.repeat(40))),
        other.print(makePage(wanted)),
      ]);
      const third = await other.print(makePage(wanted));
      expect(Buffer.compare(await finish(second.pdf, wanted), first)).toBe(0);
      expect(Buffer.compare(await finish(third.pdf, wanted), first)).toBe(0);
    } finally {
      await other.close();
    }
  });

  it('is the same to the byte whatever was known of its pages', async () => {
    const html = makePage(SECTIONS);
    const fresh = await printer.print(html);
    const wanted = await finish(fresh.pdf, SECTIONS);
    const guesses = [fresh.pageMap, { ...fresh.pageMap, 'part-1': 7, 'part-3': 123 }, { other: 1 }];
    for (const knownPageMap of guesses) {
      const printed = await printer.print(html, { knownPageMap });
      expect(Buffer.compare(await finish(printed.pdf, SECTIONS), wanted)).toBe(0);
      // The document that comes with it is the same PDF.
      const { pdf } = await finishPdf(printed.document, requestFor(SECTIONS));
      expect(Buffer.compare(pdf, wanted)).toBe(0);
    }
  });

  it('fails with a reason where the page numbers do not settle', async () => {
    // The wider the number, the lower the square beside it: shown as 9 it is high and pushes the heading to page 10,
    // shown as 10 it is low and lets the heading back to page 9.
    const restless = `<!doctype html><html lang="en"><title>Restless</title><style>
      @page { size: A5; margin: 10mm }
      body { margin: 0 } .filler { height: 100mm; break-after: page } .room { height: 90mm }
      .row { display: grid; grid-template-columns: max-content 1fr } .page-number { font: 40mm 'Open Sans'; line-height: 0 }
      .square { aspect-ratio: 1 } h1 { margin: 0; font-size: 5mm } </style>
      ${'<div class="filler">x</div>'.repeat(8)}
      <div class="row"><a href="#end"><span class="page-number" data-target="end">000</span></a><div class="square"></div></div>
      <div class="room">x</div><h1 id="end">End</h1>`;
    await expect(printer.print(restless)).rejects.toMatchObject({
      name: 'OutsideFailure',
      code: 'print-page-numbers',
    });
    expect(await printer.print(restless.replace('max-content', '50mm'))).toMatchObject({
      pageMap: { end: 9 },
    });
  });

  it('cannot show the page of a place to which nothing leads', async () => {
    const lost = '<!doctype html><title>x</title><span class="page-number" data-target="lost">000</span>';
    await expect(printer.print(lost)).rejects.toThrow('"lost" is shown, but no link leads there');
  });

  it('does not wait for a browser for ever, nor print in one that has ended', async () => {
    await expect(openPrinter({ environment, timeoutMilliseconds: 1 })).rejects.toMatchObject({
      code: 'browser-start',
      message: expect.stringContaining('did not answer within 0.001 s'),
    });
    const closed = await openPrinter({ environment });
    await closed.close();
    await expect(closed.print('<p>late')).rejects.toMatchObject({ code: 'browser-ended' });
  });

  it.each([
    ['ends at once', 'printf "\\033[31mno library\\n" >&2; exit 5', /it ended with status 5: .*no library$/],
    ['says something else', 'exec yes >&4', /more than 67108864 bytes|not the protocol of a browser/],
    ['says nothing and floods', 'exec cat /dev/zero >&4', /not the protocol of a browser/],
    ['hangs up', 'exec 3<&- 4>&-; exec sleep 100', /it closed the channel to it$/],
  ])('a program that %s is no browser, which is told at once', async (name, script, says) => {
    const path = join(temporaryFolder(), 'browser');
    writeFileSync(path, `#!/bin/sh\n${script}\n`, { mode: 0o700 });
    await expect(openPrinter({ environment, path }), name).rejects.toMatchObject({
      code: 'browser-start',
      message: expect.stringMatching(says),
    });
  });

  it('names an image or a font that cannot be read', async () => {
    await expect(
      printer.print('<!doctype html><title>x</title><img alt="The weir" src="data:image/png;base64,AAAA">'),
    ).rejects.toMatchObject({ code: 'print-page', message: expect.stringContaining('The weir') });
    await expect(
      printer.print(
        '<!doctype html><title>x</title><style>@font-face { font-family: Odd; src: url(data:font/woff2;base64,AAAA) } p { font-family: Odd }</style><p>Text',
      ),
    ).rejects.toMatchObject({ code: 'print-page', message: expect.stringContaining('"Odd"') });
  });
});
