import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Memory } from '../../src/memory/memory.ts';
import { cutMarkdown } from '../../src/source/cut-markdown.ts';
import { parseMarkdown } from '../../src/source/parse-markdown.ts';
import { readFencedCode } from '../../src/source/read-fenced-code.ts';
import { readMarkdown } from '../../src/source/read-markdown.ts';
import { trials } from '../support/at-length.ts';

// The tree made of pieces is held against that of the parser alone, which reads the text at once.

const PROJECTS = resolve(import.meta.dirname, '../../projects');
const NOTES = readdirSync(PROJECTS, { recursive: true, encoding: 'utf8' })
  .filter((path) => path.endsWith('.md'))
  .sort()
  .map((path) => readFileSync(join(PROJECTS, path), 'utf8'));

const CODE = [
  '\n\n```yaml calc\nid: a\n```\n',
  '\n\n````\n\n```\n```` \n',
  '\n\n```\n```\n',
  '\n\n~~~ a-b c_d e\n\n\n~~~',
  '```',
  '~~~~',
  '```yaml calc\nid: a\n```\n',
  '~~~\ncode\n\n# code\n~~~\n',
  '`',
  '    ',
];
const MATH = ['$$', '$$\nx\n\n# x\n$$\n', '$'];
const HTML = [
  '<!--',
  '-->',
  '<!-- a\n\n# b\n-->\n',
  '<!-->\n',
  '<div>',
  '<pre>',
  '</pre>',
  '<?',
  '<![CDATA[',
];
const DEFINITIONS = [
  '[x]: y',
  '[x]: y\n',
  '[X]:',
  '[y]: <z>\n',
  '[ß]: s\n',
  '[x\ny]: z\n',
  '[a\\]b]: c\n',
  '> [x]: y\n',
];
const REFERENCES = ['[x]', '[x][]', '![x]', '[y][x]', '[SS]', '[x y]', '[a\\]b]'];
const FOOTNOTES = ['[^1]: z', '[^1]: z\n', '[^1]', '[^1]: z\n\n    more\n', '[^a b]: c\n', '[^a b]'];
const CONTAINERS = ['> ', '> ```\n', '- ', '- a\n\n', '1. ', '   - [ ] b\n', '- ```\n\n'];
const BLANKS = ['\t', ' ', '\n', '\n\n', '\r\n', '\r', '\r\n\r\n', '\u0000', '\uFEFF'];
const LINES = [
  '# ',
  '# h\n',
  '## h\n\n',
  '#\n',
  '===\n',
  '---\n',
  '* * *\n',
  '| a | b |\n| - | - |\n',
  '| c |',
];
const WORDS = ['{{ a.b }}', '**', '_', '~', '\\', 'www.a.de', 'word', 'word\n'];
const CUTS = ['\n\n# heading [x] [^1]\n\n', '\n\n```\ncode\n```\n\n', '\r\n\r\n## heading\r\n'];

/** What opens, closes, defines or interrupts something. */
const sign = fc.oneof(
  ...[CODE, MATH, HTML, DEFINITIONS, REFERENCES, FOOTNOTES, CONTAINERS, BLANKS, LINES, WORDS].map((signs) =>
    fc.constantFrom(...signs),
  ),
  { arbitrary: fc.constantFrom(...CUTS), weight: 4 },
);

const signs = fc.array(sign, { maxLength: 30 }).map((all) => all.join(''));

/** A stretch of an example note, with signs at any of its places. */
const edited = fc
  .record({
    note: fc.constantFrom(...NOTES),
    from: fc.nat(),
    length: fc.integer({ min: 500, max: 3000 }),
    added: fc.array(fc.record({ at: fc.nat(), text: sign }), { maxLength: 5 }),
    lineEnd: fc.constantFrom('\n', '\r\n', '\r'),
  })
  .map(({ note, from, length, added, lineEnd }) => {
    const begin = from % note.length;
    const stretch = note.slice(begin, begin + length);
    const text = added.reduce((before, { at, text: inserted }) => {
      const index = at % (before.length + 1);
      return before.slice(0, index) + inserted + before.slice(index);
    }, stretch);
    return text.replaceAll('\n', lineEnd);
  });

test.each([
  ['signs of markdown in any order', signs, trials(60, 400)],
  ['example notes, cut and edited', edited, trials(25, 150)],
] as const)('a text that is read piece by piece has the tree of the whole: %s', (_, texts, numRuns) => {
  const memory = new Memory();
  fc.assert(
    fc.property(texts, (text) => {
      expect(cutMarkdown(text).join('')).toBe(text);
      expect(readMarkdown(text, memory)).toStrictEqual(parseMarkdown(text));
      memory.endRound();
    }),
    { numRuns },
  );
});

const fence = fc.constantFrom('```', '````', '~~~', '~~~~~');
const info = fc.constantFrom(
  '',
  'yaml calc',
  'text',
  'a b-c d_1',
  ' yaml',
  'yaml  calc',
  'a&amp;',
  'a\\*',
  'yaml `',
  '{a}',
);
const line = fc.constantFrom(
  '',
  'id: a',
  '  - b: [c]',
  '# d',
  '```',
  ' ```',
  '    ```',
  '``` ',
  '~~~~~',
  '`',
  '\u2028',
  '\t',
  ' ',
);
const end = fc.constantFrom('', '\n', '\n\n', '\n  \n', ' ', '\nword', '\n\n    code', '\r\n');

test('code between fences that is read without the parser is what the parser reads', () => {
  let taken = 0;
  const text = fc
    .tuple(fence, info, fc.array(line, { maxLength: 5 }), fence, end)
    .map(([open, words, lines, close, behind]) => `${[open + words, ...lines, close].join('\n')}${behind}`);
  fc.assert(
    fc.property(text, (written) => {
      const read = readFencedCode(written);
      if (!read) return;
      taken += 1;
      const { children, position } = parseMarkdown(written);
      expect([read.code]).toStrictEqual(children);
      expect(read.end).toStrictEqual(position!.end);
    }),
    { numRuns: trials(2000, 20_000) },
  );
  expect(taken).toBeGreaterThan(20);
});

const NOTE = [
  'Words with a [link][a] and a note.[^n]',
  '## One\n\n```yaml calc\nid: one\n```',
  '## Two\n\nMore words.',
  '[a]: https://example.org/',
  '## Three\n\nAnd [another][b].[^n]',
  '[^n]: A footnote.\n',
].join('\n\n');

/** How many pieces are parsed of a text; the tree is that of the whole. */
function parsedOf(text: string, memory: Memory): number {
  memory.takeCounts();
  expect(readMarkdown(text, memory)).toStrictEqual(parseMarkdown(text));
  return memory.takeCounts().get('markdown') ?? 0;
}

test('the whole of an example note', () => {
  for (const note of NOTES) {
    // Otherwise the parser would be held against itself.
    expect(cutMarkdown(note).length).toBeGreaterThan(4);
    expect(readMarkdown(note, new Memory())).toStrictEqual(parseMarkdown(note));
  }
});

test('an edit parses its piece alone; a definition also those that may refer to it', () => {
  const memory = new Memory();
  expect(cutMarkdown(NOTE)).toHaveLength(5);
  parsedOf(NOTE, memory);
  expect(parsedOf(NOTE.replace('id: one', 'id: first\nnote: more'), memory), 'code needs no parser').toBe(0);
  expect(parsedOf(NOTE.replace('More', 'Fewer'), memory)).toBeLessThanOrEqual(2);
  expect(parsedOf(NOTE, memory)).toBe(0);
  // All pieces but the code and the words of 'Two' without a bracket.
  expect(parsedOf(NOTE.replace('[a]: ', '[b]: '), memory)).toBeLessThanOrEqual(4);
});

test('what was read is nobody else’s: changing it changes nothing that is read later', () => {
  const memory = new Memory();
  const tree = readMarkdown(NOTE, memory);
  for (const child of tree.children) child.position!.start.line = 99;
  tree.children.splice(1, 2);
  expect(readMarkdown(NOTE, memory)).toStrictEqual(parseMarkdown(NOTE));
});
