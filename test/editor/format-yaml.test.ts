import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { formatYaml } from '../../src/editor/format/format-yaml.ts';
import { findAreas } from '../../src/editor/text/find-areas.ts';
import { wholeFile } from '../../src/source/map-places.ts';
import { readYaml } from '../../src/source/read-yaml.ts';
import { trials } from '../support/at-length.ts';

const PROJECTS = resolve(import.meta.dirname, '../../projects');
const SEED = process.env.HOSTILE_SEED ? Number(process.env.HOSTILE_SEED) : 7;

/** What is read of a YAML text, without places. */
function read(text: string): unknown {
  const { node, broken } = readYaml(text, wholeFile('x'), new Collector(), { bracesAreText: true });
  return JSON.parse(JSON.stringify([node, broken], (key, value) => (/place/i.test(key) ? undefined : value)));
}

const commentsOf = (text: string): string[] =>
  [...text.matchAll(/(?<=^|\s)#.*$/gm)].map(([comment]) => comment.trimEnd());

/** The YAML of every block and front matter of the examples. */
const EXAMPLES = readdirSync(PROJECTS).flatMap((project) =>
  readdirSync(join(PROJECTS, project))
    .filter((file) => file.endsWith('.md'))
    .flatMap((file) => {
      const text = readFileSync(join(PROJECTS, project, file), 'utf8');
      return findAreas(text)
        .filter(({ type }) => type !== 'code')
        .map(({ content }) => text.slice(content.start, content.end));
    }),
);

test('what is set evenly', () => {
  const written = [
    'id: a   ',
    'given:',
    '    l:   {value: 1 m,source: "x,  y"   }   # tape',
    '    # the drawing',
    '    r: !ref   tx.l',
    '',
    '',
    '    t: [ 1 m,2 m ]',
    '    s: >',
    '       folded',
    '         deeper',
    'list:',
    '- a: 1',
    '  b :   2',
    '-   x',
    '',
  ].join('\n');
  expect(formatYaml(written)).toBe(
    [
      'id: a',
      'given:',
      '  l: { value: 1 m, source: "x,  y" }   # tape',
      '  # the drawing',
      '  r: !ref tx.l',
      '',
      '  t: [1 m, 2 m]',
      '  s: >',
      '    folded',
      '      deeper',
      'list:',
      '  - a: 1',
      '    b: 2',
      '  - x',
      '',
    ].join('\n'),
  );
});

test('ends of lines stay as they are', () => {
  expect(formatYaml('id:  a\r\ngiven:\r\n    l:  1 m\r\n')).toBe('id: a\r\ngiven:\r\n  l: 1 m\r\n');
});

test.each([
  'id: a\n  b: 2',
  'id: "not closed',
  'given: { value: 1 m',
  'a: &x 1\nb: *x',
  'text: |2\n    indented by its header',
  '',
])('what is not well-formed, or cannot be moved in safety, is left alone: %j', (text) => {
  expect(formatYaml(text)).toBeUndefined();
});

test('the examples stand as they are set', () => {
  expect(EXAMPLES.length).toBeGreaterThan(100);
  expect(EXAMPLES.filter((text) => formatYaml(text) !== text)).toEqual([]);
});

describe('whatever the blanks of a text are', () => {
  /** The same text with other blanks, where these mean nothing: behind colons, within braces, at ends of lines, of whole levels. */
  const disturb = (text: string, numbers: readonly number[]): string => {
    let next = 0;
    const many = (most: number): string => ' '.repeat(numbers[next++ % numbers.length]! % (most + 1));
    // The keys of an item stand behind its dash, which does not move with the level.
    const step = /^ *- /m.test(text) ? 2 : 1 + (numbers[0]! % 4);
    return text
      .split('\n')
      .map((line) => {
        const [, indent, content] = /^( *)(.*)$/.exec(line)!;
        const behindKey = content!.replace(
          /^((?:- )?[\w-]+:) (?=[^\s|>])/,
          (_, key: string) => `${key} ${many(3)}`,
        );
        const inBraces = behindKey
          .replace(/\{ (?=[\w"])/g, () => `{${many(2)}`)
          .replace(/ \}(?=$|[,\]])/g, () => `${many(2)}}`);
        return ' '.repeat((indent!.length / 2) * step) + inBraces + (content === '' ? '' : many(2));
      })
      .join('\n');
  };

  test('it means the same when it is set, keeps its comments, and is set once for all', () => {
    let set = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...EXAMPLES),
        fc.array(fc.nat(97), { minLength: 5, maxLength: 40 }),
        (text, numbers) => {
          const disturbed = disturb(text, numbers);
          const formatted = formatYaml(disturbed);
          if (formatted === undefined) return;
          set += 1;
          expect(read(formatted)).toEqual(read(disturbed));
          expect(commentsOf(formatted)).toEqual(commentsOf(disturbed));
          expect(formatYaml(formatted)).toBe(formatted);
        },
      ),
      { seed: SEED, numRuns: trials(60, 300) },
    );
    // What is left alone proves nothing: nearly all must have been set.
    expect(set).toBeGreaterThan(trials(54, 270));
  });

  test('any text at all: what is set means the same', () => {
    const piece = fc.constantFrom(
      'a',
      'b: ',
      '- ',
      '{',
      '}',
      '[',
      ']',
      ', ',
      ': ',
      '\n',
      '  ',
      ' ',
      '# c',
      '"',
      "'",
      '!ref x.y',
      '|\n  t',
      '>',
      '1 m',
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 25 }), (pieces) => {
        const text = pieces.join('');
        const formatted = formatYaml(text);
        if (formatted === undefined) return;
        expect(read(formatted)).toEqual(read(text));
        expect(formatYaml(formatted)).toBe(formatted);
      }),
      { seed: SEED, numRuns: trials(800, 3000) },
    );
  });
});
