import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { renderNote } from '../../src/page/render-note.ts';
import { numberBlocks } from '../../src/page/variants/families.ts';
import { mergeNames } from '../../src/page/variants/steps-in-columns.ts';
import { readProject } from '../../src/source/read-project.ts';
import { ARRESTER, calcBlock, evaluateText } from '../review/evaluate-text.ts';
import { PROJECT } from '../support/write-project.ts';

const on = (id: string, base: string, lines: string) =>
  `\`\`\`yaml calc\nid: ${id}\nbased_on: ${base}\n${lines}\n\`\`\`\n`;

function page(text: string): string {
  const project = readProject('project.yaml', PROJECT, new Collector())!;
  const { html } = renderNote(evaluateText(text), project, {
    images: new Map(),
    software: { name: 'trial', version: '0' },
    digest: '0'.repeat(64),
  });
  return html.slice(html.indexOf('<div class="text">'));
}

const countOf = (html: string, text: string) => html.split(text).length - 1;
/** The row of a table that holds a text, its tags left out. */
const rowWith = (html: string, text: string) =>
  html
    .split('<tr')
    .find((row) => row.includes(text))!
    .replace(/<annotation.*?<\/annotation>|<[^>]*>/gs, ' ');

const BASE = calcBlock('base', 'arrester-connection', {
  ...ARRESTER,
  line_lead: '2.4 m',
  earth_lead: '4.6 m',
});
const NEAR = on('near', 'base', 'case: proposed\ntitle: Near the tank\ngiven:\n  line_lead: 0.7 m');
const LONG = on('long', 'near', 'case: alternative\ngiven:\n  earth_lead: 9.1 m');

describe('a base and its variants', () => {
  test('are one calculation: formulas once, a value in each column, verdicts of each', () => {
    const html = page(`## One\n\n${BASE}\n${NEAR}\n${LONG}`);
    expect(countOf(html, '<section class="calculation')).toBe(1);
    expect(html).toContain('Calculations 1a to 1c');
    expect(page(`## One\n\n${BASE}\n${NEAR}`)).toContain('Calculations 1a and 1b');
    // 33 kV + 10 kV/m of 7 m, of 5.3 m, of 9.8 m.
    const row = rowWith(html, 'Voltage at the terminals of the equipment');
    for (const volts of ['103', '86.0', '131']) expect(row).toContain(volts);
    expect(rowWith(html, 'length of the lead from the tap')).toMatch(/2\.4.*0\.7.*0\.7/s);
    expect(countOf(html, 'class="verdicts-row"')).toBe(1);
    // Not in the table, whose heads would be repeated overleaf over nothing else.
    const checks = html.slice(html.indexOf('<table class="columns checks'));
    expect(checks.indexOf('</table>')).toBeLessThan(checks.indexOf('What to do'));
    for (const id of ['base', 'near', 'long']) {
      expect(countOf(html, `id="calc-${id}"`)).toBe(1);
      expect(countOf(html, `id="check-${id}-withstand_margin"`)).toBe(1);
    }
    expect(html).not.toContain('variant-place');
  });

  test('are named one and the other where there are two', () => {
    expect(page(`## One\n\n${BASE}\n${NEAR}`)).toContain('Calculations 1a and 1b');
  });

  test('say of limiting values which checks of other calculations they leave out', () => {
    const rests = (id: string, value: string, head = '') =>
      `${calcBlock(id, 'arrester-connection', { ...ARRESTER, line_lead: '0.3 m', ...JSON.parse(value) }).replace('calculation:', `${head}calculation:`)}\n`;
    const on1b = rests('next', '{"residual_voltage": "!ref near.terminal_voltage"}');
    const aside = rests('aside', '{"residual_voltage": "!ref near.terminal_voltage"}', 'case: alternative\n');
    const html = page(`## One\n\n${BASE}\n${NEAR}\n${on1b}\n${aside}`);
    const told = html.replace(/<[^>]*>/g, '').match(/The limiting values of .*/g);
    // The base has none that rests on it; an alternative limits nothing.
    expect(told).toEqual([
      'The limiting values of 1b leave out the checks of what rests on it, which may be stricter: calculation 2.',
    ]);
    // By a base too: what is taken over by it, its variant has as well.
    const alone = page(
      `## One\n\n${BASE}\n\n${rests('next', '{"residual_voltage": "!ref base.terminal_voltage"}')}\n${on('more', 'next', 'given:\n  line_lead: 0.1 m')}`,
    );
    expect(alone.replace(/<[^>]*>/g, '')).toContain(
      'These limiting values leave out the checks of what rests on this calculation, which may be stricter: calculation 2a, calculation 2b.',
    );
  });

  test('show every given of every calculation, with its source', () => {
    const html = page(`## One\n\n${BASE}\n${NEAR}\n${LONG}`);
    const { blocks } = evaluateText(`${BASE}\n${NEAR}\n${LONG}`);
    const names = new Set(blocks.flatMap(({ evaluated }) => evaluated.givens.map(({ name }) => name)));
    const steps = html.indexOf('<caption>Steps');
    const rows = countOf(html.slice(html.indexOf('Givens that differ'), steps), '<td class="symbol">');
    expect(rows).toBe(names.size);
  });

  test('apart from its base, a variant is a line that leads to where it is set out', () => {
    const html = page(`## One\n\n${BASE}\n\nSome words.\n\n${NEAR}`);
    expect(countOf(html, 'variant-place')).toBe(1);
    expect(html.slice(html.indexOf('variant-place'))).toContain('href="#calc-near"');
  });

  test('of more than five, the base stands in each table, and ids once', () => {
    const more = Array.from({ length: 7 }, (_, i) =>
      on(`v${i}`, 'base', `given:\n  line_lead: ${i + 1}.5 m`),
    );
    const html = page(`## One\n\n${BASE}\n${more.join('\n')}`);
    expect(countOf(html, 'further calculations')).toBe(1);
    expect(countOf(html, 'id="check-base-withstand_margin"')).toBe(1);
    expect(countOf(html, 'id="check-v6-withstand_margin"')).toBe(1);
    // The formula of the ratio stands once, its values twice.
    expect(countOf(html, 'Counted length of conductor')).toBe(2);
  });
});

describe('a comparison', () => {
  test('sets blocks of one calculation side by side, without formulas and ids of its own', () => {
    const apart = calcBlock('apart', 'arrester-connection', { ...ARRESTER, line_lead: '3.3 m' });
    const html = page(
      `## One\n\n${BASE}\n\n${apart}\n\n\`\`\`yaml comparison\ntitle: Two places\nof: [base, apart]\n\`\`\`\n`,
    );
    const own = html.slice(html.indexOf('comparison-block'));
    // 33 kV + 10 kV/m of 7 m, and of 10.8 m.
    expect(rowWith(own, 'Voltage at the terminals of the equipment')).toMatch(/103.*141/s);
    expect(countOf(html, 'id="check-base-withstand_margin"')).toBe(1);
    expect(html).toContain('Two places');
  });

  test.each([
    ['[base, nobody]', 'unknown-compared'],
    ['[base, surveyed]', 'compared-schedule'],
    ['[surveyed.row-2, base]', 'compared-schedule'],
    ['[base, soil]', 'compared-of-another-calculation'],
    ['[base]', 'too-few-compared'],
    ['[base, base]', 'named-twice'],
  ])('of %s is an error', (of, code) => {
    const soil = calcBlock('soil', 'collection-area', { length: '9 m', width: '8 m', height: '7 m' });
    const schedule =
      '```yaml schedule\nid: surveyed\nbased_on: base\nrows: a.csv\ncolumns: { line_lead: lead }\n```';
    expect(() =>
      evaluateText(`${BASE}\n${soil}\n${schedule}\n\`\`\`yaml comparison\nof: ${of}\n\`\`\`\n`),
    ).toThrow(code);
  });
});

test('numbers: a family shares one, with letters from its base on', () => {
  const block = (id: string, base?: string) => ({
    id,
    source: base === undefined ? {} : { basedOn: { name: base, place: { file: '', start: 0, end: 0 } } },
  });
  const numbers = numberBlocks(
    [block('v', 'b'), block('a'), block('b'), block('w', 'v'), block('z')],
    '201-',
  );
  expect([...numbers].sort()).toEqual([
    ['a', '201-1'],
    ['b', '201-2a'],
    ['v', '201-2b'],
    ['w', '201-2c'],
    ['z', '201-3'],
  ]);
});

test('names of several lists: what one has more stands behind what it stands behind there', () => {
  expect(
    mergeNames([
      ['a', 'b', 'd'],
      ['a', 'c', 'd', 'e'],
      ['x', 'd'],
    ]),
  ).toEqual(['x', 'a', 'c', 'b', 'd', 'e']);
});
