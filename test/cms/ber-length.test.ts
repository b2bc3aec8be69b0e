import { describe, expect, it } from 'vitest';
import { readSequenceLength } from '../../src/cms/ber-length.ts';

describe('readSequenceLength', () => {
  it.each<[string, string, number | undefined]>([
    // The elements of ITU-T X.690, 8.1.3 and its examples: short, long and indefinite lengths.
    ['a short length', '3003020105', 5],
    ['an empty sequence', '3000', 2],
    ['what follows', '3003020105000000', 5],
    ['a long length', '30810302010500', 6],
    ['an indefinite length', '30800201050000ff', 7],
    ['indefinite lengths within one another', '30803080020105000004020000000000', 15],
    ['zeros inside a part', '30800404000000000000', 10],
    ['no sequence', '020105', undefined],
    ['nothing', '', undefined],
    ['only a tag', '30', undefined],
    ['an end that is missing', '3003020', undefined],
    ['a mark that is missing', '3080020105', undefined],
    ['half a mark', '308002010500', undefined],
    ['a length of five bytes', '30850000000001ff', undefined],
    ['a length that is cut', '3082', undefined],
  ])('reads %s', (_, digits, length) => {
    expect(readSequenceLength(Buffer.from(digits, 'hex'))).toBe(length);
  });

  it('does not follow endless depth', () => {
    expect(readSequenceLength(Buffer.from('3080'.repeat(100_000), 'hex'))).toBeUndefined();
  });
});
