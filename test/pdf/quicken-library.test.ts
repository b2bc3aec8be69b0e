import { PDFCrossRefStream, PDFDocument, PDFName, PDFNumber, PDFRef, PDFString } from '@cantoo/pdf-lib';
import fc from 'fast-check';
import { expect, test } from 'vitest';

/** As the library has it, before anything of ours is loaded. */
const original = (PDFCrossRefStream.prototype as unknown as { appendEntry: unknown }).appendEntry;
const { quickenCrossReferences, quickenNames, quickenNumbers, quickenReferences, quickenTexts } =
  await import('../../src/pdf/quicken-library.ts');

const use = (own: boolean): void => {
  if (own) quickenCrossReferences();
  else (PDFCrossRefStream.prototype as unknown as { appendEntry: unknown }).appendEntry = original;
};

async function tableOf(numbers: readonly number[], own: boolean): Promise<string> {
  use(own);
  const document = await PDFDocument.create({ updateMetadata: false });
  const table = PDFCrossRefStream.create(document.context.obj({}) as never);
  for (const [i, number] of numbers.entries()) {
    const ref = PDFRef.of(number);
    if (i % 3 === 0) table.addUncompressedEntry(ref, 17 * i);
    else table.addCompressedEntry(ref, PDFRef.of(9000 + i), i);
  }
  return Buffer.from(table.getUnencodedContents()).toString('hex');
}

test('whatever the order of entries, the table is that of the library', async () => {
  const numbers = fc.oneof(
    fc.array(fc.integer({ min: 1, max: 60 }), { minLength: 1, maxLength: 80 }),
    fc.uniqueArray(fc.integer({ min: 1, max: 8000 }), { minLength: 1, maxLength: 120 }),
    fc.nat({ max: 90 }).map((most) => Array.from({ length: most + 1 }, (_, i) => i + 1)),
  );
  await fc.assert(
    fc.asyncProperty(numbers, async (list) => {
      expect(await tableOf(list, true)).toBe(await tableOf(list, false));
    }),
    { numRuns: 60 },
  );
});

async function saved(own: boolean): Promise<Uint8Array> {
  use(own);
  const document = await PDFDocument.create({ updateMetadata: false });
  for (let i = 0; i < 40; i += 1) document.addPage();
  // Numbers that were given up, and some that come late for what stands early.
  for (let i = 0; i < 500; i += 1)
    document.context.register(document.context.obj({ Name: PDFString.of(`${i}`) }));
  for (let i = 60; i < 200; i += 7) document.context.delete(PDFRef.of(i));
  for (let i = 199; i >= 60; i -= 13)
    document.context.assign(PDFRef.of(i), document.context.obj([PDFName.of('Late')]));
  return document.save({ useObjectStreams: true });
}

test('a document has the same bytes', async () => {
  expect(Buffer.from(await saved(true)).equals(Buffer.from(await saved(false)))).toBe(true);
});

/** How often the numbers of entries are looked at while so many come, every second one behind all others. */
async function looksFor(count: number, own: boolean): Promise<number> {
  use(own);
  const document = await PDFDocument.create({ updateMetadata: false });
  const table = PDFCrossRefStream.create(document.context.obj({}) as never);
  let looks = 0;
  for (let i = 0; i < count; i += 1) {
    const number = i % 2 === 0 ? i + 1 : 2 * count + i;
    const get = () => {
      looks += 1;
      return number;
    };
    table.addUncompressedEntry(Object.create(PDFRef.of(number), { objectNumber: { get } }), i);
  }
  return looks;
}

test('of twice as many objects in any order little more than twice as many numbers are looked at', async () => {
  const growth = async (own: boolean) => (await looksFor(2000, own)) / (await looksFor(1000, own));
  expect(await growth(true)).toBeLessThan(2.5);
  expect(await growth(false)).toBeGreaterThan(3.5);
});

test('a name is the one that the library has for it, however often and in whatever way it is written', () => {
  const own = PDFName.of;
  const signs = fc.constantFrom('#', '4', '1', '2', '0', 'A', 'B', 'f', ' ', '/', 'ü');
  quickenNames();
  try {
    fc.assert(
      fc.property(fc.string({ unit: signs, maxLength: 6 }), (written) => {
        const wanted = own.call(PDFName, written);
        expect(PDFName.of(written)).toBe(wanted);
        expect(PDFName.of(written)).toBe(wanted);
      }),
      { numRuns: 400 },
    );
    expect(PDFName.of('A#42')).toBe(PDFName.of('AB'));
  } finally {
    PDFName.of = own;
  }
});

test('a name has the text that the library reads in it, however often it is asked', () => {
  const own = PDFName.prototype.decodeText;
  quickenTexts();
  try {
    for (const written of ['Link', 'A#42', '#', '', 'part#20one', 'Link', 'A#42']) {
      const name = PDFName.of(written);
      expect(name.decodeText()).toBe(own.call(name));
    }
  } finally {
    PDFName.prototype.decodeText = own;
  }
});

test('a reference is the one that the library has for its numbers', () => {
  const own = PDFRef.of;
  quickenReferences();
  try {
    const numbers = fc.oneof(fc.integer({ min: -3, max: 90 }), fc.constantFrom(999_999, 1_000_000, 2 ** 40));
    fc.assert(
      fc.property(numbers, fc.constantFrom(undefined, 0, 1, 65_535), (number, generation) => {
        const wanted = own.call(PDFRef, number, generation);
        expect(PDFRef.of(number, generation)).toBe(wanted);
        expect(PDFRef.of(number, generation)).toBe(wanted);
      }),
      { numRuns: 300 },
    );
  } finally {
    PDFRef.of = own;
  }
});

test('a number has the value and the digits that the library gives it', () => {
  const own = PDFNumber.of;
  quickenNumbers();
  try {
    const numbers = fc.oneof(
      fc.integer({ min: -3, max: 1100 }),
      fc.double({ noNaN: true, noDefaultInfinity: true }),
      fc.double({ min: -1e-5, max: 1e-5, noNaN: true }),
      fc.constantFrom(0, -0, 1e21, 12.5, -7e-7),
    );
    fc.assert(
      fc.property(numbers, (value) => {
        const [found, wanted] = [PDFNumber.of(value), own(value)];
        expect(found).toBeInstanceOf(PDFNumber);
        expect([found.asNumber() + 0, found.toString(), found.sizeInBytes()]).toEqual([
          wanted.asNumber() + 0,
          wanted.toString(),
          wanted.sizeInBytes(),
        ]);
      }),
      { numRuns: 2000 },
    );
  } finally {
    PDFNumber.of = own;
  }
});
