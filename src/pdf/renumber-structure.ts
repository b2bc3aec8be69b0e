import {
  PDFArray,
  PDFDict,
  type PDFDocument,
  PDFName,
  type PDFObject,
  PDFRef,
  PDFString,
} from '@cantoo/pdf-lib';
import { listElements, readText, referenceOf, structureRoot } from './structure-tree.ts';

/**
 * Gives the elements of the structure tree new ids in the order in which they stand. The browser's own ids
 * (`node00000016`) count everything that its process has seen before, so that the same page printed second differs from
 * the same page printed first. The ids matter only inside the file: a table cell names its heads by them.
 */
export function renumberStructure(document: PDFDocument): void {
  const root = structureRoot(document);
  if (!root) return;
  const elements = listElements(root);
  const names = new Map<string, string>();
  const entries: PDFObject[] = [];
  for (const element of elements) {
    const id = readText(element.lookup(PDFName.of('ID')));
    if (id === undefined) continue;
    const name = `node${String(names.size + 1).padStart(8, '0')}`;
    names.set(id, name);
    element.set(PDFName.of('ID'), PDFString.of(name));
    const reference = referenceOf(element);
    if (reference !== undefined) entries.push(PDFString.of(name), reference);
  }
  for (const element of elements) renameHeaders(element.lookup(PDFName.of('A')), names);
  removeTree(document, root.get(PDFName.of('IDTree')));
  root.delete(PDFName.of('IDTree'));
  // One leaf is enough: the names are in order because the numbers have a fixed width.
  if (entries.length > 0) root.set(PDFName.of('IDTree'), document.context.obj({ Names: entries }));
}

/** Removes a name tree from the file; it would stay there as a remnant, with the old names, if only its use ended. */
function removeTree(document: PDFDocument, node: PDFObject | undefined): void {
  const tree = node instanceof PDFRef ? document.context.lookup(node) : node;
  if (node instanceof PDFRef && !document.context.delete(node)) return;
  const kids = tree instanceof PDFDict ? tree.lookup(PDFName.of('Kids')) : undefined;
  if (kids instanceof PDFArray) for (const kid of kids.asArray()) removeTree(document, kid);
}

function renameHeaders(attributes: PDFObject | undefined, names: ReadonlyMap<string, string>): void {
  if (attributes instanceof PDFArray) {
    for (let index = 0; index < attributes.size(); index += 1) renameHeaders(attributes.lookup(index), names);
    return;
  }
  const heads = attributes instanceof PDFDict ? attributes.lookup(PDFName.of('Headers')) : undefined;
  if (!(heads instanceof PDFArray)) return;
  for (let index = 0; index < heads.size(); index += 1) {
    const name = names.get(readText(heads.lookup(index)) ?? '');
    if (name !== undefined) heads.set(index, PDFString.of(name));
  }
}
