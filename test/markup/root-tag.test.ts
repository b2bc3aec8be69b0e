import { expect, test } from 'vitest';
import { rootTag } from '../../src/markup/root-tag.ts';

test.each([
  ['<svg a="1">', '<svg a="1">'],
  ['\ufeff<?xml version="1.0"?>\n<svg>', '<svg>'],
  ['<!-- <svg width="3"> --><svg width="5"/>', '<svg width="5"/>'],
  ['<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "x"><svg a=\'>"\' b=">">x', '<svg a=\'>"\' b=">">'],
  ['<?a <svg> ?><!-- > --><svg\n  c="d"\n>', '<svg\n  c="d"\n>'],
])('%s', (xml, tag) => {
  const found = rootTag(xml)!;
  expect(found.text).toBe(tag);
  expect(xml.slice(found.start, found.end)).toBe(tag);
});

test.each(['', 'x', '<!-- <svg>', '<svg', '<svg a=">'])('none in %j', (xml) => {
  expect(rootTag(xml)).toBeUndefined();
});
