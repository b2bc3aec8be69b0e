import { expect, test } from 'vitest';
import { findYamlCursor } from '../../src/editor/text/yaml-cursor.ts';

/** Where the cursor stands that is written as `|`: what is being written, the path, the word, and what else the mapping has. */
function check(marked: string): string {
  const offset = marked.indexOf('|');
  const text = marked.slice(0, offset) + marked.slice(offset + 1);
  const { at, path, start, end, written, hasColon } = findYamlCursor(text, offset);
  const word = text.slice(start, end);
  const others = written.length > 0 ? `, beside ${written.join(' ')}` : '';
  return `${at}${hasColon ? ' with colon' : ''} of ${path.join('.') || 'all'} '${word}'${others}`;
}

test.each([
  // Keys and values of a mapping over several lines.
  ['id: a\ncal|\ngiven:\n  l: 1 m\n', "key of all 'cal', beside id given"],
  ['id: a\ncal|culation: x\n', "key with colon of all 'calculation', beside id"],
  ['id: a\ncalculation: arr|ester\n', "value of calculation 'arrester', beside id calculation"],
  ['id: a\ncalculation: |', "value of calculation '', beside id calculation"],
  ['id: a\ncalculation:|', "value of calculation '', beside id calculation"],
  ['given:\n  l: 1.8 |\n  r: 2 m', "value of given.l '1.8 ', beside l r"],
  ['given:\n  l: 1.8 k|V # survey\n', "value of given.l '1.8 kV', beside l"],
  // A line without content: its column decides.
  ['given:\n  l: 1 m\n  |\n  r: 2 m', "key of given '', beside l r"],
  ['given:\n  |\n  r: 2 m', "key of given '', beside r"],
  ['given:\n  l: 1 m\n|', "key of all '', beside given"],
  ['given:\n  l:\n    |', "key of given.l ''"],
  ['|', "key of all ''"],
  // Braces, whole and half typed, on one line and on several.
  ['given:\n  l: { value: 1 m, so| }\n  r: 2 m', "key of given.l 'so', beside value"],
  ['given:\n  l: { value: 1 m, so|\n  r: 2 m\nid: a', "key of given.l 'so', beside value"],
  ['given:\n  l: { value: 1 |m, source: x }', "value of given.l.value '1 m', beside value source"],
  [
    'given:\n  l: { value: 1 m, source: "a, b: |c" }',
    `value of given.l.source '"a, b: c" }', beside value source`,
  ],
  ['given:\n  l: { value: 1 m, range: [1 m, |] }', "item of given.l.range.- ''"],
  ['given:\n  l: {\n    value: 1 m,\n    |\n  }\n', "key of given.l '', beside value"],
  ['given:\n  l: {|}', "key of given.l ''"],
  ['rows: [{ a: 1, b|: 2 }, { c: 3 }]', "key with colon of rows.- 'b', beside a b"],
  // Lists over several lines.
  ['of:\n  - one\n  - t|wo\n', "item of of.- 'two'"],
  ['of: [one, t|wo]', "item of of.- 'two'"],
  ['- id: A1\n  te|\n- id: A2\n', "key of - 'te', beside id"],
  ['- id: A1\n- i|', "item of - 'i'"],
  ['revisions:\n- revision: A\n  date: 20|', "value of revisions.-.date '20', beside revision date"],
  ['accept:\n  - caution: x\n    by: |\n', "value of accept.-.by '', beside caution by"],
  // A text over several lines.
  ['action:\n  what: >-\n    so|me text', "text of action.what 'some text'"],
  ['title: >\n  words\nca|', "key of all 'ca', beside title"],
  // Behind tags and quotes.
  ['given:\n  l: !ref tx|1.l', "value of given.l '!ref tx1.l', beside l"],
  ["given:\n  l: 'tx|1'", "value of given.l ''tx1'', beside l"],
])('%j: %s', (marked, expected) => {
  expect(check(marked)).toBe(expected);
});
