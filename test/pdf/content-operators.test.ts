import fc from 'fast-check';
import { expect, test } from 'vitest';
import { commandCode, OperatorReader } from '../../src/pdf/content-operators.ts';

const read = (text: string) => {
  const reader = new OperatorReader(Buffer.from(text, 'latin1'));
  const found = [];
  while (reader.next()) {
    const operands = Array.from({ length: reader.count }, (_, i) => reader.text(i));
    const written = text.slice(reader.start, reader.end);
    const name = NAMES.find((one) => commandCode(one) === reader.name);
    found.push({ name, operands, written });
  }
  return found;
};
const NAMES = ['BDC', 'BI', 'EMC', 'TJ', 'f*', 'q', "'"];

test('strings, dictionaries and comments are no commands, whatever stands in them', () => {
  const text = '/Span <</ActualText (a \\) BT (b) EMC) /MCID 4>>BDC % q Q\n[(T*) -12.5 <00 1F>] TJ EMC';
  expect(read(text)).toEqual([
    {
      name: 'BDC',
      operands: ['/Span', '<</ActualText (a \\) BT (b) EMC) /MCID 4>>'],
      written: text.slice(0, 50),
    },
    { name: 'TJ', operands: ['[(T*) -12.5 <00 1F>]'], written: '[(T*) -12.5 <00 1F>] TJ' },
    { name: 'EMC', operands: [], written: 'EMC' },
  ]);
});

test('an image within the stream is one command', () => {
  expect(read("q BI /W 2 /H 1 ID \xffEI (\x00 EI\nf* '").map(({ name }) => name)).toEqual([
    'q',
    'BI',
    'f*',
    "'",
  ]);
});

test('what does not end is refused', () => {
  for (const text of ['(open', '[1 2', '<</A 1', 'BI /W 1 ID xx', ') Tj'])
    expect(() => read(text)).toThrow('holds');
});

test('a number is the one that JavaScript reads in the same digits, to the last bit', () => {
  const digits = fc.string({ unit: fc.constantFrom(...'0123456789'), maxLength: 12 });
  const written = fc
    .tuple(fc.constantFrom('', '-', '+', '--'), digits, fc.constantFrom('', '.', '..'), digits)
    .map((parts) => parts.join(''))
    .filter((text) => text !== '');
  fc.assert(
    fc.property(written, (text) => {
      const reader = new OperatorReader(Buffer.from(`/N ${text} w`));
      expect(reader.next()).toBe(true);
      expect([reader.number(0), reader.number(1)]).toEqual([Number.NaN, Number(text)]);
      expect(reader.text(1)).toBe(text);
    }),
    { numRuns: 2000 },
  );
});

test('a glyph is told where it stands alone, and only there', () => {
  const glyphs = ['<00aF> Tj', '<00 F> Tj', '<000100AF> Tj', '[<00AF>] TJ', '(00AF) Tj', 'Tj'].map((text) => {
    const reader = new OperatorReader(Buffer.from(text));
    reader.next();
    return reader.glyph();
  });
  expect(glyphs).toEqual([0xaf, -1, -1, -1, -1, -1]);
});
