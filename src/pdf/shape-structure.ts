import { PDFArray, PDFDict, type PDFDocument, PDFHexString, PDFName, type PDFObject } from '@cantoo/pdf-lib';
import { type Box, unite } from './box.ts';
import { decodeName } from './destinations.ts';
import { type MarkBoxes, markKey } from './mark-artifacts.ts';
import type { PageLink, PageSigns } from './page-signs.ts';
import {
  alternativeOf,
  annotationsOf,
  childElements,
  listElements,
  listKids,
  marksOf,
  readText,
  referenceOf,
  structureRoot,
  typeOf,
} from './structure-tree.ts';

/** Types that the browser writes and PDF 1.7 does not know, and the nearest that it does (PDF 32000-1, 14.8.4). */
const ROLES: Readonly<Record<string, string>> = { Strong: 'Span', Em: 'Span' };

/**
 * Makes of the tags that the browser writes those that PDF 1.7 and PDF/UA-1 ask for: types of later versions are mapped to
 * known ones, formulas are `Formula`, the text of a list item stands in its body, a figure with its caption is a group, text
 * without a type of its own is `Span`, figures and formulas say what part of the page they take, links what they lead to.
 */
export function shapeStructure(document: PDFDocument, signs: PageSigns, boxes: MarkBoxes): void {
  const root = structureRoot(document);
  if (!root) return;
  root.set(PDFName.of('RoleMap'), document.context.obj({ ...ROLES }));
  for (const element of listElements(root)) {
    const type = typeOf(element);
    if (type === 'LI') encloseBody(document, element);
    if (type === 'Figure') shapeFigure(document, element, signs, boxes);
    // A group without content of its own stays one: it may hold paragraphs.
    if (type === 'NonStruct' && marksOf(element).length > 0) setType(element, 'Span');
  }
  describeLinks(root, signs.links);
}

function setType(element: PDFDict, type: string): void {
  element.set(PDFName.of('S'), PDFName.of(type));
}

/** Everything in a list item but its label goes into one body. */
function encloseBody(document: PDFDocument, item: PDFDict): void {
  const isLabel = (kid: PDFObject): boolean => kid instanceof PDFDict && typeOf(kid) === 'Lbl';
  const kids = listKids(item);
  const inner = kids.filter(({ value }) => !isLabel(value));
  const parent = referenceOf(item);
  if (inner.length === 0 || parent === undefined) return;
  const { context } = document;
  const page = item.get(PDFName.of('Pg'));
  const body = context.obj({
    Type: 'StructElem',
    S: 'LBody',
    P: parent,
    K: inner.map(({ written }) => written),
  });
  if (page) body.set(PDFName.of('Pg'), page);
  const reference = context.register(body);
  for (const { value } of inner)
    if (value instanceof PDFDict && value.has(PDFName.of('S'))) value.set(PDFName.of('P'), reference);
  const labels = kids.filter(({ value }) => isLabel(value)).map(({ written }) => written);
  item.set(PDFName.of('K'), context.obj([...labels, reference]));
}

function shapeFigure(document: PDFDocument, figure: PDFDict, signs: PageSigns, boxes: MarkBoxes): void {
  const alternative = alternativeOf(figure);
  if (alternative === undefined) {
    // The picture in it has the words; the caption is read beside them.
    if (childElements(figure).length > 0) setType(figure, 'Div');
    return;
  }
  if (signs.formulas.has(alternative)) setType(figure, 'Formula');
  const marks = [figure, ...listElements(figure)].flatMap(marksOf);
  // The entry is for what stands on one page (PDF 32000-1, 14.8.5.4.3).
  if (new Set(marks.map(({ page }) => page)).size !== 1) return;
  let box: Box | undefined;
  for (const { page, number } of marks) box = unite(box, boxes.get(markKey(page, number)));
  if (!box) return;
  const { context } = document;
  const layout = context.obj({ O: 'Layout', BBox: box.map((edge) => Math.round(edge * 100) / 100) });
  const present = figure.lookup(PDFName.of('A'));
  const others = present instanceof PDFArray ? present.asArray() : present ? [present] : [];
  figure.set(PDFName.of('A'), others.length === 0 ? layout : context.obj([...others, layout]));
}

/** Gives every link annotation the text of its link: the first of the page that leads there and was not yet taken. */
function describeLinks(root: PDFDict, links: readonly PageLink[]): void {
  const waiting = new Map<string, string[]>();
  for (const { address, text } of links) {
    const key = decodeName(address);
    const texts = waiting.get(key) ?? [];
    texts.push(text || address);
    waiting.set(key, texts);
  }
  for (const element of listElements(root)) {
    const annotations = annotationsOf(element).filter(
      (one) => one.lookup(PDFName.of('Subtype')) === PDFName.of('Link'),
    );
    const address = annotations[0] && addressOf(annotations[0]);
    if (address === undefined) continue;
    const texts = waiting.get(address) ?? [];
    const text = (texts.length > 1 ? texts.shift() : texts[0]) ?? address;
    for (const annotation of annotations) annotation.set(PDFName.of('Contents'), PDFHexString.fromText(text));
  }
}

function addressOf(annotation: PDFDict): string | undefined {
  const destination = annotation.lookup(PDFName.of('Dest'));
  if (destination instanceof PDFName) return `#${decodeName(destination.decodeText())}`;
  if (destination !== undefined) return readText(destination);
  const action = annotation.lookup(PDFName.of('A'));
  const address = action instanceof PDFDict ? readText(action.lookup(PDFName.of('URI'))) : undefined;
  return address === undefined ? undefined : decodeName(address);
}
