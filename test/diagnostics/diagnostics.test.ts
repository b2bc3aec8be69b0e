import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { byPlace, diagnose, hasErrors, locate } from '../../src/diagnostics/diagnostic.ts';
import { nearestName } from '../../src/diagnostics/nearest-name.ts';
import { OutsideFailure } from '../../src/diagnostics/outside-failure.ts';
import { narrow, type Place, startOf } from '../../src/diagnostics/place.ts';
import { problem } from '../../src/diagnostics/problem.ts';
import { relatedNote } from '../../src/diagnostics/related-note.ts';
import { wordDiagnostic } from '../../src/diagnostics/word-diagnostic.ts';
import { quoteList, shorten } from '../../src/diagnostics/words.ts';
import { oneText, told } from '../support/told.ts';

const place: Place = { file: 'note.md', start: 30, end: 39 };
const unknown = (name: string) => problem('unknown-symbol', { name }, { start: 4, end: 8 });

describe('a place is narrowed to the faulty part of its text', () => {
  test('where the text stands in the file as it was read', () => {
    expect(narrow(place, { start: 4, end: 8 }, 9)).toEqual({ ...place, start: 34, end: 38 });
    expect(narrow(place, { start: 9, end: 9 }, 9)).toEqual({ ...place, start: 39, end: 39 });
  });
  test('and stays whole where quotes or escapes shift what lies inside', () => {
    expect(narrow(place, { start: 4, end: 8 }, 7)).toEqual(place);
    expect(narrow(place, undefined, 9)).toEqual(place);
  });
  test('the start of a file is its first character', () => {
    expect(startOf('a.md')).toEqual({ file: 'a.md', start: 0, end: 0 });
  });
});

test('a problem becomes a diagnostic of code, data and place, and that has words', () => {
  const data = { text: '7,5 m', instead: '7.5 m' };
  const located = locate(problem('decimal-comma', data), place);
  expect(located).toEqual({ severity: 'error', code: 'decimal-comma', data, place });
  expect(wordDiagnostic(located)).toEqual({
    message: "'7,5 m' has a decimal comma",
    hint: 'write a decimal point: 7.5 m',
  });
  expect(locate(unknown('led'), place, 9).place).toEqual({ ...place, start: 34, end: 38 });
});

test('related places are kept, and left out where there are none', () => {
  const related = [{ place: startOf('a.md'), note: relatedNote('first-used', {}) }];
  expect(diagnose('caution', 'unknown-symbol', place, { name: 'a' }, related).related).toEqual(related);
  expect(diagnose('caution', 'unknown-symbol', place, { name: 'a' }, [])).not.toHaveProperty('related');
});

describe('a collector', () => {
  test('lists what stands in blocks where the blocks stand now', () => {
    const [early, late, between] = ['early', 'late', 'between'].map((name) =>
      diagnose('error', 'unknown-symbol', { file: 'n.md', start: 5, end: 6, piece: name }, { name }),
    );
    const listed = (pieces: readonly (readonly [string, number])[]) => {
      const collector = new Collector();
      collector.keepText('n.md', 'x'.repeat(90), new Map(pieces));
      for (const diagnostic of [late!, early!, between!]) collector.add(diagnostic);
      collector.error('unknown-symbol', { file: 'n.md', start: 40, end: 41 }, { name: 'prose' });
      return told(collector).map((one) => `${one.message.split("'")[1]}@${one.place.column}`);
    };
    const moved: (readonly [string, number])[] = [
      ['early', 10],
      ['between', 45],
      ['late', 60],
    ];
    expect(listed(moved)).toEqual(['early@16', 'prose@41', 'between@51', 'late@66']);
    expect(listed([...moved.slice(1), ['early', 70]])).toEqual([
      'prose@41',
      'between@51',
      'late@66',
      'early@76',
    ]);
  });
  test('takes the texts of another with what that has gathered, and those read before stay', () => {
    const [whole, part] = [new Collector(oneText('a\nb')), new Collector()];
    part.keepText('note.md', 'first\nsecond\n third, fourth');
    part.error('unknown-symbol', place, { name: 'a' });
    whole.addAll(part);
    whole.caution('unknown-symbol', { file: 'other.md', start: 2, end: 3 }, { name: 'b' });
    expect(told(whole).map((one) => [one.place.line, one.place.column])).toEqual([
      [3, 18],
      [2, 1],
    ]);
  });
  test('lists by file and offset, errors first', () => {
    const collector = new Collector();
    collector.error('unknown-symbol', { ...place, file: 'z.md', start: 0 }, { name: 'e' });
    collector.error('unknown-symbol', { ...place, start: 120, end: 129 }, { name: 'd' });
    collector.error('unknown-symbol', { ...place, start: 31 }, { name: 'c' });
    collector.caution('unknown-symbol', place, { name: 'b' });
    collector.problem(problem('unknown-symbol', { name: 'a' }), place);
    const names = collector.list().map((d) => wordDiagnostic(d).message.slice(1, 2));
    expect(names).toEqual(['a', 'b', 'c', 'd', 'e']);
  });
  test('keeps the same message at the same place once, and different ones apart', () => {
    const collector = new Collector();
    for (const name of ['a', 'a', 'b']) collector.error('unknown-symbol', place, { name });
    collector.error('unknown-symbol', { ...place, start: 21 }, { name: 'a' });
    collector.caution('unknown-symbol', place, { name: 'a' });
    expect(collector.list()).toHaveLength(4);
  });
  test('has errors where one of its diagnostics is an error', () => {
    const collector = new Collector();
    collector.caution('unknown-symbol', place, { name: 'a' });
    expect([collector.hasErrors, hasErrors(collector.list())]).toEqual([false, false]);
    collector.error('unknown-symbol', place, { name: 'b' });
    expect([collector.hasErrors, hasErrors(collector.list())]).toEqual([true, true]);
  });
  test('puts messages on one spot in the order of their words', () => {
    const [a, b] = ['a', 'b'].map((name) => diagnose('error', 'unknown-symbol', place, { name }));
    const order = byPlace(oneText(undefined));
    expect([order(a!, b!), order(b!, a!), order(a!, a!)]).toEqual([-1, 1, 0]);
  });
});

describe('the nearest name', () => {
  const known = ['line_lead', 'earth_lead', 'steepness', 'tx1-as-found', 'h'];
  test.each([
    ['line_led', 'line_lead'],
    ['linelead', 'line_lead'],
    ['Line_Lead', 'line_lead'],
    ['line-lead', 'line_lead'],
    ['stepness', 'steepness'],
    ['tx1_as_found', 'tx1-as-found'],
    ['H', 'h'],
    ['voltage', undefined],
    ['xy', undefined],
    // A single letter shares nothing with another one.
    ['L', undefined],
    ['', undefined],
  ])("of '%s' is %s", (name, nearest) => {
    expect(nearestName(name, known)).toBe(nearest);
  });
});

test('words are quoted and shortened', () => {
  expect(quoteList([])).toBe('');
  expect(quoteList(['a'])).toBe("'a'");
  expect(quoteList(['a', 'b', 'c'])).toBe("'a', 'b' or 'c'");
  expect(quoteList(['a', 'b'], 'and')).toBe("'a' and 'b'");
  expect(shorten('one\n  two')).toBe('one two');
  expect(shorten('a'.repeat(70))).toBe(`${'a'.repeat(59)}…`);
});

test('a failure outside carries a code, a hint and its cause', () => {
  const cause = new Error('ENOENT');
  const failure = new OutsideFailure('browser-missing', 'no browser', { hint: 'install one', cause });
  expect(failure).toMatchObject({
    code: 'browser-missing',
    message: 'no browser',
    hint: 'install one',
    cause,
  });
  expect(new OutsideFailure('x', 'y')).not.toHaveProperty('cause');
});
