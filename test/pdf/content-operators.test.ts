import { expect, test } from 'vitest';
import { readOperators } from '../../src/pdf/content-operators.ts';

const read = (text: string) =>
  [...readOperators(text)].map(({ name, operands, start, end }) => ({
    name,
    operands,
    written: text.slice(start, end),
  }));

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
