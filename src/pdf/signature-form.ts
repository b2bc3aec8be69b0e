import {
  PDFArray,
  PDFDict,
  type PDFDocument,
  PDFHexString,
  PDFName,
  PDFNumber,
  type PDFObject,
  PDFRef,
  PDFString,
} from '@cantoo/pdf-lib';

/** A field of the form (PDF 32000-1, 12.7), whatever its kind. */
export interface FormField {
  /** Its own name behind those of its parents, joined by dots. */
  readonly name: string;
  readonly dictionary: PDFDict;
}

/** Fields below fields are followed to this depth. */
const DEEPEST = 16;

/** The fields of the form that hold a value, in order; without a form there are none. */
export function listFields(document: PDFDocument): FormField[] {
  const form = document.catalog.lookup(PDFName.of('AcroForm'));
  if (!(form instanceof PDFDict)) return [];
  const fields: FormField[] = [];
  const seen = new Set<PDFDict>();
  const follow = (holder: PDFObject | undefined, parents: readonly string[]): void => {
    if (!(holder instanceof PDFArray)) return;
    for (let index = 0; index < holder.size(); index += 1) {
      const dictionary = holder.lookup(index);
      if (!(dictionary instanceof PDFDict) || seen.has(dictionary)) continue;
      seen.add(dictionary);
      const own = readText(dictionary.lookup(PDFName.of('T')));
      const names = own === undefined ? parents : [...parents, own];
      const kids = dictionary.lookup(PDFName.of('Kids'));
      fields.push({ name: names.join('.'), dictionary });
      if (names.length < DEEPEST && seen.size < 10_000) follow(kids, names);
    }
  };
  follow(form.lookup(PDFName.of('Fields')), []);
  return fields.filter(({ dictionary }) => dictionary.has(PDFName.of('FT')));
}

/** True for a field that takes a signature. */
export function takesSignature({ dictionary }: FormField): boolean {
  return dictionary.lookup(PDFName.of('FT')) === PDFName.of('Sig');
}

/** What the empty signature fields look like: references of their appearances. */
export function listEmptyAppearances(document: PDFDocument): Set<PDFRef> {
  const empty = listFields(document).filter(
    (field) => takesSignature(field) && !field.dictionary.has(PDFName.of('V')),
  );
  const appearances = empty.map(({ dictionary }) => dictionary.lookup(PDFName.of('AP')));
  const references = appearances.map((one) =>
    one instanceof PDFDict ? one.get(PDFName.of('N')) : undefined,
  );
  return new Set(references.filter((one) => one instanceof PDFRef));
}

/** The widget of a new signature field, as one dictionary with the field. */
export function describeField(
  document: PDFDocument,
  name: string,
  page: PDFRef,
  rectangle: readonly [number, number, number, number],
): PDFDict {
  const widget = document.context.obj({ Type: 'Annot', Rect: [...rectangle] });
  shapeField(widget, name, page);
  return widget;
}

/** Makes an annotation with a rectangle the widget of a signature field. */
export function shapeField(annotation: PDFDict, name: string, page: PDFRef): void {
  annotation.set(PDFName.of('Subtype'), PDFName.of('Widget'));
  annotation.set(PDFName.of('FT'), PDFName.of('Sig'));
  annotation.set(PDFName.of('T'), PDFHexString.fromText(name));
  annotation.set(PDFName.of('P'), page);
  annotation.set(PDFName.of('F'), PDFNumber.of(PRINTED_AND_LOCKED));
}

/** Flags of an annotation (PDF 32000-1, table 165): it is printed, and a reader does not move it. */
const PRINTED_AND_LOCKED = 4 + 128;

/** Puts a field into the form and its widget on the page. The form is made where there is none. */
export function addField(document: PDFDocument, page: PDFDict, field: PDFRef): void {
  addToForm(document, field);
  page.set(PDFName.of('Annots'), extend(document, page.lookup(PDFName.of('Annots')), field));
}

/** Puts a field into the form only; its widget is on a page already. */
export function addToForm(document: PDFDocument, field: PDFRef): void {
  const form = requireForm(document);
  form.set(PDFName.of('Fields'), extend(document, form.lookup(PDFName.of('Fields')), field));
}

/** The form, made where there is none. */
export function requireForm(document: PDFDocument): PDFDict {
  const form = document.catalog.lookup(PDFName.of('AcroForm'));
  if (form instanceof PDFDict) return form;
  const made = document.context.obj({ Fields: [] });
  document.catalog.set(PDFName.of('AcroForm'), document.context.register(made));
  return made;
}

/** Sets bits of the form's SigFlags (PDF 32000-1, table 219): 1 there are such fields, 2 the file is only appended to. */
export function setFlags(form: PDFDict, bits: number): void {
  const present = form.lookup(PDFName.of('SigFlags'));
  const flags = present instanceof PDFNumber ? present.asNumber() : 0;
  form.set(PDFName.of('SigFlags'), PDFNumber.of(flags | bits));
}

function extend(document: PDFDocument, list: PDFObject | undefined, entry: PDFRef): PDFArray {
  return document.context.obj([...(list instanceof PDFArray ? list.asArray() : []), entry]);
}

export function readText(object: PDFObject | undefined): string | undefined {
  return object instanceof PDFString || object instanceof PDFHexString ? object.decodeText() : undefined;
}
