import { expect, test } from 'vitest';
import '../../src/pdf/pdfjs.ts';

/** pdfjs writes its own as functions that could be called with `new`; what Node has by itself cannot be. */
const ownOfNode = (one: object): boolean => !Object.hasOwn(one, 'prototype');

test('the texts of pages are read, and what all else calls stays that of Node', () => {
  expect(ownOfNode(() => {})).toBe(true);
  expect(ownOfNode(function old() {})).toBe(false);
  const called = [
    Array.prototype.push,
    JSON.parse,
    JSON.stringify,
    Function.prototype.toString,
    ...('fromBase64' in Uint8Array ? [Uint8Array.fromBase64 as object] : []),
  ];
  expect(called.map(ownOfNode)).toEqual(called.map(() => true));
});
