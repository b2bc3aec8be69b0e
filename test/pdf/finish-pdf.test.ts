import { decodePDFRawStream, PDFArray, PDFDict, PDFDocument, PDFName, PDFRawStream } from '@cantoo/pdf-lib';
import { beforeAll, describe, expect, it } from 'vitest';
import { type FinishRequest, finishPdf } from '../../src/pdf/finish-pdf.ts';
import { getDocument } from '../../src/pdf/pdfjs.ts';
import { readPdf } from '../../src/pdf/read-pdf.ts';
import { readPlainly } from '../../src/pdf/read-printed.ts';
import { openPrinter } from '../support/kept-printer.ts';

const LONG_HEADING = 'A heading that is so long that it has to wrap before it comes to what it wants to say';
const PAGE = `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Page</title><style>
  @page { size: A4; margin: 30mm } h1, p { font: 20pt 'Open Sans' } code { font: 10pt 'Open Sans'; font-style: italic }
  </style></head><body>
  <h1 id="one">${LONG_HEADING}</h1><p>Ohm is written Ω. <a href="#two">Next</a> <a href="https://heron-weir.example/">out</a></p>
  <h2 id="two">Leads of <span role="img" aria-label="U p">U<sub>p</sub></span></h2><code>as found</code>
  <table><tr><th scope="col">Lead</th></tr><tr><td>7.5 m</td></tr></table></body></html>`;

const REQUEST: FinishRequest = {
  title: 'Arresters at Heron Weir: 11 kV, Ω & <leads>',
  author: 'A. Person',
  subject: 'Audit of the earthing leads',
  keywords: ['arrester', 'lead'],
  creator: 'surgenote 0.1.0',
  producer: 'surgenote 0.1.0',
  language: 'en-GB',
  date: '2031-05-04',
  identity: '0123456789abcdef0123456789abcdeffedcba98',
  page: PAGE,
  headings: [{ text: LONG_HEADING }, { text: 'Leads of Up', typeset: true }],
  attachments: [
    {
      name: 'source.zip',
      bytes: Buffer.from('the source'),
      mimeType: 'application/zip',
      description: 'The source of this document',
      relationship: 'Source',
    },
    {
      name: 'data/Ωhm (2nd) & more.csv',
      bytes: new Uint8Array(0),
      mimeType: 'text/csv',
      description: '',
      relationship: 'Data',
    },
  ],
};

let printed: Uint8Array;
let finished: Uint8Array;
let withBoxes: Uint8Array;

beforeAll(async () => {
  const printer = await openPrinter({ environment: process.env });
  try {
    printed = (await printer.print(PAGE)).pdf;
    withBoxes = (
      await printer.print('<!doctype html><title>x</title><p>ab ☃ 雪</p><p style="break-before: page">cd ☃')
    ).pdf;
  } finally {
    await printer.close();
  }
  finished = (await finishPdf(printed, REQUEST)).pdf;
});

describe('a finished PDF', () => {
  it('says of itself what it was told, in both places', async () => {
    const contents = await readPdf(finished);
    expect(contents.information).toEqual({
      Title: REQUEST.title,
      Author: 'A. Person',
      Subject: 'Audit of the earthing leads',
      Keywords: 'arrester, lead',
      Creator: 'surgenote 0.1.0',
      Producer: 'surgenote 0.1.0',
      CreationDate: 'D:20310504000000Z',
      ModDate: 'D:20310504000000Z',
    });
    expect(contents).toMatchObject({ language: 'en-GB', tagged: true, pageCount: 1 });
  });

  it('is read so by another library', async () => {
    const task = getDocument({ data: Uint8Array.from(finished), verbosity: 0 });
    const document = await task.promise;
    const { info, metadata } = await document.getMetadata();
    expect(info).toMatchObject({ Title: REQUEST.title, Language: 'en-GB', PDFFormatVersion: '1.7' });
    expect(metadata?.get('dc:title')).toBe(REQUEST.title);
    expect(metadata?.get('dc:creator')).toEqual(['A. Person']);
    expect(metadata?.get('dc:description')).toBe('Audit of the earthing leads');
    expect(metadata?.get('xmp:createdate')).toBe('2031-05-04T00:00:00Z');
    expect(await document.getViewerPreferences()).toMatchObject({ DisplayDocTitle: true });
    expect(await document.getMarkInfo()).toMatchObject({ Marked: true });
    // This library leaves the second half of the identifier out where it is the same as the first.
    expect(document.fingerprints).toEqual(['0123456789abcdef0123456789abcdef', null]);
    const tree = JSON.stringify(await (await document.getPage(1)).getStructTree());
    for (const role of ['H1', 'H2', 'P', 'Link', 'Figure', 'Table', 'TH', 'TD']) {
      expect(tree).toContain(`"role":"${role}"`);
    }
    const attachments: Record<string, { content: Uint8Array }> = await document.getAttachments();
    expect(Object.keys(attachments).sort()).toEqual(['data/Ωhm (2nd) & more.csv', 'source.zip']);
    expect(Buffer.from(attachments['source.zip']!.content).toString()).toBe('the source');
    await task.destroy();
  });

  it('carries the metadata of PDF/A-3', async () => {
    const { metadata } = await readPdf(finished);
    // The identification of ISO 19005-3, 6.6.4 (from memory): part 3, text that can be extracted.
    expect(metadata).toContain('xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/"');
    expect(metadata).toContain('<pdfaid:part>3</pdfaid:part>\n<pdfaid:conformance>U</pdfaid:conformance>');
    const document = await PDFDocument.load(finished, { updateMetadata: false });
    // Not packed, so that a program finds it that does not understand PDF.
    const packet = document.catalog.lookup(PDFName.of('Metadata')) as PDFRawStream;
    expect(packet.dict.has(PDFName.of('Filter'))).toBe(false);
    const intents = document.catalog.lookup(PDFName.of('OutputIntents'), PDFArray);
    const intent = intents.lookup(0, PDFDict);
    expect(intent.lookup(PDFName.of('S'))).toBe(PDFName.of('GTS_PDFA1'));
    const profile = intent.lookup(PDFName.of('DestOutputProfile')) as PDFRawStream;
    // The head of a profile (ISO 15076-1, 7.2): its length, then from byte 12 on the kind of device and the space.
    const bytes = Buffer.from(decodePDFRawStream(profile).decode());
    expect(bytes.readUInt32BE(0)).toBe(bytes.length);
    expect(bytes.subarray(12, 20).toString('latin1')).toBe('mntrRGB ');
    expect(bytes.subarray(36, 40).toString('latin1')).toBe('acsp');
  });

  it('holds nothing that PDF/A-3 rules out and that can be looked up', async () => {
    const document = await PDFDocument.load(finished, { updateMetadata: false });
    const { ID } = document.context.trailerInfo;
    expect(ID?.toString()).toBe(
      `[ ${Array(2)
        .fill(`<${REQUEST.identity.slice(0, 32).toUpperCase()}>`)
        .join(' ')} ]`,
    );
    const objects = document.context.enumerateIndirectObjects().map(([, object]) => object);
    const dictionaries = objects.flatMap((one) =>
      one instanceof PDFDict ? [one] : one instanceof PDFRawStream ? [one.dict] : [],
    );
    const get = (one: PDFDict, key: string) => one.lookup(PDFName.of(key));
    for (const one of dictionaries) {
      // ISO 19005-3, 6.1.7, 6.2.8, 6.5.1 (from memory): filters, images, actions.
      expect(String(get(one, 'Filter'))).not.toMatch(/LZW|Crypt/);
      expect(String(get(one, 'Interpolate'))).not.toBe('true');
      for (const key of ['AA', 'JS', 'XFA', 'Encrypt', 'TR']) expect(one.has(PDFName.of(key))).toBe(false);
      // 6.3.2: annotations are printed and not hidden.
      if (one.has(PDFName.of('Rect'))) expect(Number(String(get(one, 'F'))) & 0b100111).toBe(0b100);
      // 6.8: an attachment says what it is to the document, and when it was changed.
      if (String(get(one, 'Type')) === '/Filespec') {
        expect(String(get(one, 'AFRelationship'))).toMatch(/^\/(?:Source|Data)$/);
        expect(one.has(PDFName.of('UF')) && one.has(PDFName.of('F'))).toBe(true);
      }
      if (String(get(one, 'Type')) === '/EmbeddedFile') {
        expect(String(get(one, 'Subtype'))).toMatch(/^\/\w+#2F\w+/);
        expect(String(get(one, 'Params'))).toContain('/ModDate');
      }
    }
    const files = dictionaries.filter((one) => String(get(one, 'Type')) === '/Filespec');
    const listed = document.catalog.lookup(PDFName.of('AF'), PDFArray);
    expect(listed.asArray().map((_, index) => listed.lookup(index))).toEqual(files);
    expect(files).toHaveLength(REQUEST.attachments!.length);
  });

  it('is made of the objects that the library reads in the print', async () => {
    const { context } = await PDFDocument.load(printed, { updateMetadata: false });
    const list = (one: typeof context | undefined): string[] =>
      (one?.enumerateIndirectObjects() ?? []).map(
        ([ref, object]) => `${ref} ${object.constructor.name} ${object}`,
      );
    expect(list(readPlainly(printed))).toEqual(list(context));
  });

  it('has the headings as bookmarks, each with its blanks', async () => {
    const before = await readPdf(printed);
    expect(before.outline[0]?.title).not.toBe(LONG_HEADING); // What there is to mend.
    const { outline } = await readPdf(finished);
    expect(outline).toEqual([
      { title: LONG_HEADING, page: 1, children: [{ title: 'Leads of Up', page: 1, children: [] }] },
    ]);
  });

  it('keeps links and named places', async () => {
    const { links, destinations } = await readPdf(finished);
    expect(links).toContainEqual({ page: 1, address: null, target: 1 });
    expect(links).toContainEqual({ page: 1, address: 'https://heron-weir.example/', target: null });
    expect([...destinations]).toEqual([['two', 1]]);
  });

  it('carries its attachments', async () => {
    const { attachments } = await readPdf(finished);
    expect(attachments).toEqual([
      expect.objectContaining({
        name: 'data/Ωhm (2nd) & more.csv',
        bytes: new Uint8Array(0),
        relationship: 'Data',
      }),
      {
        name: 'source.zip',
        bytes: new Uint8Array(Buffer.from('the source')),
        mimeType: 'application/zip',
        description: 'The source of this document',
        relationship: 'Source',
      },
    ]);
  });

  it('comes out the same each time, and differs where the request does', async () => {
    const again = (await finishPdf(printed, { ...REQUEST, attachments: [...REQUEST.attachments!].reverse() }))
      .pdf;
    expect(Buffer.compare(again, finished)).toBe(0);
    const later = (await finishPdf(printed, { ...REQUEST, date: '2031-05-04T10:00:00Z' })).pdf;
    expect(Buffer.compare(later, finished)).not.toBe(0);
  });

  it('does not depend on how the browser numbered, dated and sorted things', async () => {
    // The browser writes ids and dates plainly and with a fixed length: they can be replaced in place.
    const text = Buffer.from(printed).toString('latin1');
    const other = text
      .replaceAll(/node\d{8}/g, 'node00000999')
      .replaceAll(/\(D:\d{14}/g, '(D:19991231235959');
    expect(other).not.toBe(text);
    expect(other).toHaveLength(text.length);
    const fromOther = (await finishPdf(Buffer.from(other, 'latin1'), REQUEST)).pdf;
    expect(Buffer.compare(fromOther, finished)).toBe(0);

    const withDestinations = async (names: readonly string[]): Promise<Uint8Array> => {
      const document = await PDFDocument.load(printed, { updateMetadata: false });
      const target = document.context.obj([document.getPage(0).ref, 'XYZ', 0, 0, 0]);
      const entries = Object.fromEntries(names.map((name) => [name, target]));
      document.catalog.set(PDFName.of('Dests'), document.context.obj(entries));
      return (await finishPdf(await document.save({ useObjectStreams: false }), REQUEST)).pdf;
    };
    const sorted = await withDestinations(['a', 'b', 'two']);
    expect(Buffer.compare(await withDestinations(['two', 'b', 'a']), sorted)).toBe(0);
  });

  it('holds no trace of the ids and the dates of the browser', async () => {
    const document = await PDFDocument.load(finished, { updateMetadata: false });
    const objects = document.context.enumerateIndirectObjects().map(([, object]) => object.toString());
    const ids = objects.flatMap((text) => text.match(/node\d+/g) ?? []);
    expect([...new Set(ids)]).toEqual(['node00000001']);
    expect(ids.length).toBe(3); // The head's own, the cell that names it, and the index of ids.
    const names = document.catalog.lookup(PDFName.of('StructTreeRoot'))?.toString();
    expect(names).toContain('(node00000001)');
    const year = new Date().getUTCFullYear();
    expect(objects.filter((text) => text.includes(`(D:${year}`))).toEqual([]);
  });

  it('reports its fonts', async () => {
    const { fonts, missingCharacters } = await finishPdf(printed, REQUEST);
    expect(fonts).toEqual([
      { name: 'OpenSans-Bold', type: 'Type0', embedded: true }, // The head of the table.
      { name: 'OpenSans-Italic', type: 'Type0', embedded: true },
      { name: 'OpenSans-Regular', type: 'Type0', embedded: true },
    ]);
    expect(missingCharacters).toEqual([]);
  });

  it('reports characters that no font has', async () => {
    const { missingCharacters } = await finishPdf(withBoxes, { ...REQUEST, headings: [] });
    expect(missingCharacters).toEqual([
      { text: null, near: 'ab □ ', page: 1 },
      { text: '雪', near: '□', page: 1 },
      { text: null, near: 'cd □', page: 2 },
    ]);
  });
});

describe('finishPdf refuses', () => {
  it.each<[string, Partial<FinishRequest>, string]>([
    ['a heading too few', { headings: [{ text: LONG_HEADING }] }, '2 bookmarks, but the page 1 headings'],
    [
      'another heading',
      { headings: [{ text: 'Other' }, { text: '', typeset: true }] },
      'but the heading "Other"',
    ],
    ['a date that does not exist', { date: '2031-02-30' }, 'not a date'],
    ['a local time', { date: '2031-02-03T10:00:00' }, 'not a date'],
    ['an identity without digits', { identity: 'hollow' }, '32 hexadecimal digits'],
  ])('%s', async (_, change, message) => {
    await expect(finishPdf(printed, { ...REQUEST, ...change })).rejects.toThrow(message);
  });

  it.each([
    '../up.txt',
    'a/../b.txt',
    'a//b.txt',
    './a.txt',
    'a/',
    '/a.txt',
    'a\\b.txt',
    '.hidden',
    'a/.git',
    '..',
    '',
    'a\0b',
    'a\u202eb',
    'C:x',
    'end.',
    'aux.md',
    'a/NUL',
    `${'long'.repeat(51)}.md`,
  ])('an attachment named %j', async (name) => {
    const attachments = [{ ...REQUEST.attachments![0]!, name }];
    await expect(finishPdf(printed, { ...REQUEST, attachments })).rejects.toThrow('cannot have the name');
  });

  it('two attachments of one name, and a PDF without tags', async () => {
    const [one] = REQUEST.attachments!;
    for (const twin of ['source.zip', 'Source.ZIP']) {
      const attachments = [one!, { ...one!, name: twin }];
      await expect(finishPdf(printed, { ...REQUEST, attachments })).rejects.toThrow('Two attachments');
    }
    const composed = { ...one!, name: 'r\u00e9seau.csv' };
    const apart = { ...one!, name: 're\u0301seau.csv' };
    await expect(finishPdf(printed, { ...REQUEST, attachments: [composed, apart] })).rejects.toThrow(
      'Two attachments',
    );
    const plain = await PDFDocument.create();
    plain.addPage();
    await expect(finishPdf(await plain.save(), REQUEST)).rejects.toThrow('no tags');
  });
});
