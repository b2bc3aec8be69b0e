import {
  PDFArray,
  PDFDict,
  type PDFDocument,
  PDFName,
  type PDFObject,
  PDFRawStream,
  PDFRef,
} from '@cantoo/pdf-lib';
import { hasStoreGrown, isStoreAnother, storesOf } from './compare-stores.ts';
import { type FormField, listFields, takesSignature } from './signature-form.ts';
import { writeObject } from './write-object.ts';

/**
 * What changed between two states of a document, among the objects of some numbers, beside what signing changes:
 * signatures in fields that were empty, new signature fields without area, the lists and flags that belong to them, and data for verifying
 * signatures.
 * Sorted, each once; empty where there is nothing else. Objects that only the later state has count by what refers to
 * them.
 */
export function describeChanges(
  before: PDFDocument,
  after: PDFDocument,
  numbers: ReadonlySet<number>,
): string[] {
  const context: Context = {
    before,
    after,
    pages: namePages(before),
    fields: new Set(listSignatureFields(after)),
    stores: storesOf(before),
    storeGrew: hasStoreGrown(before, after),
  };
  const what = new Set<string>();
  const awaited = listReferences(before);
  for (const number of numbers) {
    const reference = PDFRef.of(number);
    const [old, now] = [before.context.lookup(reference), after.context.lookup(reference)];
    // What the earlier state names and does not have would change what it shows as soon as it is there.
    if (old === undefined && awaited.has(number)) what.add('an object that was named and not there');
    if (old === undefined || writeObject(old) === writeObject(now)) continue;
    if (!isPermitted(context, reference, old, now)) what.add(nameObject(context, reference, old));
  }
  for (const field of context.fields)
    if (isNewAndVisible(context, field)) what.add('a visible signature field');
  if (isOrphaned(after, numbers)) what.add('an object that belongs to nothing');
  if (isStoreAnother(before, after) && !context.storeGrew) what.add('the data for verifying signatures');
  return [...what].sort();
}

/** Whether one of the objects of some numbers is referred to by nothing that a reader comes to; containers of others are none. */
function isOrphaned({ context }: PDFDocument, numbers: ReadonlySet<number>): boolean {
  const reached = new Set<number>();
  const waiting: (PDFObject | undefined)[] = [context.trailerInfo.Root, context.trailerInfo.Info];
  while (waiting.length > 0) {
    const object = waiting.pop();
    if (object instanceof PDFRef) {
      if (reached.has(object.objectNumber)) continue;
      reached.add(object.objectNumber);
      waiting.push(context.lookup(object));
    } else if (object instanceof PDFArray) waiting.push(...object.asArray());
    else if (object instanceof PDFRawStream) waiting.push(object.dict);
    else if (object instanceof PDFDict) waiting.push(...object.values());
  }
  return [...numbers].some((number) => {
    const object = context.lookup(PDFRef.of(number));
    return object !== undefined && !reached.has(number) && !isNothingItself(object);
  });
}

/**
 * Streams that nothing need refer to: those that hold other objects or their places (PDF 32000-1, 7.5.7 and 7.5.8), and empty drawings, which
 * programs that sign leave behind when they draw a field.
 */
function isNothingItself(object: PDFObject): boolean {
  if (!(object instanceof PDFRawStream)) return false;
  const [type, subtype] = ['Type', 'Subtype'].map((key) => object.dict.lookup(PDFName.of(key)));
  if (subtype === PDFName.of('Form') && object.contents.length === 0) return true;
  return type === PDFName.of('XRef') || type === PDFName.of('ObjStm');
}

/** The numbers of all objects that some object of a document refers to. */
function listReferences(document: PDFDocument): Set<number> {
  const numbers = new Set<number>();
  const visit = (object: PDFObject | undefined): void => {
    if (object instanceof PDFRef) numbers.add(object.objectNumber);
    else if (object instanceof PDFArray) object.asArray().forEach(visit);
    else if (object instanceof PDFRawStream) visit(object.dict);
    else if (object instanceof PDFDict) for (const [, value] of object.entries()) visit(value);
  };
  for (const [, object] of document.context.enumerateIndirectObjects()) visit(object);
  return numbers;
}

interface Context {
  readonly before: PDFDocument;
  readonly after: PDFDocument;
  readonly pages: ReadonlyMap<string, number>;
  /** The signature fields of the later state. */
  readonly fields: ReadonlySet<PDFDict>;
  /** Dictionaries and lists of the earlier store of data for verifying signatures. */
  readonly stores: ReadonlySet<PDFObject>;
  /** The later store holds nothing else, and all that the earlier one holds. */
  readonly storeGrew: boolean;
}

function listSignatureFields(document: PDFDocument): PDFDict[] {
  return listFields(document)
    .filter((field: FormField) => takesSignature(field))
    .map(({ dictionary }) => dictionary);
}

/** True where signing explains all that changed in an object. */
function isPermitted(
  context: Context,
  reference: PDFRef,
  old: PDFObject,
  now: PDFObject | undefined,
): boolean {
  const { before } = context;
  if (old instanceof PDFArray && now instanceof PDFArray) {
    const isList = listsOf(before).some((list) => list === old);
    return isList && isExtended(context, old, now);
  }
  if (!(old instanceof PDFDict) || !(now instanceof PDFDict)) return false;
  const keys = listChangedKeys(old, now);
  const only = (...names: readonly string[]): boolean => keys.every((key) => names.includes(key));
  const list = (key: string): boolean =>
    !keys.includes(key) || isExtended(context, old.lookup(PDFName.of(key)), now.lookup(PDFName.of(key)));
  if (reference === before.context.trailerInfo.Root) {
    const [oldForm, nowForm] = [old, now].map((catalog) => catalog.lookup(PDFName.of('AcroForm')));
    const form = !keys.includes('AcroForm') || isFormPermitted(context, oldForm, nowForm);
    return only('AcroForm', 'DSS') && form;
  }
  if (context.stores.has(old)) return context.storeGrew;
  if (old === before.catalog.lookup(PDFName.of('AcroForm'))) return isFormPermitted(context, old, now);
  if (context.pages.has(reference.tag) && old.lookup(PDFName.of('Type')) === PDFName.of('Page'))
    return only('Annots') && list('Annots');
  const isField = listSignatureFields(before).includes(old);
  return isField && !old.has(PDFName.of('V')) && context.fields.has(now) && only('V', 'AP', 'AS', 'M');
}

function isFormPermitted(context: Context, old: PDFObject | undefined, now: PDFObject | undefined): boolean {
  if (!(now instanceof PDFDict)) return false;
  const previous = old instanceof PDFDict ? old : PDFDict.withContext(context.before.context);
  const keys = listChangedKeys(previous, now);
  const fields = [previous, now].map((form) => form.lookup(PDFName.of('Fields')));
  // Fonts and the like that signing programs bring along for the appearances of fields.
  const brought = ['DR', 'DA'].filter((key) => !previous.has(PDFName.of(key)));
  const permitted = ['Fields', 'SigFlags', ...brought];
  return keys.every((key) => permitted.includes(key)) && isExtended(context, fields[0], fields[1]);
}

/** True where a list of references has only grown, by signature fields. */
function isExtended(context: Context, old: PDFObject | undefined, now: PDFObject | undefined): boolean {
  if (!(now instanceof PDFArray)) return false;
  const entries = old instanceof PDFArray ? old.asArray() : [];
  if (now.size() < entries.length) return false;
  return now.asArray().every((entry, index) => {
    if (index < entries.length) return entry.toString() === entries[index]!.toString();
    const field = context.after.context.lookup(entry);
    return field instanceof PDFDict && context.fields.has(field);
  });
}

/** The lists of fields and annotations that stand as objects of their own. */
function listsOf(document: PDFDocument): (PDFObject | undefined)[] {
  const form = document.catalog.lookup(PDFName.of('AcroForm'));
  const fields = form instanceof PDFDict ? [form.lookup(PDFName.of('Fields'))] : [];
  return [...fields, ...document.getPages().map(({ node }) => node.lookup(PDFName.of('Annots')))];
}

function isNewAndVisible(context: Context, field: PDFDict): boolean {
  const reference = context.after.context.getObjectRef(field);
  if (reference !== undefined && context.before.context.lookup(reference) !== undefined) return false;
  const rectangle = field.lookup(PDFName.of('Rect'));
  if (!(rectangle instanceof PDFArray) || rectangle.size() !== 4) return field.has(PDFName.of('AP'));
  if (field.has(PDFName.of('A')) || field.has(PDFName.of('AA'))) return true;
  const { width, height } = rectangle.asRectangle();
  return width !== 0 || height !== 0;
}

function listChangedKeys(old: PDFDict, now: PDFDict): string[] {
  const keys = new Set([...old.keys(), ...now.keys()]);
  return [...keys]
    .filter((key) => writeObject(old.get(key)) !== writeObject(now.get(key)))
    .map((key) => key.decodeText());
}

/** Number of the page to which an object belongs: the page itself, its content, its annotations. */
function namePages(document: PDFDocument): Map<string, number> {
  const pages = new Map<string, number>();
  document.getPages().forEach(({ node, ref }, index) => {
    pages.set(ref.tag, index + 1);
    for (const key of ['Contents', 'Annots', 'Resources']) {
      const value = node.get(PDFName.of(key));
      const list = node.lookup(PDFName.of(key));
      for (const one of [value, ...(list instanceof PDFArray ? list.asArray() : [])])
        if (one instanceof PDFRef && !pages.has(one.tag)) pages.set(one.tag, index + 1);
    }
  });
  return pages;
}

function nameObject({ before, pages }: Context, reference: PDFRef, old: PDFObject): string {
  const page = pages.get(reference.tag);
  if (page !== undefined) return `page ${page}`;
  if (reference === before.context.trailerInfo.Root) return 'the catalogue';
  if (reference === before.context.trailerInfo.Info) return 'the metadata';
  if (old === before.catalog.lookup(PDFName.of('AcroForm'))) return 'the form';
  const dictionary = old instanceof PDFRawStream ? old.dict : old;
  const type = dictionary instanceof PDFDict ? dictionary.lookup(PDFName.of('Type')) : undefined;
  if (type === PDFName.of('Metadata')) return 'the metadata';
  if (type === PDFName.of('Filespec') || type === PDFName.of('EmbeddedFile')) return 'the attachments';
  return 'other parts';
}
