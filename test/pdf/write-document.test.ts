import { PDFDocument, PDFHexString, PDFName, PDFRef, PDFString } from '@cantoo/pdf-lib';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { judgeStructure } from '../../src/pdf/judge-structure.ts';
import { PACKER } from '../../src/pdf/packer.ts';
import { writeDocument } from '../../src/pdf/write-document.ts';

/** A document with so many pages and other objects, some of them deleted, some with a number far from the others. */
async function compose(pages: number, objects: number, deleted: number, far: number): Promise<PDFDocument> {
  const document = await PDFDocument.create({ updateMetadata: false });
  const { context } = document;
  for (let i = 0; i < pages; i += 1) document.addPage([300 + i, 400.25]);
  const first = context.largestObjectNumber + 1;
  for (let i = 0; i < objects; i += 1) {
    const value = {
      Name: PDFString.of(`\xe9 (${i})`),
      Hex: PDFHexString.fromText('Ω'),
      At: [i, -0.5, true, null],
    };
    context.register(
      i % 7 === 0
        ? context.flateStream('0 0 m '.repeat(i), { Length: 3 })
        : context.obj({ ...value, To: PDFRef.of(i + 1) } as never),
    );
  }
  for (let i = 0; i < deleted; i += 1) context.delete(PDFRef.of(first + 3 * i));
  if (far > 0)
    context.assign(PDFRef.of(context.largestObjectNumber + far), context.obj([PDFName.of('Far away')]));
  if (far > 9) context.assign(PDFRef.of(context.largestObjectNumber + 1, 2), context.obj([]));
  context.trailerInfo.ID = context.obj([PDFHexString.of('00'), PDFHexString.of('00')]);
  return document;
}

test('a document has the bytes that the library writes of it, and a sound structure', async () => {
  const size = fc.nat({ max: 170 });
  await fc.assert(
    fc.asyncProperty(
      fc.integer({ min: 1, max: 5 }),
      size,
      fc.nat({ max: 40 }),
      fc.nat({ max: 300 }),
      async (...sizes) => {
        const written = writeDocument(await compose(...sizes), PACKER);
        const document = await compose(...sizes);
        const expected = await document.save({ useObjectStreams: true, updateFieldAppearances: false });
        expect(Buffer.from(written).equals(expected)).toBe(true);
        expect(judgeStructure(written)).toBeUndefined();
      },
    ),
    { numRuns: 40 },
  );
});
