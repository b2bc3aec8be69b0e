import { PDFArray, PDFDict, type PDFDocument, PDFName, type PDFObject, PDFRawStream } from '@cantoo/pdf-lib';
import { openForeignDocument, readForeign } from './open-document.ts';
import { listFields, readText, takesSignature } from './signature-form.ts';

/**
 * What a PDF holds that shows or does something beside its pages and that no document of ours has: annotations other than links and
 * signature fields, actions other than going to a place or an address of the web, scripts, forms. Each once, sorted.
 *
 * @throws {OutsideFailure} what `openForeignDocument` throws
 */
export function listActiveParts(pdf: Uint8Array): Promise<string[]> {
  return readForeign(async () => {
    const document = await openForeignDocument(pdf);
    const parts = [...listOfPages(document), ...listOfCatalog(document), ...listOfActions(document)];
    return [...new Set(parts)].sort();
  });
}

function listOfPages(document: PDFDocument): string[] {
  const signatures = new Set(
    listFields(document)
      .filter(takesSignature)
      .map(({ dictionary }) => dictionary),
  );
  return document.getPages().flatMap(({ node }, index) => {
    const annotations = node.lookup(PDFName.of('Annots'));
    const list = annotations instanceof PDFArray ? annotations.asArray() : [];
    return list.flatMap((entry) => {
      const annotation = document.context.lookup(entry);
      if (!(annotation instanceof PDFDict)) return [];
      const kind = nameOf(annotation, 'Subtype') ?? 'unknown';
      if (kind === 'Link' || (kind === 'Widget' && signatures.has(annotation))) return [];
      return [`an annotation (${kind}) on page ${index + 1}`];
    });
  });
}

function listOfCatalog({ catalog }: PDFDocument): string[] {
  const parts = ['OpenAction', 'Collection', 'Threads', 'OCProperties', 'Requirements']
    .filter((key) => catalog.has(PDFName.of(key)))
    .map((key) => `/${key} in the catalogue`);
  const names = catalog.lookup(PDFName.of('Names'));
  const kinds = names instanceof PDFDict ? names.keys().map((key) => key.decodeText()) : [];
  parts.push(
    ...kinds
      .filter((kind) => kind !== 'EmbeddedFiles' && kind !== 'Dests')
      .map((kind) => `/${kind} among the names`),
  );
  const form = catalog.lookup(PDFName.of('AcroForm'));
  if (form instanceof PDFDict && form.has(PDFName.of('XFA'))) parts.push('a form in XML');
  return parts;
}

/** Actions anywhere in the file: whatever holds them, somebody may start them. */
function listOfActions(document: PDFDocument): string[] {
  return document.context.enumerateIndirectObjects().flatMap(([, object]) => findActions(object));
}

const MOST_DEPTH = 50;

function findActions(object: PDFObject, depth = 0): string[] {
  if (depth > MOST_DEPTH) return ['an object that is nested too deep'];
  if (object instanceof PDFArray) return object.asArray().flatMap((entry) => findActions(entry, depth + 1));
  const dictionary = object instanceof PDFRawStream ? object.dict : object;
  if (!(dictionary instanceof PDFDict)) return [];
  const within = dictionary.values().flatMap((value) => findActions(value, depth + 1));
  const what = nameAction(dictionary);
  if (dictionary.has(PDFName.of('AA'))) within.push('actions that events start');
  return what === undefined ? within : [what, ...within];
}

/** An action is a dictionary whose `/S` names its kind (PDF 32000-1, 12.6); structure elements have an `/S` too. */
function nameAction(dictionary: PDFDict): string | undefined {
  const kind = nameOf(dictionary, 'S');
  if (kind === 'URI') {
    const address = readText(dictionary.lookup(PDFName.of('URI'))) ?? '';
    return /^(?:https?|mailto):/i.test(address) ? undefined : 'a link to no address of the web';
  }
  if (dictionary.has(PDFName.of('JS'))) return 'a script';
  return kind !== undefined && ACTIONS.includes(kind) ? `an action (${kind})` : undefined;
}

/** PDF 32000-1, table 198, and PDF 32000-2, table 201, but going to a place in the document. */
const ACTIONS = [
  'GoToR',
  'GoToE',
  'GoToDp',
  'Launch',
  'Thread',
  'Sound',
  'Movie',
  'Hide',
  'Named',
  'SubmitForm',
  'ResetForm',
  'ImportData',
  'JavaScript',
  'SetOCGState',
  'Rendition',
  'Trans',
  'GoTo3DView',
  'RichMediaExecute',
];

function nameOf(dictionary: PDFDict, key: string): string | undefined {
  const value = dictionary.lookup(PDFName.of(key));
  return value instanceof PDFName ? value.decodeText() : undefined;
}
