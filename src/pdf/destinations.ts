import {
  PDFArray,
  PDFDict,
  type PDFDocument,
  PDFHexString,
  PDFName,
  type PDFObject,
  PDFRef,
  PDFString,
} from '@cantoo/pdf-lib';

/** Page numbers, counted from 1, by the reference of the page. */
export type PageIndex = ReadonlyMap<string, number>;

/** Numbers the pages of a document in reading order. */
export function indexPages(document: PDFDocument): PageIndex {
  return new Map(document.getPages().map((page, index) => [page.ref.tag, index + 1]));
}

/**
 * The named destinations of a document: from the element's id to its page. The browser writes one for each id that a
 * link of the page leads to.
 */
export function readDestinations(document: PDFDocument, pages: PageIndex): Map<string, number> {
  const found = new Map<string, number>();
  const add = (name: string, target: PDFObject | undefined): void => {
    const page = findPage(target, document, pages, new Map());
    if (page !== undefined) found.set(decodeName(name), page);
  };
  const direct = document.catalog.lookup(PDFName.of('Dests'));
  if (direct instanceof PDFDict)
    for (const [name, target] of direct.entries()) add(name.decodeText(), target);
  const names = document.catalog.lookup(PDFName.of('Names'));
  const tree = names instanceof PDFDict ? names.lookup(PDFName.of('Dests')) : undefined;
  if (tree instanceof PDFDict) for (const [name, target] of readNameTree(tree)) add(name, target);
  return new Map([...found].sort(([a], [b]) => (a < b ? -1 : 1)));
}

/**
 * Page to which a destination leads: an array that begins with the page, a dictionary with such an array in /D, or a
 * name from `named`; undefined where it leads nowhere.
 */
export function findPage(
  target: PDFObject | undefined,
  document: PDFDocument,
  pages: PageIndex,
  named: ReadonlyMap<string, number>,
): number | undefined {
  const value = target instanceof PDFRef ? document.context.lookup(target) : target;
  if (value instanceof PDFName) return named.get(decodeName(value.decodeText()));
  if (value instanceof PDFString || value instanceof PDFHexString)
    return named.get(decodeName(value.decodeText()));
  const list = value instanceof PDFDict ? value.lookup(PDFName.of('D')) : value;
  const page = list instanceof PDFArray && list.size() > 0 ? list.get(0) : undefined;
  return page instanceof PDFRef ? pages.get(page.tag) : undefined;
}

/** Name of a destination as the id of the element: the browser writes the fragment of the link, percent signs and all. */
export function decodeName(name: string): string {
  try {
    return decodeURIComponent(name);
  } catch {
    return name;
  }
}

/** Entries of a name tree (PDF 32000-1, 7.9.6) in order; nodes that were seen before are passed over. */
export function readNameTree(root: PDFDict): [string, PDFObject][] {
  const entries: [string, PDFObject][] = [];
  const seen = new Set<PDFDict>();
  const waiting: PDFDict[] = [root];
  for (let node = waiting.pop(); node !== undefined; node = waiting.pop()) {
    if (seen.has(node)) continue;
    seen.add(node);
    const names = node.lookup(PDFName.of('Names'));
    if (names instanceof PDFArray) entries.push(...readPairs(names));
    const kids = node.lookup(PDFName.of('Kids'));
    if (!(kids instanceof PDFArray)) continue;
    for (let index = kids.size() - 1; index >= 0; index -= 1) {
      const kid = kids.lookup(index);
      if (kid instanceof PDFDict) waiting.push(kid);
    }
  }
  return entries;
}

function readPairs(names: PDFArray): [string, PDFObject][] {
  const pairs: [string, PDFObject][] = [];
  for (let index = 0; index + 1 < names.size(); index += 2) {
    const name = names.lookup(index);
    if (name instanceof PDFString || name instanceof PDFHexString)
      pairs.push([name.decodeText(), names.get(index + 1)]);
  }
  return pairs;
}
