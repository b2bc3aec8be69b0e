import { PDFArray, PDFDict, type PDFDocument, PDFHexString, PDFName, PDFRef } from '@cantoo/pdf-lib';
import { drawNothing } from './add-signature-fields.ts';
import { FIELD_ADDRESS, type MarkedField } from './field-address.ts';
import { addToForm, listFields, readText, requireForm, setFlags, shapeField } from './signature-form.ts';

/**
 * Turns the links that mark places of signature fields into such fields, empty and visible, each in its place among the
 * tags of the document.
 *
 * @throws {Error} when a field has no mark or more than one, or a mark no field
 */
export function turnLinksIntoFields(document: PDFDocument, fields: readonly MarkedField[]): void {
  const marks = findMarks(document);
  const expected = fields.map(({ name }) => name).sort();
  const present = marks.map(({ name }) => name).sort();
  if (JSON.stringify(expected) !== JSON.stringify(present))
    throw new Error(`The page marks signature fields "${present}", and "${expected}" are asked for.`);
  const taken = new Set(listFields(document).map(({ name }) => name));
  for (const { name, label } of fields) {
    if (name === '' || name.includes('.') || taken.has(name))
      throw new Error(`A signature field cannot have the name "${name}".`);
    taken.add(name);
    turn(document, marks.find((mark) => mark.name === name)!, label);
  }
  if (fields.length > 0) setFlags(requireForm(document), 1);
}

interface Mark {
  readonly name: string;
  readonly reference: PDFRef;
  readonly link: PDFDict;
  readonly page: PDFRef;
}

function findMarks(document: PDFDocument): Mark[] {
  return document.getPages().flatMap((page) => {
    const annotations = page.node.lookup(PDFName.of('Annots'));
    const references = annotations instanceof PDFArray ? annotations.asArray() : [];
    return references.flatMap((reference): Mark[] => {
      const link = document.context.lookup(reference);
      const action = link instanceof PDFDict ? link.lookup(PDFName.of('A')) : undefined;
      const address = action instanceof PDFDict ? readText(action.lookup(PDFName.of('URI'))) : undefined;
      if (!(link instanceof PDFDict) || !(reference instanceof PDFRef) || !address?.startsWith(FIELD_ADDRESS))
        return [];
      return [
        { name: decodeURIComponent(address.slice(FIELD_ADDRESS.length)), reference, link, page: page.ref },
      ];
    });
  });
}

function turn(document: PDFDocument, { name, reference, link, page }: Mark, label: string): void {
  const rectangle = link.lookup(PDFName.of('Rect'), PDFArray).asRectangle();
  link.delete(PDFName.of('A'));
  link.delete(PDFName.of('Border'));
  shapeField(link, name, page);
  link.set(PDFName.of('TU'), PDFHexString.fromText(label));
  const appearance = drawNothing(document, rectangle.width, rectangle.height);
  link.set(PDFName.of('AP'), document.context.obj({ N: appearance }));
  addToForm(document, reference);
  for (const [, element] of document.context.enumerateIndirectObjects()) {
    if (!(element instanceof PDFDict) || element.lookup(PDFName.of('S')) !== PDFName.of('Link')) continue;
    const kid = element.lookup(PDFName.of('K'));
    const kids = kid instanceof PDFArray ? kid.asArray() : [kid];
    const holds = kids.some((one) => one instanceof PDFDict && one.get(PDFName.of('Obj')) === reference);
    if (!holds) continue;
    element.set(PDFName.of('S'), PDFName.of('Form'));
    element.set(PDFName.of('Alt'), PDFHexString.fromText(label));
  }
}
