import { expect, test } from 'vitest';
import { mendLinks, scopeIds } from '../../src/page/submittal/scope-ids.ts';

const isShared = (id: string) => id === 'ref-a';

test('ids, and what names them, get the scope; what is shared, addresses and texts stay', () => {
  const html =
    '<h2 id="sec-x" class="id">a</h2><a href="#sec-x">b</a> <a href="#ref-a">c</a> <a href="https://x.example/#sec-x">d</a>' +
    '<span class="page-number" data-target="sec-x">000</span><td headers="h1 h2" title="a > b">e</td>' +
    '<code>&#x3C;p id="sec-x"> href="#sec-x" id="q"</code>';
  expect(scopeIds(html, 'n7', isShared)).toBe(
    '<h2 id="n7-sec-x" class="id">a</h2><a href="#n7-sec-x">b</a> <a href="#ref-a">c</a> <a href="https://x.example/#sec-x">d</a>' +
      '<span class="page-number" data-target="n7-sec-x">000</span><td headers="n7-h1 n7-h2" title="a > b">e</td>' +
      '<code>&#x3C;p id="sec-x"> href="#sec-x" id="q"</code>',
  );
});

test('a link to what is not there leads elsewhere', () => {
  const html =
    '<h1 id="note-7">x</h1><a href="#n7-contents">y</a><a href="#note-7">z</a><a href="#other">w</a>';
  expect(mendLinks(html, (target) => (target.startsWith('n7-') ? 'note-7' : undefined))).toBe(
    '<h1 id="note-7">x</h1><a href="#note-7">y</a><a href="#note-7">z</a><a href="#other">w</a>',
  );
});
