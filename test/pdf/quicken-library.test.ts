import * as imported from '@cantoo/pdf-lib';
import fc from 'fast-check';
import { beforeAll, expect, test } from 'vitest';
import { quickenLibrary } from '../../src/pdf/quicken-library.ts';
import { type Library, untouchedPdfLibrary } from '../support/untouched-pdf-library.ts';

let quick: Library;
let untouched: Library;

beforeAll(() => {
  quickenLibrary();
  quick = imported;
  untouched = untouchedPdfLibrary();
});

async function emptyTable({ PDFCrossRefStream, PDFDocument }: Library) {
  const { context } = await PDFDocument.create({ updateMetadata: false });
  return PDFCrossRefStream.create(context.obj({}) as never);
}

async function tableOf(library: Library, numbers: readonly number[]): Promise<string> {
  const table = await emptyTable(library);
  for (const [i, number] of numbers.entries()) {
    const ref = library.PDFRef.of(number);
    if (i % 3 === 0) table.addUncompressedEntry(ref, 17 * i);
    else table.addCompressedEntry(ref, library.PDFRef.of(9000 + i), i);
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
      expect(await tableOf(quick, list)).toBe(await tableOf(untouched, list));
    }),
    { numRuns: 60 },
  );
});

/** A document with numbers that were given up, and some that come late for what stands early. */
async function saved({ PDFDocument, PDFName, PDFRef, PDFString }: Library): Promise<Uint8Array> {
  const document = await PDFDocument.create({ updateMetadata: false });
  const { context } = document;
  for (let i = 0; i < 40; i += 1) document.addPage();
  for (let i = 0; i < 500; i += 1) context.register(context.obj({ Name: PDFString.of(`${i}`) }));
  for (let i = 60; i < 200; i += 7) context.delete(PDFRef.of(i));
  for (let i = 199; i >= 60; i -= 13) context.assign(PDFRef.of(i), context.obj([PDFName.of('Late')]));
  return document.save({ useObjectStreams: true });
}

test('a document has the same bytes', async () => {
  expect(Buffer.from(await saved(quick)).equals(Buffer.from(await saved(untouched)))).toBe(true);
});

/** How often the numbers of entries are looked at while so many come, every second one behind all others. */
async function looksFor(library: Library, count: number): Promise<number> {
  const table = await emptyTable(library);
  let looks = 0;
  for (let i = 0; i < count; i += 1) {
    const number = i % 2 === 0 ? i + 1 : 2 * count + i;
    const get = () => {
      looks += 1;
      return number;
    };
    table.addUncompressedEntry(Object.create(library.PDFRef.of(number), { objectNumber: { get } }), i);
  }
  return looks;
}

test('of twice as many objects in any order little more than twice as many numbers are looked at', async () => {
  const growth = async (library: Library) =>
    (await looksFor(library, 2000)) / (await looksFor(library, 1000));
  expect(await growth(quick)).toBeLessThan(2.5);
  expect(await growth(untouched)).toBeGreaterThan(3.5);
});

test('a name is one and the same as often as it is to the library, in whatever way it is written', () => {
  const signs = fc.constantFrom('#', '4', '1', '2', '0', 'A', 'B', 'f', ' ', '/', 'ü');
  const written = fc.string({ unit: signs, maxLength: 6 });
  fc.assert(
    fc.property(written, written, (one, other) => {
      expect(String(quick.PDFName.of(one))).toBe(String(untouched.PDFName.of(one)));
      expect(quick.PDFName.of(one)).toBe(quick.PDFName.of(one));
      expect(quick.PDFName.of(one) === quick.PDFName.of(other)).toBe(
        untouched.PDFName.of(one) === untouched.PDFName.of(other),
      );
    }),
    { numRuns: 400 },
  );
  expect(quick.PDFName.of('A#42')).toBe(quick.PDFName.of('AB'));
});

test.each(['Link', 'A#42', '#', '', 'part#20one', 'Link', 'A#42'])(
  'the name %j has the text that the library reads in it, however often it is asked',
  (written) => {
    const name = quick.PDFName.of(written);
    expect(name.decodeText()).toBe(untouched.PDFName.of(written).decodeText());
    expect(name.decodeText()).toBe(name.decodeText());
  },
);

test('a reference is one and the same for its numbers, and written as the library writes it', () => {
  const numbers = fc.oneof(fc.integer({ min: -3, max: 90 }), fc.constantFrom(999_999, 1_000_000, 2 ** 40));
  const generations = fc.constantFrom(undefined, 0, 1, 65_535);
  fc.assert(
    fc.property(numbers, generations, (number, generation) => {
      const found = quick.PDFRef.of(number, generation);
      const wanted = untouched.PDFRef.of(number, generation);
      expect({ ...found }).toEqual({ ...wanted });
      expect(quick.PDFRef.of(number, generation)).toBe(found);
    }),
    { numRuns: 300 },
  );
});

test('a number has the value and the digits that the library gives it', () => {
  const numbers = fc.oneof(
    fc.integer({ min: -3, max: 1100 }),
    fc.double({ noNaN: true, noDefaultInfinity: true }),
    fc.double({ min: -1e-5, max: 1e-5, noNaN: true }),
    fc.constantFrom(0, -0, 1e21, 12.5, -7e-7),
  );
  fc.assert(
    fc.property(numbers, (value) => {
      const [found, wanted] = [quick.PDFNumber.of(value), untouched.PDFNumber.of(value)];
      expect(found).toBeInstanceOf(quick.PDFNumber);
      expect([found.asNumber() + 0, found.toString(), found.sizeInBytes()]).toEqual([
        wanted.asNumber() + 0,
        wanted.toString(),
        wanted.sizeInBytes(),
      ]);
    }),
    { numRuns: 2000 },
  );
});

test('what is looked up is what the library finds, be it there, elsewhere, nothing or of another kind', async () => {
  const look = async ({ PDFArray, PDFDict, PDFDocument, PDFName, PDFNull, PDFNumber, PDFRef }: Library) => {
    const { context } = await PDFDocument.create({ updateMetadata: false });
    const [number, nothing] = [context.register(PDFNumber.of(7)), context.register(PDFNull)];
    const values = [
      PDFNumber.of(5),
      number,
      nothing,
      PDFRef.of(900),
      PDFNull,
      context.obj([1]),
      context.obj({}),
    ];
    const dictionary = context.obj({}) as imported.PDFDict;
    for (const [i, value] of values.entries()) dictionary.set(PDFName.of(`K${i}`), value);
    const kinds: never[][] = [[], [PDFNumber], [PDFArray], [PDFDict, PDFNumber], [PDFNull]] as never;
    return ['K0', 'K1', 'K2', 'K3', 'K4', 'K5', 'K6', 'K7'].flatMap((key) =>
      kinds.map((asked) => {
        try {
          return String(dictionary.lookup(PDFName.of(key), ...(asked as [])));
        } catch (reason) {
          return (reason as Error).message;
        }
      }),
    );
  };
  expect(await look(quick)).toEqual(await look(untouched));
});
