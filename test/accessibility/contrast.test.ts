import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';

const STYLES = resolve(import.meta.dirname, '../../templates/styles');

/** Relative luminance of a colour, and the contrast of two (WCAG 2.2, definitions; the figures from memory). */
function luminance(colour: string): number {
  const digits =
    colour.length === 4 ? [...colour.slice(1)].map((one) => one + one).join('') : colour.slice(1);
  const [r = 0, g = 0, b = 0] = digits.match(/../g)!.map((pair) => {
    const part = Number.parseInt(pair, 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(a: string, b: string): number {
  const [dark, light] = [luminance(a), luminance(b)].sort((x, y) => x - y) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}

test('the measure is that of the standard: black on white 21, #777777 on white just short of 4.5', () => {
  expect(contrast('#000', '#fff')).toBeCloseTo(21, 6);
  expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
});

test.each(readdirSync(STYLES))('%s: text stands out by 4.5 from paper and from every tint', (name) => {
  const css = readFileSync(join(STYLES, name), 'utf8').replace(/\/\*[\s\S]*?\*\//g, '');
  const read = (pattern: RegExp): string[] => [...css.matchAll(pattern)].map((match) => match[1]!);
  const texts = read(/(?:[{;\s])color:\s*(#[0-9a-f]{3}(?:[0-9a-f]{3})?)\b/gi);
  const grounds = read(/background(?:-color)?:\s*(#[0-9a-f]{3}(?:[0-9a-f]{3})?)\b/gi);
  // Dark text stands on paper or on a light ground, light text on a dark ground of the same sheet.
  const isLight = (colour: string): boolean => luminance(colour) > 0.4;
  const low = ['#000', ...texts].flatMap((text) =>
    ['#fff', ...grounds]
      .filter((ground) => isLight(ground) !== isLight(text) && contrast(text, ground) < 4.5)
      .map((ground) => `${text} on ${ground}`),
  );
  expect(low).toEqual([]);
  expect(texts.filter((text) => isLight(text) && !grounds.some((ground) => !isLight(ground)))).toEqual([]);
});
