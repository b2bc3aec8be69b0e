import { PDFArray, PDFDict, type PDFDocument, PDFName, type PDFObject } from '@cantoo/pdf-lib';
import { readValidationData, type ValidationData } from './validation-data.ts';
import { writeObject } from './write-object.ts';

/** Whether two states of a document have stores of data for verifying signatures that are not the same. */
export function isStoreAnother(before: PDFDocument, after: PDFDocument): boolean {
  const [old, now] = [before, after].map(({ catalog }) => writeObject(catalog.lookup(PDFName.of('DSS'))));
  return old !== now;
}

/** Whether the later store holds all that the earlier one does, and nothing but data for verifying signatures. */
export function hasStoreGrown(before: PDFDocument, after: PDFDocument): boolean {
  const now = readValidationData(after);
  const held = new Set(contentsOf(now));
  return now.faults.length === 0 && contentsOf(readValidationData(before)).every((one) => held.has(one));
}

function contentsOf({ certificates, revocation }: ValidationData): string[] {
  const all = [...certificates.map(({ raw }) => raw), ...revocation.map(({ bytes }) => bytes)];
  return all.map((bytes) => Buffer.from(bytes).toString('base64'));
}

const MOST_OBJECTS = 1000;

/** The dictionaries and lists of the store; its streams are not among them. */
export function storesOf(document: PDFDocument): ReadonlySet<PDFObject> {
  const found = new Set<PDFObject>();
  const visit = (object: PDFObject | undefined): void => {
    if (object === undefined || found.size > MOST_OBJECTS || found.has(object)) return;
    if (object instanceof PDFDict) {
      found.add(object);
      for (const [key] of object.entries()) visit(object.lookup(key));
    } else if (object instanceof PDFArray) {
      found.add(object);
      for (let i = 0; i < object.size(); i += 1) visit(object.lookup(i));
    }
  };
  visit(document.catalog.lookup(PDFName.of('DSS')));
  return found;
}
