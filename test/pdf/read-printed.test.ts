import { PDFDocument, PDFHexString, PDFName, PDFRef, PDFString } from '@cantoo/pdf-lib';
import fc from 'fast-check';
import { expect, test, vi } from 'vitest';
import { openPrinted, readPlainly } from '../../src/pdf/read-printed.ts';

const text = fc.string({
  unit: fc.constantFrom('a', '(x)', '\\)', '\\(', '\\\\', '\n', '\xe9'),
  maxLength: 8,
});
const leaf = fc.oneof(
  fc.boolean(),
  fc.constant(null),
  fc.double({ min: -1e9, max: 1e9, noNaN: true }).map((number) => Math.round(number * 1e4) / 1e4),
  fc.integer({ min: -2000, max: 2000 }),
  fc.string({ unit: fc.constantFrom('a', 'B', '#', ' ', '/', '%', '(', 'ü'), minLength: 1, maxLength: 5 }),
  text.map((value) => PDFString.of(value)),
  text.map((value) => PDFHexString.fromText(value)),
  fc.integer({ min: 1, max: 40 }).map((number) => PDFRef.of(number)),
);
const value = fc.letrec<{ value: unknown }>((tie) => ({
  value: fc.oneof(
    { maxDepth: 3 },
    leaf,
    fc.array(tie('value'), { maxLength: 4 }),
    fc.dictionary(fc.constantFrom('A', 'B c', 'D#', 'Type'), tie('value'), { maxKeys: 3 }),
  ),
})).value;

/** A file as the browser writes them: one revision, every object in the file itself. */
async function write(values: readonly unknown[]): Promise<Uint8Array> {
  const document = await PDFDocument.create({ updateMetadata: false });
  document.addPage([300, 400.25]);
  for (const one of values) document.context.register(document.context.obj(one as never));
  document.context.register(document.context.flateStream('0 0 m', { Type: PDFName.of('Sheet') }));
  return document.save({ useObjectStreams: false, updateFieldAppearances: false });
}

async function readByLibrary(bytes: Uint8Array): Promise<string[] | undefined> {
  vi.spyOn(console, 'warn').mockReturnValue(undefined);
  try {
    return list(
      (await PDFDocument.load(bytes, { updateMetadata: false, throwOnInvalidObject: true })).context,
    );
  } catch {
    return undefined;
  } finally {
    vi.restoreAllMocks();
  }
}

function list(context: ReturnType<typeof readPlainly>): string[] | undefined {
  if (!context) return undefined;
  const { Root, Info, ID } = context.trailerInfo;
  const objects = context.enumerateIndirectObjects();
  return [
    `${Root} ${Info} ${ID} ${context.largestObjectNumber}`,
    ...objects.map(([ref, object]) => `${ref} ${object.constructor.name} ${object}`),
  ];
}

test('a file has the objects that the library reads in it', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(value, { maxLength: 12 }), async (values) => {
      const bytes = await write(values);
      expect(list(readPlainly(bytes))).toEqual(await readByLibrary(bytes));
      expect((await openPrinted(bytes)).getPageCount()).toBe(1);
    }),
    { numRuns: 200 },
  );
});

test('of a file in which something was changed, what is read is what the library reads, or it is left to it', async () => {
  const whole = await write([
    { A: [1, -2.5, PDFRef.of(3)] },
    [PDFString.of('a (b)')],
    { B: { C: true, D: null } },
  ]);
  let read = 0;
  await fc.assert(
    fc.asyncProperty(
      fc.nat({ max: whole.length - 1 }),
      fc.constantFrom(...'0 7%/(<[>]R-.#\nx'),
      fc.nat({ max: 3 }),
      async (at, sign, cut) => {
        const changed = Buffer.concat([whole.subarray(0, at), Buffer.from(sign), whole.subarray(at + cut)]);
        const found = list(readPlainly(changed));
        if (!found) return;
        read += 1;
        expect(found).toEqual(await readByLibrary(changed));
      },
    ),
    { numRuns: 1500 },
  );
  expect(read).toBeGreaterThan(10);
});

test('what the browser does not write is left to the library', async () => {
  const document = await PDFDocument.load(await write([]), { updateMetadata: false });
  expect(readPlainly(await document.save({ useObjectStreams: true }))).toBeUndefined();
  const plain = Buffer.from(await write([])).toString('latin1');
  expect(readPlainly(Buffer.from(plain, 'latin1'))).toBeDefined();
  for (const [before, after] of [
    ['trailer\n<<', 'trailer\n<<\n/Encrypt 1 0 R'],
    ['%%EOF', '%%EOF\n1 0 obj\n2\nendobj'],
    ['2 0 obj', '% a remark\n2 0 obj'],
    ['/Length 13', '/Length 7 0 R'],
    ['%PDF-1.7', ' %PDF-1.7'],
  ] as const) {
    expect(plain).toContain(before);
    expect(readPlainly(Buffer.from(plain.replace(before, after), 'latin1'))).toBeUndefined();
  }
  await expect(openPrinted(Buffer.from('%PDF-1.4\n%\xd3\xeb\xe9\xe1\nxref', 'latin1'))).rejects.toThrow(
    'damaged',
  );
});
