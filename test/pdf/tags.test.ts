import {
  decodePDFRawStream,
  PDFArray,
  PDFDict,
  PDFDocument,
  PDFName,
  type PDFRawStream,
  PDFString,
} from '@cantoo/pdf-lib';
import { beforeAll, describe, expect, test } from 'vitest';
import { type FinishRequest, finishPdf } from '../../src/pdf/finish-pdf.ts';
import { judgeTags } from '../../src/pdf/judge-tags.ts';
import { readPageSigns } from '../../src/pdf/page-signs.ts';
import { readPainted } from '../../src/pdf/painted-pieces.ts';
import { getDocument } from '../../src/pdf/pdfjs.ts';
import { listElements, structureRoot, typeOf } from '../../src/pdf/structure-tree.ts';
import { openPrinter } from '../support/kept-printer.ts';

/** A square of 144 pt at 100 pt from the left and 200 pt from the top of the page, behind a page with a running head. */
const PAGE = `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Page</title><style>
  @page { size: 600pt 800pt; margin: 0; @top-left { content: 'Head of the page' } }
  body { margin: 0; font: 12pt 'Open Sans' } table { border-collapse: collapse } td { border: 1pt solid red; background: #eee }
  #drawn { position: absolute; left: 100pt; top: 200pt } a { text-decoration: none } figure { margin: 0 } svg { display: block }</style></head><body>
  <h1>Gauge house</h1><p>It is <strong>sound</strong> and <em>dry</em>: <a href="#end">see <span class="katex" role="img"
  aria-label="U sub p"><span>U<sub>p</sub></span></span> there</a>, <a href="#end">and again</a>,
  <a href="https://heron-weir.example/a%20b">out</a>.</p>
  <ul><li>one <b>lead</b></li><li>another<ol><li>inner</li></ol></li></ul>
  <p><span class="katex" role="img" aria-label="U sub p"><span>U<sub>p</sub></span></span></p>
  <table><caption>Leads</caption><tr><th scope="col">Lead</th><th scope="col">Length</th></tr><tr><td>A</td><td>7.5 m</td></tr></table>
  <figure id="drawn"><svg role="img" aria-label="A square of red" width="144pt" height="144pt" viewBox="0 0 72 72">
  <path d="M0 0H72V72H0Z" fill="red"/><text x="20" y="40">inside</text></svg><figcaption>Fig.</figcaption></figure>
  <h2 id="end">End</h2></body></html>`;

const REQUEST: FinishRequest = {
  title: 'Gauge house',
  author: 'A. Person',
  subject: '',
  keywords: [],
  creator: 'surgenote',
  producer: 'surgenote',
  language: 'en-GB',
  date: '2032-03-09',
  identity: '0123456789abcdef0123456789abcdef',
  headings: [{ text: 'Gauge house' }, { text: 'End' }],
  page: PAGE,
};

let printed: Uint8Array;
let finished: Uint8Array;

beforeAll(async () => {
  const printer = await openPrinter({ environment: process.env });
  try {
    printed = (await printer.print(PAGE)).pdf;
  } finally {
    await printer.close();
  }
  finished = (await finishPdf(printed, REQUEST)).pdf;
});

const open = (bytes = finished): Promise<PDFDocument> => PDFDocument.load(bytes, { updateMetadata: false });
const elementsOf = (document: PDFDocument): PDFDict[] => listElements(structureRoot(document)!);
const first = (document: PDFDocument, type: string): PDFDict =>
  elementsOf(document).find((one) => typeOf(one) === type)!;

function paintedOn(document: PDFDocument) {
  const [page] = document.getPages();
  const stream = page!.node.lookup(PDFName.of('Contents')) as PDFRawStream;
  const content = Buffer.from(decodePDFRawStream(stream).decode());
  const { pieces } = readPainted(content, page!.node.Resources(), [
    0,
    0,
    page!.getWidth(),
    page!.getHeight(),
  ]);
  return { text: content.toString('latin1'), pieces };
}

describe('the tags of a finished PDF', () => {
  test('have types that PDF 1.7 knows, as another library reads them', async () => {
    const task = getDocument({ data: Uint8Array.from(finished), verbosity: 0 });
    const tree = await (await (await task.promise).getPage(1)).getStructTree();
    await task.destroy();
    const outline = (node: typeof tree): unknown =>
      'role' in node
        ? {
            [node.role]: (node.children ?? [])
              .filter((one) => 'role' in one)
              .map((one) => outline(one as never)),
          }
        : {};
    const text = JSON.stringify(outline(tree));
    // The item of a list, its label, and its body with a list in it (PDF 32000-1, 14.8.4.3.3).
    expect(text).toContain(
      '{"LI":[{"Lbl":[]},{"LBody":[{"Span":[]},{"L":[{"LI":[{"Lbl":[]},{"LBody":[{"Span":[]}]}]}]}]}]}',
    );
    expect(text).toContain('{"Div":[{"Figure":[]},{"Caption":[{"Span":[]}]}]}');
    expect(text.match(/"Formula"/g)).toHaveLength(2);
    expect(text).not.toContain('"Em"');
  });

  test('say of a figure what part of the page it takes', async () => {
    const document = await open();
    const figure = first(document, 'Figure');
    const layout = figure.lookup(PDFName.of('A'), PDFDict);
    const box = layout.lookup(PDFName.of('BBox'), PDFArray).asRectangle();
    // The page is 800 pt high; the browser rounds it to whole pixels of three quarters of a point.
    const expected = { x: 100, y: 800 - 200 - 144, width: 144, height: 144 };
    for (const [key, value] of Object.entries(expected))
      expect(Math.abs(box[key as keyof typeof expected] - value)).toBeLessThan(0.5);
  });

  test('leave out running heads, rules and grounds, which are artifacts, and nothing of a drawing', async () => {
    const document = await open();
    const { pieces, text } = paintedOn(document);
    expect(pieces.every(({ isMarked }) => isMarked)).toBe(true);
    const tagged = pieces.filter(({ mark }) => mark !== undefined);
    // Two discs of a list and the square.
    expect(tagged.filter(({ kind }) => kind === 'path')).toHaveLength(3);
    const before = paintedOn(await open(printed));
    expect(before.pieces.filter(({ isMarked }) => !isMarked).length).toBeGreaterThan(0);
    expect(pieces.map(({ kind, box }) => ({ kind, box }))).toEqual(
      before.pieces.map(({ kind, box }) => ({ kind, box })),
    );
    expect(text.match(/\/Artifact BMC/g)!.length).toBeGreaterThan(2);
    expect(text.match(/\bB[DM]C\b/g)).toHaveLength(text.match(/\bEMC\b/g)!.length);
  });

  test('say of each link what stands there, formulas in words', async () => {
    const document = await open();
    const contents = elementsOf(document)
      .filter((one) => typeOf(one) === 'Link')
      .map((one) => JSON.stringify(one.lookup(PDFName.of('K'), PDFArray).asArray().map(String)));
    expect(contents).toHaveLength(3);
    const annotations = document.getPages()[0]!.node.lookup(PDFName.of('Annots'), PDFArray);
    const texts = annotations
      .asArray()
      .map((_, i) => annotations.lookup(i, PDFDict).lookup(PDFName.of('Contents')));
    // A link with a formula in it has several areas.
    expect(new Set(texts.map((text) => (text as PDFString).decodeText()))).toEqual(
      new Set(['and again', 'out', 'see U sub p there']),
    );
  });

  test('are claimed by the metadata only where they hold', async () => {
    const claim = async (bytes: Uint8Array): Promise<boolean> => {
      const stream = (await open(bytes)).catalog.lookup(PDFName.of('Metadata')) as PDFRawStream;
      return Buffer.from(stream.contents).toString('utf8').includes('<pdfuaid:part>1</pdfuaid:part>');
    };
    expect(judgeTags(await open())).toEqual([]);
    expect(await claim(finished)).toBe(true);
    const broken = await open(printed);
    first(broken, 'H2').set(PDFName.of('S'), PDFName.of('H4'));
    const other = await finishPdf(await broken.save({ useObjectStreams: false }), REQUEST);
    expect(judgeTags(await open(other.pdf)).map(({ rule }) => rule)).toEqual(['7.4.2-1']);
    expect(await claim(other.pdf)).toBe(false);
  });
});

const rename = (from: string, to: string) => (document: PDFDocument) =>
  first(document, from).set(PDFName.of('S'), PDFName.of(to));
const remove = (type: string, key: string) => (document: PDFDocument) =>
  void first(document, type).delete(PDFName.of(key));
const annotation = (document: PDFDocument): PDFDict =>
  document.getPages()[0]!.node.lookup(PDFName.of('Annots'), PDFArray).lookup(0, PDFDict);

describe('a fault of the tags is found', () => {
  test.each<[string, (document: PDFDocument) => unknown]>([
    ['7.1-3', ({ catalog }) => catalog.delete(PDFName.of('StructTreeRoot'))],
    ['7.1-5', (document) => structureRoot(document)!.delete(PDFName.of('RoleMap'))],
    [
      '7.1-7',
      (document) =>
        structureRoot(document)!
          .lookup(PDFName.of('RoleMap'), PDFDict)
          .set(PDFName.of('P'), PDFName.of('Div')),
    ],
    ['6.2-1', ({ catalog }) => catalog.delete(PDFName.of('MarkInfo'))],
    ['7.1-8', ({ catalog }) => catalog.delete(PDFName.of('Metadata'))],
    ['7.1-10', ({ catalog }) => catalog.delete(PDFName.of('ViewerPreferences'))],
    ['7.2-29', ({ catalog }) => catalog.set(PDFName.of('Lang'), PDFString.of('British English'))],
    ['7.2-20', rename('LBody', 'Div')],
    ['7.2-17', rename('L', 'Div')],
    ['7.2-19', rename('LI', 'P')],
    ['7.2-10', rename('TH', 'P')],
    ['7.2-4', rename('Table', 'Div')],
    ['7.2-3', rename('TR', 'P')],
    ['7.3-1', remove('Figure', 'Alt')],
    ['7.7-1', remove('Formula', 'Alt')],
    ['7.4.2-1', rename('H1', 'H2')],
    ['7.4.4-2', rename('H2', 'H')],
    ['7.9-1', rename('P', 'Note')],
    ['table heads', remove('TH', 'K')],
    ['table heads', remove('TH', 'A')],
    ['7.18.5-1', rename('Link', 'Span')],
    ['7.18.5-2', (document) => annotation(document).delete(PDFName.of('Contents'))],
    ['7.18.1-1', (document) => annotation(document).set(PDFName.of('Subtype'), PDFName.of('Text'))],
    ['7.18.4-1', (document) => annotation(document).set(PDFName.of('Subtype'), PDFName.of('Widget'))],
    ['7.18.3-1', (document) => document.getPages()[0]!.node.delete(PDFName.of('Tabs'))],
  ])('%s', async (rule, damage) => {
    const document = await open();
    damage(document);
    expect(judgeTags(document).map((fault) => fault.rule)).toContain(rule);
  });
});

test('a link that holds a formula has its words, and entities are read', () => {
  const { links } = readPageSigns(
    '<a class="x" href="?a=1&amp;b=2">f &lt; <span class="katex" role="img" aria-label="f sub 0"><span>f<i></i></span></span>&#x27;s</a>',
  );
  expect(links).toEqual([{ address: '?a=1&b=2', text: "f < f sub 0 's" }]);
});
