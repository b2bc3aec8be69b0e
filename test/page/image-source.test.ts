import { expect, test } from 'vitest';
import { loadFontStyles } from '../../src/page/fonts.ts';
import { imageSource } from '../../src/page/image-source.ts';
import { pictureSize } from '../../src/page/photo/picture-size.ts';

const drawing = (text: string): string => {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><text x="1" y="5">${text}</text></svg>`;
  const source = imageSource({ mime: 'image/svg+xml', bytes: Buffer.from(svg) });
  return Buffer.from(source.split(',')[1]!, 'base64').toString('utf8');
};

const addresses = (css: string): string[] =>
  [...css.matchAll(/url\((data:font\/[^)]*)\)/g)].map(([, url]) => url!);

test('page and drawings have no address of a font in common: else the browser shares the font, or not', () => {
  const all = [loadFontStyles().css, drawing('one'), drawing('another')].flatMap(addresses);
  expect(all.length).toBeGreaterThan(20);
  expect(new Set(all).size).toBe(all.length);
});

test('the same drawing is dressed in the same way, and one without lettering not at all', () => {
  expect(drawing('one')).toBe(drawing('one'));
  const bare = '<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0h9"/></svg>';
  const source = imageSource({ mime: 'image/svg+xml', bytes: Buffer.from(bare) });
  expect(Buffer.from(source.split(',')[1]!, 'base64').toString('utf8')).toBe(bare);
});

test('the lettering is dressed in the drawing, not in a comment before it that holds another', () => {
  const before = '<!-- once <svg viewBox="0 0 1 1"> --><?x <svg> ?>';
  const svg = `${before}<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 7 5"><text x="1" y="4">b</text></svg>`;
  const image = { mime: 'image/svg+xml', bytes: Buffer.from(svg) };
  const dressed = Buffer.from(imageSource(image).split(',')[1]!, 'base64').toString('utf8');
  expect(dressed).toContain(
    `${before}<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 7 5"><style>@font-face`,
  );
  expect(pictureSize(image)).toEqual({ width: 7, height: 5 });
});
