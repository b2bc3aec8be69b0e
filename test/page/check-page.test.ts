import { expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import {
  checkCharacters,
  listMissingCharacters,
  mayHoldStrangeCharacters,
  ORDINARY,
} from '../../src/page/check-characters.ts';
import { checkTargets } from '../../src/page/check-targets.ts';
import { readFontFile } from '../../src/page/package-files.ts';
import { readFontCharacters } from '../../src/page/read-font-characters.ts';
import { renderNote } from '../../src/page/render-note.ts';
import { oneText, toldOf } from '../support/told.ts';
import { makeNote, OPTIONS, PROJECT } from './fixtures/build-note.ts';
import { INTAKE_IMAGES, INTAKE_NOTE, INTAKE_PROJECT } from './fixtures/intake-note.ts';

test.each([
  // Number of characters as fontTools 4 reads them from the same files.
  ['fonts/SourceSerif4-Regular.ttf.woff2', 920],
  ['fonts/SourceSans3-Regular.ttf.woff2', 1614],
  ['fonts/SourceCodePro-Regular.ttf.woff2', 1335],
])('the characters of %s', (file, count) => {
  expect(readFontCharacters(readFontFile(file)).size).toBe(count);
});

test('the fonts have every sign that the program prints', () => {
  const signs = 'ΩµΔ°²³⁰¹⁴⁵⁶⁷⁸⁹⁻×·−≤≥≠≈√∞→↑–—…‘’“”½☐☑§ρπθφλ';
  expect(listMissingCharacters(`<body>${signs}`)).toEqual([]);
});

test('the fonts have every character for which no page is made to look', () => {
  const known = new RegExp(`[${ORDINARY}]`);
  const all = Array.from({ length: 0x3000 }, (_, code) => String.fromCharCode(code));
  const ordinary = all.filter((character) => known.test(character));
  expect(ordinary.length).toBeGreaterThan(190);
  expect(ordinary.every((character) => !mayHoldStrangeCharacters(character))).toBe(true);
  expect(listMissingCharacters(`<body>${ordinary.filter((one) => !'<>&'.includes(one)).join('')}`)).toEqual(
    [],
  );
});

test.each([
  '\u0007',
  '\u00ad',
  '\u200b',
  '\u2603',
  '\ud83d\ude00',
  '&#9731;',
  '&snowman;',
  '"\\u2603"',
  '"a \\e b"',
  '$\\char"2603$',
])('a page is made to look at %j', (text) => expect(mayHoldStrangeCharacters(`a ${text} b`)).toBe(true));

test('the page of a whole note holds no character that is missing', () => {
  const { html } = renderNote(INTAKE_NOTE, INTAKE_PROJECT, { ...OPTIONS, images: INTAKE_IMAGES });
  expect(listMissingCharacters(html)).toEqual([]);
});

test('a character that no font has is reported where it stands', () => {
  const markdown = 'First line\n\nthe word नमक';
  const { html } = renderNote(makeNote(markdown), PROJECT, OPTIONS);
  const collector = new Collector();
  checkCharacters(html, [{ path: 'note.md', text: markdown }], collector);
  const [first] = toldOf(collector.list(), oneText(markdown));
  expect(first).toMatchObject({
    code: 'no-glyph',
    place: { file: 'note.md', line: 3, column: 10, length: 1 },
  });
  expect(first!.message).toContain('U+0928');
  expect(collector.list()).toHaveLength(3);
});

test('a link to nothing is reported with the nearest name', () => {
  const collector = new Collector();
  const markdown = '## Conclusions\n\nsee [there](#conclusion) and [here](#conclusions)';
  checkTargets(makeNote(markdown), collector);
  expect(toldOf(collector.list(), oneText(markdown))).toMatchObject([
    { code: 'link-to-nothing', place: { line: 3, column: 5 }, hint: "did you mean '#conclusions'?" },
  ]);
});
