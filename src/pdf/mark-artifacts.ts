import {
  PDFArray,
  PDFDict,
  type PDFDocument,
  PDFName,
  PDFNull,
  type PDFPage,
  PDFRawStream,
} from '@cantoo/pdf-lib';
import { type Box, unite } from './box.ts';
import { FontWidths, type PaintedPage, type PaintedPiece, readPainted } from './painted-pieces.ts';
import { readStreamBytes } from './read-stream.ts';
import { alternativeOf, elementsOfPage, listKids, marksOf, parentOf, typeOf } from './structure-tree.ts';

/** What each content mark covers of its page, in points; of marks that paint nothing there is none. */
export type MarkBoxes = ReadonlyMap<string, Box>;

export interface MarkedPages {
  readonly boxes: MarkBoxes;
  /** What goes into the streams of the pages, which are empty as yet. */
  readonly contents: ReadonlyMap<PDFRawStream, Buffer>;
}

/** The key of a mark in `MarkBoxes`. */
export function markKey(page: string, number: number): string {
  return `${page} ${number}`;
}

/**
 * Marks as artifacts (PDF 32000-1, 14.8.2.2) what belongs to no tag: running heads, the mark across a draft, rules and
 * grounds of tables and texts, which the browser leaves unmarked or puts into the table. Lines of drawings and formulas stay.
 */
export function markArtifacts(document: PDFDocument): MarkedPages {
  const { context } = document;
  const contents = new Map<PDFRawStream, Buffer>();
  const boxes = new Map<string, Box>();
  const fonts = new FontWidths();
  for (const page of document.getPages()) {
    const content = readContent(page);
    const { x, y, width, height } = page.getMediaBox();
    const resources = page.node.Resources();
    const painted = readPainted(content, resources, [x, y, x + width, y + height], fonts);
    const rules = findRules(document, page, painted);
    for (const number of rules) dropMark(document, page, number);
    const stream = context.stream(new Uint8Array(0), { Filter: 'FlateDecode' });
    contents.set(stream, writeMarks(content, painted, rules));
    page.node.set(PDFName.of('Contents'), context.register(stream));
    for (const { mark, box } of painted.pieces) {
      if (mark === undefined || !box || rules.has(mark)) continue;
      const key = markKey(page.ref.tag, mark);
      boxes.set(key, unite(boxes.get(key), box)!);
    }
  }
  return { boxes, contents };
}

/** The content of a page; its old streams go out of the file. */
function readContent(page: PDFPage): Buffer {
  const { context } = page.doc;
  const entry = page.node.get(PDFName.of('Contents'));
  const listed = page.node.lookup(PDFName.of('Contents'));
  const references = listed instanceof PDFArray ? listed.asArray() : entry ? [entry] : [];
  const contents = references.flatMap((reference, i) => {
    const stream = context.lookup(reference);
    if (!(stream instanceof PDFRawStream)) throw new Error('The content of a page is no stream.');
    return [...(i > 0 ? [LINE_END] : []), readStreamBytes(stream)];
  });
  for (const reference of [...references, entry])
    if (reference && 'objectNumber' in reference) context.delete(reference as never);
  return contents.length === 1 ? contents[0]! : Buffer.concat(contents);
}

const LINE_END = Buffer.from('\n');

/** Marks that enclose lines and grounds alone, and neither a drawing or formula nor the disc of a list item. */
function findRules(document: PDFDocument, page: PDFPage, { pieces, starts }: PaintedPage): Set<number> {
  const elements = elementsOfPage(document, page);
  const kinds = new Map<number, Set<PaintedPiece['kind']>>();
  for (const { mark, kind } of pieces)
    if (mark !== undefined) kinds.set(mark, (kinds.get(mark) ?? new Set()).add(kind));
  const numbers = starts.map(({ number }) => number);
  return new Set(
    numbers.filter((number) => {
      const found = [...(kinds.get(number) ?? [])];
      const element = elements?.lookup(number);
      return (
        found.length === 1 && found[0] === 'path' && !(element instanceof PDFDict && isPictured(element))
      );
    }),
  );
}

/** Whether what is drawn in an element says something: it is a label, or it or one around it has words for that. */
function isPictured(element: PDFDict): boolean {
  if (typeOf(element) === 'Lbl') return true;
  for (let one: PDFDict | undefined = element; one; one = parentOf(one))
    if (alternativeOf(one) !== undefined) return true;
  return false;
}

/** Takes a mark from the element to which it belongs. */
function dropMark(document: PDFDocument, page: PDFPage, number: number): void {
  const elements = elementsOfPage(document, page);
  const element = elements?.lookup(number);
  if (!elements || !(element instanceof PDFDict)) return;
  elements.set(number, PDFNull);
  const kept = listKids(element).filter(({ value }) => {
    const alone = document.context.obj({ Pg: element.get(PDFName.of('Pg')) ?? PDFNull, K: value });
    return !marksOf(alone).some((mark) => mark.page === page.ref.tag && mark.number === number);
  });
  if (kept.length === 0) element.delete(PDFName.of('K'));
  else element.set(PDFName.of('K'), document.context.obj(kept.map(({ written }) => written)));
}

interface Edit {
  readonly start: number;
  readonly end: number;
  readonly text: Buffer;
}

const [BEGIN_ARTIFACT, BEGIN_BEFORE, END_AFTER] = ['/Artifact BMC', '/Artifact BMC\n', '\nEMC'].map((text) =>
  Buffer.from(text),
) as [Buffer, Buffer, Buffer];

function writeMarks(content: Buffer, { pieces, starts }: PaintedPage, rules: ReadonlySet<number>): Buffer {
  const edits: Edit[] = starts
    .filter(({ number }) => rules.has(number))
    .map(({ start, end }) => ({ start, end, text: BEGIN_ARTIFACT }));
  const loose = pieces.filter(({ isMarked }) => !isMarked);
  for (let i = 0; i < loose.length; i += 1) {
    const { start } = loose[i]!;
    while (isOneText(content, loose[i]!, loose[i + 1])) i += 1;
    const { end } = loose[i]!;
    edits.push({ start, end: start, text: BEGIN_BEFORE }, { start: end, end, text: END_AFTER });
  }
  const written: Buffer[] = [];
  let at = 0;
  for (const { start, end, text } of edits.sort((a, b) => a.start - b.start)) {
    written.push(content.subarray(at, start), text);
    at = end;
  }
  return Buffer.concat([...written, content.subarray(at)]);
}

/** Whether two runs of text follow each other within one text object, so that one mark may enclose both. */
function isOneText(content: Buffer, first: PaintedPiece, next: PaintedPiece | undefined): boolean {
  if (first.kind !== 'text' || next?.kind !== 'text') return false;
  return !/\b(?:BT|ET|BDC|BMC|EMC)\b/.test(content.toString('latin1', first.end, next.start));
}
