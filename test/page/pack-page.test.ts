import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { fontsByDigest } from '../../src/page/fonts.ts';
import { imageSource } from '../../src/page/image-source.ts';
import { packPage, UnpackFailure, unpackPage } from '../../src/page/pack-page.ts';

const digest = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
const [, font] = [...fontsByDigest()][3]!;
const picture = Buffer.from(Array.from({ length: 5000 }, (_, i) => (i * 7919) % 251));
const drawing = imageSource({
  mime: 'image/svg+xml',
  bytes: Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><text>Mast 4</text></svg>'),
});
const address = (bytes: Uint8Array, mime: string): string =>
  `data:${mime};base64,${Buffer.from(bytes).toString('base64')}`;
const PAGE = `<style>src:url(${address(font, 'font/woff2')})</style><img src="${drawing}"><img src="${address(picture, 'image/png')}">`;
const files = new Map([[digest(picture), new Uint8Array(picture)]]);

test('a page is the same again; fonts, those within drawings too, and pictures stand in it by their digests', () => {
  const packed = packPage(PAGE, new Set(files.keys()));
  expect(unpackPage(packed, files)).toBe(PAGE);
  expect(JSON.stringify(packed).length).toBeLessThan(2500);
  expect(packed.parts.map(({ kind }) => kind)).toContain('text');
});

test('a picture that does not travel with the page stays in it', () => {
  expect(unpackPage(packPage(PAGE, new Set()), new Map())).toBe(PAGE);
});

test.each(['<p>;base64,@0@</p>', `${PAGE}<p>;base64,@12@</p>`])(
  'a page that writes what looks like a place is the same again: %#',
  (page) => {
    expect(unpackPage(packPage(page, new Set(files.keys())), files)).toBe(page);
  },
);

test('a drawing that writes what looks like a place is the same again', () => {
  const svg = Buffer.from(`<svg>;base64,@0@${'x'.repeat(400)}</svg>`);
  const page = `${PAGE}<img src="${address(svg, 'image/svg+xml')}">`;
  expect(unpackPage(packPage(page, new Set()), new Map())).toBe(page);
});

test('what is missing is named, and told from what is not sound', () => {
  const packed = packPage(PAGE, new Set(files.keys()));
  expect(() => unpackPage(packed, new Map())).toThrow(/the file with SHA-256 .* is not in the PDF/);
  const strange = { text: ';base64,@0@', parts: [{ kind: 'font', sha256: 'ab' } as const] };
  const failure = (() => {
    try {
      return unpackPage(strange, files);
    } catch (error) {
      return error;
    }
  })();
  expect(failure).toBeInstanceOf(UnpackFailure);
  expect(failure).toMatchObject({ lacksFont: true });
});

/**
 * Pages that were issued name these fonts. Where this fails because a font was replaced, keep the old file in templates/fonts/ and list it
 * in `fontsByDigest`; where one was added, add its digest.
 */
test('every font that an issued page may name is still there', () => {
  const known = readFileSync(new URL('fixtures/fonts-of-issued-pages.txt', import.meta.url), 'utf8');
  expect([...fontsByDigest().keys()].sort()).toEqual(known.trim().split('\n'));
});

test.each([
  ['at the end of the text', `<p>;base64,${Buffer.from(font).toString('base64')}`],
  ['that goes on', `<p>;base64,${Buffer.from(font).toString('base64').replace(/=*$/, '')}AAAA)`],
  ['before other letters', `<p>;base64,${Buffer.from(picture).toString('base64')} and so on (")`],
  ['that is written in another way', `<p>;base64,${'A'.repeat(399)}B=)`],
  ['of 255 and of 256 letters', `<p>;base64,${'A'.repeat(255)};base64,${'A'.repeat(256)};base64,`],
])('a content %s: the page is the same again', (_, page) => {
  const packed = packPage(page, new Set(files.keys()));
  expect(unpackPage(packed, files)).toBe(page);
  expect(packed.parts.length).toBe(packedByPattern(page));
});

/** How many contents of 256 letters or more are known elsewhere, or are texts, found letter by letter. */
function packedByPattern(page: string): number {
  const contents = [...page.matchAll(/;base64,([A-Za-z0-9+/]{256,}={0,2})/g)].map(([, content]) => content!);
  const known = contents.filter((content) => {
    const bytes = Buffer.from(content, 'base64');
    if (bytes.toString('base64') !== content) return false;
    const isText = Buffer.from(bytes.toString('utf8')).equals(bytes);
    return fontsByDigest().has(digest(bytes)) || files.has(digest(bytes)) || isText;
  });
  return known.length;
}

test('thousands of places where a content could begin are looked through once', () => {
  const page = `<p>${`;base64,${'A'.repeat(300)}`.repeat(20_000)}</p>`;
  expect(packPage(page, new Set()).parts.length).toBe(1);
});
