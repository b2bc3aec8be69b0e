import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { wholeFile } from '../../src/source/map-places.ts';
import { readLibraryYaml } from '../../src/source/read-library-yaml.ts';
import { readQuickYaml } from '../../src/source/read-quick-yaml.ts';
import { trials } from '../support/at-length.ts';

// What is read without the library is held against what the library reads: nodes, places, and that nothing is wrong.

const ROOT = resolve(import.meta.dirname, '../..');

/** Texts of all blocks and front matters of the examples, and of the examples of calculations. */
const BLOCKS = [join(ROOT, 'projects'), join(ROOT, 'src/engine/calculations')].flatMap((folder) =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((path) => /\.(?:md|ya?ml|ts)$/.test(path) && !path.includes('node_modules'))
    .sort()
    .flatMap((path) => textsIn(readFileSync(join(folder, path), 'utf8'), path)),
);

function textsIn(text: string, path: string): string[] {
  if (path.endsWith('.md'))
    return [...text.matchAll(/```yaml \w+\n([\s\S]*?)```/g)].map((found) => found[1]!);
  if (path.endsWith('.ts')) return [...text.matchAll(/example: `([^`]*)`/g)].map((found) => found[1]!);
  return text.length < 5000 ? [text] : [];
}

/** Whether a text is read without the library; then it is what the library reads. */
function judge(text: string): boolean {
  const node = readQuickYaml(text, wholeFile('f'));
  if (!node) return false;
  const collector = new Collector();
  const read = readLibraryYaml(text, wholeFile('f'), collector, {});
  expect(collector.list(), text).toEqual([]);
  expect({ node, broken: false }, text).toStrictEqual(read);
  return true;
}

test('blocks as they are written: most need no library', () => {
  const quick = BLOCKS.filter(judge);
  expect(BLOCKS.length).toBeGreaterThan(100);
  expect(quick.length / BLOCKS.length).toBeGreaterThan(0.5);
});

const SCALARS = [
  '1.5 kV',
  'word',
  'two words',
  '-15 degC',
  '+4',
  '.5',
  '"quoted: text"',
  "'it'",
  "'it''s'",
  '"a \\" b"',
  '""',
  "''",
  '" "',
  '230/400 V',
  '8/20 at 10 kA',
  '!ref a.b',
  '!ref 201/a.b',
  '!ref a',
  '!ref',
  '!formula "{a.b} + 1 m"',
  '!formula a + b',
  '!formula ""',
  '!other x',
  '! x',
  '2031-05-14',
  '12:30',
  'a:b',
  'a: b',
  'x#y',
  'x #y',
  '{{ a.b }}',
  '{ a.b }',
  '*x',
  '&x y',
  '|',
  '>-',
  '@x',
  '`x`',
  '%',
  '~',
  '- x',
  '-',
  '?',
  '? x',
  ':',
  ',',
  'a, b',
  '1,5 m',
  '[1,5 m]',
  '[1 m, 2 m]',
  '[a, [b, c], { d: e }]',
  '[]',
  '{}',
  '[a',
  'a]',
  '{ value: 1 m, source: "x, y" }',
  "{ value: 1 m, source: 'x' }",
  '{value: 1 m}',
  '{ value: 1 m , source: x y }',
  '{ a: b, }',
  '{ a }',
  '{ a: }',
  '{ a:b }',
  '{ a: b: c }',
  '{ a: b, a: c }',
  '{ "a": b }',
  '{ a: !ref b.c }',
  '{ a: !formula "x, y" }',
  '[!ref a.b, x]',
  '[ a ]',
  '{ a: b } c',
  '"a" b',
  '<<',
  '=',
  'é',
  '½',
  '°',
  '≤ 5',
  '−5',
  '(a)',
  '/x',
  '\\x',
  '$x',
  ';',
  '^2',
  '_x',
  'null',
  'true',
  'a ',
  'a\u00a0',
  '\u2028',
  '…',
  '"é"',
  '{ a: "b"c }',
  "{ a: 'b' , c: d}",
];
const KEYS = [
  'id',
  'calculation',
  'given',
  'a',
  'a-b',
  'a_b',
  'A1',
  'value',
  'constructor',
  '__proto__',
  '"q"',
  'two words',
  '1',
  '-a',
  '<<',
  '!ref a',
  '&a b',
  '? a',
  'é',
  'null',
];
const INDENTS = [
  '',
  '',
  '',
  '  ',
  '  ',
  '  ',
  '    ',
  '    ',
  ' ',
  '   ',
  '- ',
  '  - ',
  '-   ',
  '    - ',
  '- - ',
  '\t',
];
const ENDS = ['', '', '', '', '', ' ', '  ', ' # c', ' #c', '\t', '\r'];

const line = fc.oneof(
  {
    weight: 8,
    arbitrary: fc
      .tuple(
        fc.constantFrom(...INDENTS),
        fc.constantFrom(...KEYS),
        fc.constantFrom(': ', ': ', ': ', ':  ', ':'),
        fc.oneof(fc.constantFrom(...SCALARS), fc.constant('')),
        fc.constantFrom(...ENDS),
      )
      .map((parts) => parts.join('')),
  },
  {
    weight: 2,
    arbitrary: fc
      .tuple(fc.constantFrom(...INDENTS), fc.constantFrom(...SCALARS), fc.constantFrom(...ENDS))
      .map((parts) => parts.join('')),
  },
  {
    weight: 1,
    arbitrary: fc.constantFrom('', ' ', '   ', '# c', '  # c', '---', '...', '%YAML 1.2', ' - a'),
  },
);
const lines = fc.array(line, { minLength: 1, maxLength: 8 }).map((all) => all.join('\n'));

/** A mapping as blocks have it, of what is read without the library. */
const plainly = fc.constantFrom(...SCALARS.filter((text) => judge(`k: ${text}`)));
const sound = fc
  .array(
    fc.tuple(
      fc.constantFrom('', '  ', '  ', '    ', '- ', '  - '),
      plainly,
      fc.constantFrom('', ' ', '\n', '\n  '),
    ),
    { minLength: 1, maxLength: 8 },
  )
  .map((all) =>
    all
      .map(([indent, text, end], i) => `${indent}k${i}:${text === '' || i % 3 === 1 ? '' : ` ${text}`}${end}`)
      .join('\n'),
  );

/** A block of the examples in which a few stretches were put in, left out or doubled. */
const changed = fc
  .record({
    block: fc.constantFrom(...BLOCKS),
    edits: fc.array(
      fc.record({
        at: fc.nat(),
        length: fc.nat({ max: 6 }),
        text: fc.oneof(
          fc.constantFrom(...SCALARS, ...INDENTS, ...ENDS, '\n', ': ', ':', ',', '"', '{', '}', '[', ']'),
          fc.constant(''),
        ),
      }),
      { minLength: 1, maxLength: 3 },
    ),
  })
  .map(({ block, edits }) =>
    edits.reduce((text, { at, length, text: put }) => {
      const from = at % (text.length + 1);
      return text.slice(0, from) + put + text.slice(from + length);
    }, block),
  );

test.each([
  ['lines in any order', lines, 0.005],
  ['keys below keys', sound, 0.05],
  ['blocks that were edited', changed, 0.05],
] as const)('what is read without the library is what the library reads: %s', (_, texts, least) => {
  let quick = 0;
  const numRuns = trials(1000, 20_000);
  fc.assert(
    fc.property(texts, (text) => {
      if (judge(text)) quick += 1;
    }),
    { numRuns },
  );
  expect(quick / numRuns).toBeGreaterThan(least);
});
