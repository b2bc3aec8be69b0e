import { PDFDocument, PDFName } from '@cantoo/pdf-lib';
import { beforeAll, describe, expect, it } from 'vitest';
import { addSignatureFields, type SignatureField } from '../../src/pdf/add-signature-fields.ts';
import { fieldAddress } from '../../src/pdf/field-address.ts';
import { type FinishRequest, finishPdf } from '../../src/pdf/finish-pdf.ts';
import { listSignatures } from '../../src/pdf/list-signatures.ts';
import { getDocument } from '../../src/pdf/pdfjs.ts';
import { readPdf } from '../../src/pdf/read-pdf.ts';
import { openPrinter } from '../support/kept-printer.ts';

const mark = (name: string): string =>
  `<a href="${fieldAddress(name)}" style="position: absolute; left: 72pt; top: 144pt; width: 90pt; height: 30pt"></a>`;
const PAGE = `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Page</title>
  <style>@page { size: A4; margin: 0 } body { margin: 0; font: 12pt 'Open Sans' }</style></head><body>
  <h1>One</h1><p><a href="https://heron-weir.example/">out</a></p><p>${mark('checked by')}</p></body></html>`;

const REQUEST: FinishRequest = {
  title: 'Page',
  author: 'A. Person',
  subject: '',
  keywords: [],
  creator: 'surgenote 0.1.0',
  producer: 'surgenote 0.1.0',
  language: 'en-GB',
  date: '2031-05-04',
  identity: '0123456789abcdef0123456789abcdeffedcba98',
  page: PAGE,
  headings: [{ text: 'One' }],
  signatureFields: [{ name: 'checked by', label: 'Signature of the checker' }],
};

let printed: Uint8Array;

beforeAll(async () => {
  const printer = await openPrinter({ environment: process.env });
  try {
    printed = (await printer.print(PAGE)).pdf;
  } finally {
    await printer.close();
  }
});

/** The annotations and the tags of the first page, as another library reads them. */
async function readFirstPage(pdf: Uint8Array) {
  const task = getDocument({ data: Uint8Array.from(pdf), verbosity: 0 });
  const page = await (await task.promise).getPage(1);
  const read = { annotations: await page.getAnnotations(), tags: JSON.stringify(await page.getStructTree()) };
  await task.destroy();
  return read;
}

describe('a place that the page marks', () => {
  it('becomes a signature field, with its tag', async () => {
    const { pdf } = await finishPdf(printed, REQUEST);
    expect(await listSignatures(pdf)).toMatchObject({
      signatures: [],
      unsound: [],
      emptyFields: ['checked by'],
    });
    const { annotations, tags } = await readFirstPage(pdf);
    const field = annotations.find(({ subtype }) => subtype === 'Widget');
    expect(field).toMatchObject({
      fieldType: 'Sig',
      fieldName: 'checked by',
      alternativeText: 'Signature of the checker',
    });
    // A4 is 841.89 points high; the browser works in steps of a 96th of an inch.
    [72, 841.89 - 174, 162, 841.89 - 144].forEach((edge, index) => {
      expect(Math.abs(field.rect[index] - edge)).toBeLessThan(0.75);
    });
    expect(tags).toContain('"role":"Form"');
    expect((await readPdf(pdf)).links.map(({ address }) => address)).toEqual(['https://heron-weir.example/']);
  });

  it('comes out the same each time', async () => {
    const [one, other] = [await finishPdf(printed, REQUEST), await finishPdf(printed, REQUEST)];
    expect(Buffer.compare(one.pdf, other.pdf)).toBe(0);
  });

  it('must be asked for, and what is asked for must be marked', async () => {
    const finish = (signatureFields: FinishRequest['signatureFields']) =>
      finishPdf(printed, { ...REQUEST, signatureFields: signatureFields! });
    await expect(finish([])).rejects.toThrow(
      'The page marks signature fields "checked by", and "" are asked',
    );
    await expect(finish([...REQUEST.signatureFields!, { name: 'approved', label: '' }])).rejects.toThrow(
      'and "approved,checked by" are asked for',
    );
  });
});

describe('addSignatureFields', () => {
  const FIELD: SignatureField = { name: 'checked', label: 'Checker', page: 2, rectangle: [10, 20, 110, 50] };

  async function makePdf(): Promise<Uint8Array> {
    const document = await PDFDocument.create({ updateMetadata: false });
    for (let count = 0; count < 2; count += 1) document.addPage([200, 100]);
    return document.save();
  }

  it('puts empty fields where they are asked for, with the same bytes each time', async () => {
    const pdf = await makePdf();
    const fields = [FIELD, { ...FIELD, name: 'approved', page: 1 }];
    const made = await addSignatureFields(pdf, fields);
    expect(Buffer.compare(made, await addSignatureFields(pdf, fields))).toBe(0);
    expect((await listSignatures(made)).emptyFields).toEqual(['checked', 'approved']);
    const { annotations } = await readFirstPage(made);
    expect(annotations).toMatchObject([{ fieldName: 'approved', rect: [10, 20, 110, 50] }]);
    const document = await PDFDocument.load(made);
    expect(document.catalog.lookup(PDFName.of('AcroForm'))?.toString()).toContain('/SigFlags 1');
  });

  it.each<[string, Partial<SignatureField>, string]>([
    ['no name', { name: '' }, 'cannot have the name ""'],
    ['a name with a dot', { name: 'a.b' }, 'cannot have the name "a.b"'],
    ['a page that is not there', { page: 3 }, 'no page 3'],
    ['no area', { rectangle: [10, 20, 10, 50] }, 'does not lie on its page'],
    ['an edge beyond the page', { rectangle: [10, 20, 210, 50] }, 'does not lie on its page'],
    ['no number', { rectangle: [10, 20, Number.NaN, 50] }, 'does not lie on its page'],
  ])('refuses a field with %s', async (_, change, message) => {
    await expect(addSignatureFields(await makePdf(), [{ ...FIELD, ...change }])).rejects.toThrow(message);
  });

  it('refuses a name that is there', async () => {
    await expect(addSignatureFields(await makePdf(), [FIELD, FIELD])).rejects.toThrow('the name "checked"');
  });
});
