import { describe, expect, it } from 'vitest';
import { agree, fillPageNumbers, listPageNumberTargets } from '../../src/print/page-numbers.ts';

const PLACE = '<span class="page-number" data-target="scope">000</span>';

describe('page numbers in the contents', () => {
  it('lists the targets once, in order, whatever other attributes there are', () => {
    const html = `${PLACE}<span data-target="a&amp;b" id="x" class="wide page-number"></span>${PLACE}<span class="other" data-target="no">1</span>`;
    expect(listPageNumberTargets(html)).toEqual(['scope', 'a&b']);
  });

  it('fills the places whose page is known and leaves the others as wide as they are', () => {
    const html = `<p>${PLACE}</p><span class="page-number" data-target="end">000</span><span>000</span>`;
    expect(fillPageNumbers(html, { scope: 12 })).toBe(
      '<p><span class="page-number" data-target="scope">12</span></p>' +
        '<span class="page-number" data-target="end">000</span><span>000</span>',
    );
  });

  it('does not take a dollar sign or an inherited name for something else', () => {
    const html = '<span class="page-number" data-target="toString" title="$&amp;">000</span>';
    expect(fillPageNumbers(html, {})).toBe(html);
    expect(fillPageNumbers(html, { toString: 3 } as Record<string, number>)).toContain('title="$&amp;">3<');
  });

  it('compares maps for the shown targets alone', () => {
    expect(agree(['a'], { a: 1, b: 2 }, { a: 1, b: 3 })).toBe(true);
    expect(agree(['a', 'b'], { a: 1, b: 2 }, { a: 1, b: 3 })).toBe(false);
    expect(agree(['a'], {}, {})).toBe(false);
  });
});
