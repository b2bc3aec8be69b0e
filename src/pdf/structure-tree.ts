import {
  PDFArray,
  PDFDict,
  type PDFDocument,
  PDFHexString,
  PDFName,
  PDFNumber,
  type PDFObject,
  type PDFPage,
  PDFRef,
  PDFString,
} from '@cantoo/pdf-lib';

/** The root of the tags of a document; undefined where it has none. */
export function structureRoot(document: PDFDocument): PDFDict | undefined {
  const root = document.catalog.lookup(PDFName.of('StructTreeRoot'));
  return root instanceof PDFDict ? root : undefined;
}

/** All elements, parents first, in reading order. Content marks and object references among the children are left out. */
export function listElements(root: PDFDict): PDFDict[] {
  const elements: PDFDict[] = [];
  const seen = new Set<PDFDict>([root]);
  const waiting: PDFDict[] = [];
  pushChildren(root, waiting);
  for (let element = waiting.pop(); element !== undefined; element = waiting.pop()) {
    if (seen.has(element)) continue;
    seen.add(element);
    elements.push(element);
    pushChildren(element, waiting);
  }
  return elements;
}

/** Puts the elements directly below one behind a list, the last first. */
function pushChildren(element: PDFDict, list: PDFDict[]): void {
  const kids = element.lookup(KIDS);
  if (kids instanceof PDFArray)
    for (let i = kids.size() - 1; i >= 0; i -= 1) pushElement(kids.lookup(i), list);
  else pushElement(kids, list);
}

function pushElement(kid: PDFObject | undefined, list: PDFDict[]): void {
  if (kid instanceof PDFDict && kid.has(TYPE)) list.push(kid);
}

const [KIDS, TYPE, PARENT] = ['K', 'S', 'P'].map((name) => PDFName.of(name)) as [PDFName, PDFName, PDFName];

export function childElements(element: PDFDict): PDFDict[] {
  const elements: PDFDict[] = [];
  pushChildren(element, elements);
  return elements.reverse();
}

/** The reference by which an element stands below its parent; undefined where it stands there itself. */
export function referenceOf(element: PDFDict): PDFRef | undefined {
  const parent = element.lookup(PARENT);
  const found = parent instanceof PDFDict && listKids(parent).find(({ value }) => value === element);
  return found && found.written instanceof PDFRef ? found.written : undefined;
}

/** What stands below an element: other elements, content marks, references to annotations; as it is written and as it is. */
export function listKids(element: PDFDict): { readonly written: PDFObject; readonly value: PDFObject }[] {
  const written = element.get(KIDS);
  const kids = element.lookup(KIDS);
  if (kids instanceof PDFArray) {
    const list: { readonly written: PDFObject; readonly value: PDFObject }[] = [];
    for (let i = 0; i < kids.size(); i += 1) {
      const value = kids.lookup(i);
      if (value !== undefined) list.push({ written: kids.get(i), value });
    }
    return list;
  }
  return written === undefined || kids === undefined ? [] : [{ written, value: kids }];
}

/** The name of an element's type, as it is written. */
export function typeOf(element: PDFDict): string {
  const type = element.lookup(TYPE);
  return type instanceof PDFName ? type.decodeText() : '';
}

export function parentOf(element: PDFDict): PDFDict | undefined {
  const parent = element.lookup(PARENT);
  return parent instanceof PDFDict && parent.has(TYPE) ? parent : undefined;
}

export function readText(object: PDFObject | undefined): string | undefined {
  return object instanceof PDFString || object instanceof PDFHexString ? object.decodeText() : undefined;
}

/** The alternative text of an element, without blanks around it; undefined where it has none that says anything. */
export function alternativeOf(element: PDFDict): string | undefined {
  return readText(element.lookup(PDFName.of('Alt')))?.trim() || undefined;
}

const [OBJECT, MARK, PAGE] = ['Obj', 'MCID', 'Pg'].map((name) => PDFName.of(name)) as [
  PDFName,
  PDFName,
  PDFName,
];

/** The annotations that an element encloses (PDF 32000-1, 14.7.4.3). */
export function annotationsOf(element: PDFDict): PDFDict[] {
  const annotations: PDFDict[] = [];
  forEachKid(element, (kid) => {
    const annotation = kid instanceof PDFDict ? kid.lookup(OBJECT) : undefined;
    if (annotation instanceof PDFDict) annotations.push(annotation);
  });
  return annotations;
}

/** Whatever stands below an element, without a list of it: this is asked of every tag of a document, again and again. */
function forEachKid(element: PDFDict, visit: (kid: PDFObject) => void): void {
  const kids = element.lookup(KIDS);
  if (kids instanceof PDFArray) {
    for (let i = 0; i < kids.size(); i += 1) {
      const kid = kids.lookup(i);
      if (kid !== undefined) visit(kid);
    }
  } else if (kids !== undefined) visit(kids);
}

/** A content mark of an element: the page, and the number of the mark there. */
export interface ContentMark {
  readonly page: string;
  readonly number: number;
}

/** The marks that stand directly below an element (PDF 32000-1, 14.7.4.2). */
export function marksOf(element: PDFDict): ContentMark[] {
  const own = element.get(PAGE);
  const marks: ContentMark[] = [];
  forEachKid(element, (kid) => {
    const mark = kid instanceof PDFDict ? kid.lookup(MARK) : kid;
    const page = (kid instanceof PDFDict ? kid.get(PAGE) : undefined) ?? own;
    if (mark instanceof PDFNumber && page instanceof PDFRef)
      marks.push({ page: page.tag, number: mark.asNumber() });
  });
  return marks;
}

/** The elements to which the content marks of a page belong, by the number of the mark (PDF 32000-1, 14.7.4.4). */
export function elementsOfPage(document: PDFDocument, page: PDFPage): PDFArray | undefined {
  const key = page.node.lookup(PDFName.of('StructParents'));
  const tree = structureRoot(document)?.lookup(PDFName.of('ParentTree'));
  if (!(key instanceof PDFNumber) || !(tree instanceof PDFDict)) return undefined;
  const found = findInNumberTree(tree, key.asNumber());
  return found instanceof PDFArray ? found : undefined;
}

function findInNumberTree(node: PDFDict, key: number): PDFObject | undefined {
  const numbers = node.lookup(PDFName.of('Nums'));
  if (numbers instanceof PDFArray)
    for (let i = 0; i + 1 < numbers.size(); i += 2) {
      const number = numbers.lookup(i);
      if (number instanceof PDFNumber && number.asNumber() === key) return numbers.lookup(i + 1);
    }
  const kids = node.lookup(PDFName.of('Kids'));
  if (kids instanceof PDFArray)
    for (let i = 0; i < kids.size(); i += 1) {
      const kid = kids.lookup(i);
      const found = kid instanceof PDFDict ? findInNumberTree(kid, key) : undefined;
      if (found !== undefined) return found;
    }
  return undefined;
}
