import { PDFDict, type PDFDocument, PDFHexString, PDFName, type PDFPage, type PDFRef } from '@cantoo/pdf-lib';
import { openForeignDocument } from './open-document.ts';
import {
  addField,
  describeField,
  listFields,
  requireForm,
  setFlags,
  takesSignature,
} from './signature-form.ts';

/** Where somebody may sign in a PDF reader. */
export interface SignatureField {
  /** Such as "checked". */
  readonly name: string;
  /** What a reader calls the field, such as "Signature of the checker". */
  readonly label: string;
  /** Counted from 1. */
  readonly page: number;
  /** Left, bottom, right and top in points (1/72 inch) from the lower left corner of the page. */
  readonly rectangle: readonly [number, number, number, number];
}

/**
 * Adds empty, visible signature fields to a PDF that nobody has signed yet. The same arguments give the same bytes.
 *
 * @throws {OutsideFailure} what `openForeignDocument` throws
 * @throws {Error} when the PDF is signed, or a field is not sound: a name twice, a page that is not there, a rectangle
 *   without area or beyond the page
 * @internal
 */
export async function addSignatureFields(
  pdf: Uint8Array,
  fields: readonly SignatureField[],
): Promise<Uint8Array> {
  const document = await openForeignDocument(pdf);
  if (listFields(document).some((field) => takesSignature(field) && field.dictionary.has(PDFName.of('V'))))
    throw new Error('The PDF is signed: fields cannot be added.');
  writeSignatureFields(document, fields);
  return document.save({ useObjectStreams: true, addDefaultPage: false, updateFieldAppearances: false });
}

/** As `addSignatureFields`, in a document that is open already. */
function writeSignatureFields(document: PDFDocument, fields: readonly SignatureField[]): void {
  if (fields.length === 0) return;
  const taken = new Set(listFields(document).map(({ name }) => name));
  for (const field of fields) {
    if (field.name === '' || field.name.includes('.') || taken.has(field.name))
      throw new Error(`A signature field cannot have the name "${field.name}".`);
    taken.add(field.name);
    writeField(document, field);
  }
  setFlags(requireForm(document), 1);
}

function writeField(document: PDFDocument, { name, label, page, rectangle }: SignatureField): void {
  const sheet = document.getPages()[page - 1];
  if (sheet === undefined) throw new Error(`The PDF has no page ${page} for the field "${name}".`);
  const [left, bottom, right, top] = rectangle;
  requireRectangle(sheet, name, rectangle);
  const field = describeField(document, name, sheet.ref, rectangle);
  field.set(PDFName.of('TU'), PDFHexString.fromText(label));
  field.set(PDFName.of('AP'), document.context.obj({ N: drawNothing(document, right - left, top - bottom) }));
  addField(document, sheet.node, document.context.register(field));
}

/** What the field looks like before and after: as the page prints it. A visible widget must say so (ISO 19005-3, 6.3.3). */
export function drawNothing(document: PDFDocument, width: number, height: number): PDFRef {
  const form = document.context.stream('', {
    Type: 'XObject',
    Subtype: 'Form',
    BBox: [0, 0, width, height],
    Resources: PDFDict.withContext(document.context),
  });
  return document.context.register(form);
}

function requireRectangle(page: PDFPage, name: string, rectangle: readonly number[]): void {
  const [left, bottom, right, top] = rectangle as [number, number, number, number];
  const { width, height } = page.getSize();
  const sound = left >= 0 && bottom >= 0 && right > left && top > bottom && right <= width && top <= height;
  if (!sound) throw new Error(`The field "${name}" does not lie on its page.`);
}
