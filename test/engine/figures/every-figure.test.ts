import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { NotDrawable } from '../../../src/engine/figures/not-drawable.ts';
import { trials } from '../../support/at-length.ts';
import { labelFaults } from './drawn-lines.ts';
import { FIGURES, type Sample } from './figure-samples.ts';
import { findElements, readSvg, textOf } from './read-svg.ts';

const numbers = (number: fc.Arbitrary<number>): fc.Arbitrary<Sample['numbers']> =>
  fc.tuple(number, number, number, number, number);
const anyNumber = fc.oneof(
  fc.constantFrom(0, 1e-300, 1e-9, 1, 1e9, 1e300),
  fc.double({ min: 0, max: 1e300, noNaN: true }),
  fc.double({ min: 0, max: 100, noNaN: true }),
);
/** Lengths whose extremes stand as far apart as a kilometre and a tenth of a millimetre. */
const anyLength = fc.oneof(
  fc.constantFrom(0, 1e-4, 1, 1000),
  fc.double({ min: -4, max: 3, noNaN: true }).map((power) => 10 ** power),
);
const anyLabel = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 40 }),
  fc.string({
    unit: fc.constantFrom(
      '<',
      '>',
      '&',
      '"',
      "'",
      '_',
      '^',
      '{',
      '}',
      '*',
      '\\',
      ' ',
      '\n',
      '\u0000',
      '\ud800',
      'a',
    ),
    maxLength: 30,
  }),
);
const usual: Sample = { numbers: [0.3, 7.5, 1.2, 3, 2], label: '*U*_{p} = 1.25 kV' };
const POINT = 10 * (25.4 / 72);

/** Values that no drawing can show cost a note its figure: the usual ones never. */
function drawIfItCan(draw: (sample: Sample) => string, sample: Sample): string | undefined {
  try {
    return draw(sample);
  } catch (error) {
    if (error instanceof NotDrawable) return undefined;
    throw error;
  }
}

describe.each(Object.entries(FIGURES))('%s', (_, draw) => {
  it('is well-formed, whatever the numbers and words', () => {
    fc.assert(
      fc.property(numbers(anyNumber), anyLabel, (values, label) => {
        const svg = drawIfItCan(draw, { numbers: values, label });
        if (svg === undefined) return;
        readSvg(svg);
        expect(svg.replaceAll(/>[^<]*</g, '><').replace(/aria-label="[^"]*"/, '')).not.toMatch(
          /NaN|Infinity|undefined|null/,
        );
      }),
      { numRuns: trials(2, 25), examples: [[[0, 0, 0, 0, 5e-324], '']] },
    );
  });

  it('lets no label cover another label or a line, or reach beyond the sheet', () => {
    fc.assert(
      fc.property(
        numbers(anyLength),
        fc.constantFrom('7.5 m', '*l*_{1} = 0.25 m', '*U* = 1320 kV'),
        (values, label) => {
          const svg = drawIfItCan(draw, { numbers: values, label });
          if (svg !== undefined) expect(labelFaults(svg)).toEqual([]);
        },
      ),
      { numRuns: trials(2, 30) },
    );
  });

  it('fits the column, in type of at least 7 points, indices too', () => {
    const svg = draw(usual);
    const root = readSvg(svg);
    expect(root.attributes.width).toMatch(/^[\d.]+mm$/);
    const width = Number.parseFloat(root.attributes.width!);
    expect(width).toBeLessThanOrEqual(160);
    const scale = (10 * width) / Number(root.attributes.viewBox!.split(' ')[2]);
    for (const element of [...findElements(svg, 'text'), ...findElements(svg, 'tspan')].filter(
      ({ attributes }) => attributes['font-size'] !== undefined,
    ))
      expect((scale * Number(element.attributes['font-size'])) / POINT).toBeGreaterThanOrEqual(7);
  });

  it('is black on white, without anything that a printer would turn into an image, and without ids', () => {
    const svg = draw(usual);
    for (const name of [
      'style',
      'defs',
      'filter',
      'mask',
      'pattern',
      'linearGradient',
      'image',
      'script',
      'clipPath',
    ])
      expect(findElements(svg, name)).toEqual([]);
    expect(svg).not.toMatch(/ (id|opacity|fill-opacity|href)=/);
    for (const [, color] of svg.matchAll(/ (?:fill|stroke)="([^"]*)"/g))
      expect(color).toMatch(/^(none|#000|#fff|#([0-9a-f]{2})\2\2)$/);
  });

  it('is the same text every time, with a text alternative', () => {
    const svg = draw(usual);
    expect(draw(usual)).toBe(svg);
    const { attributes } = readSvg(svg);
    expect(attributes.role).toBe('img');
    expect(attributes['aria-label']).toContain('Up = 1.25 kV');
  });

  it('shows words as they are, however they look', () => {
    const words = '<b>&amp;"\'</b>';
    const svg = draw({ ...usual, label: words });
    expect(findElements(svg, 'b')).toEqual([]);
    expect(findElements(svg, 'text').map(textOf)).toContain(words);
  });
});
