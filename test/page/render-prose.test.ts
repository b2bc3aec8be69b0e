import { expect, test } from 'vitest';
import { renderNote } from '../../src/page/render-note.ts';
import { makeNote, OPTIONS, PROJECT } from './fixtures/build-note.ts';
import { readHeadings, readText } from './read-html.ts';

function render(markdown: string, images = OPTIONS.images): string {
  const note = makeNote(markdown, {}, { proseTexts: new Map([['a.b', '126\u00a0kV']]) });
  const { html } = renderNote(note, PROJECT, { ...OPTIONS, images });
  return html.slice(html.indexOf('<div class="text">'), html.indexOf('<section class="annex">'));
}

const headings = (markdown: string) =>
  readHeadings(render(markdown)).map(({ level, text }) => `h${level} ${text}`);

test('headings are numbered from whatever depth the author begins with, without gaps', () => {
  expect(headings('## A\n\n#### B\n\n### C\n\n## D')).toEqual(['h1 1 A', 'h2 1.1 B', 'h2 1.2 C', 'h1 2 D']);
  expect(headings('### A\n\n## B\n\n### C')).toEqual(['h1 1 A', 'h1 2 B', 'h2 2.1 C']);
});

test('a first heading that repeats the title is left out', () => {
  expect(headings('# Arresters of the 11 kV intake\n\n## A')).toEqual(['h1 1 A']);
  expect(headings('# Another\n\n## A')).toEqual(['h1 1 Another', 'h2 1.1 A']);
});

test('headings with the same words have ids of their own, and are found by them', () => {
  const html = render('## Über ΔU & more\n\n## Same\n\n## Same\n\n[second](#same-2), [first](#uber-δu-more)');
  expect(html).toContain('<h1 id="sec-uber-δu-more" aria-level="2">');
  expect(html).toContain('<a href="#sec-same-2">second</a>');
  expect(html).toContain('<a href="#sec-uber-δu-more">first</a>');
});

test('values and formulas stand in headings too', () => {
  const note = makeNote('## The $U_T$ of {{ a.b }}', {}, { proseTexts: new Map([['a.b', '126\u00a0kV']]) });
  const { outline } = renderNote(note, PROJECT, OPTIONS);
  expect(outline.find(({ typeset }) => typeset)?.title).toBe('1 The U sub T of 126 kV');
});

test('links: web and mail stay, others lose their address and keep their words', () => {
  const html = render(
    '[web](https://example.org/a) [mail](mailto:a@example.org) [js](javascript:alert(1)) [file](file:///etc) [data](data:text/html,x) [none](#nowhere) [odd](#%E0%A4%A)',
  );
  expect(html.match(/<a href="[^"]*">/g)).toEqual([
    '<a href="https://example.org/a">',
    '<a href="mailto:a@example.org">',
  ]);
  expect(readText(html)).toBe('web mail js file data none odd');
});

test('raw HTML is shown as text, comments are not', () => {
  const html = render('Before <u>x</u>\n\n<div onclick="x">y</div>\n\n<!-- note to self -->\n\nAfter');
  expect(readText(html)).toBe('Before <u>x</u> <div onclick="x">y</div> After');
  expect(html).not.toMatch(/<u>|<div onclick/);
});

test('tables, tasks and footnotes', () => {
  const html = render(
    '| a | b |\n| :- | -: |\n| 1 | 2 |\n\n- [x] done\n- [ ] open\n\nText[^n].\n\n[^n]: The note.',
  );
  expect(html).toContain('<th align="right" scope="col">b</th>');
  expect(html).toContain('role="img" aria-label="done"');
  expect(html).toContain('role="img" aria-label="to do"');
  expect(html).not.toContain('<input');
  expect(html).toMatch(/<a href="#fn-n" id="fnref-n"/);
  expect(html).toMatch(/<li id="fn-n">/);
});

test('an image alone is a figure with number and caption, one in a line is not', () => {
  const png = { mime: 'image/png', bytes: new Uint8Array([1, 2, 3]) };
  const html = render(
    '![alt words](a.png "Caption")\n\nin line ![b][b] here\n\n[b]: b.png',
    new Map([
      ['a.png', png],
      ['b.png', png],
    ]),
  );
  expect(html).toContain(
    '<figure id="figure-1" class="image"><img src="data:image/png;base64,AQID" alt="alt words">',
  );
  expect(readText(html)).toMatch(/Figure 1 Caption in line here/);
});

test('lettering of a drawing takes the fonts of the page with it', () => {
  const bytes = new TextEncoder().encode(
    '<svg viewBox="0 0 9 9" title="a>b"><text font-family="Nowhere">x</text></svg>',
  );
  const html = render('![d](d.svg)', new Map([['d.svg', { mime: 'image/svg+xml', bytes }]]));
  const svg = Buffer.from(/base64,([^"]*)"/.exec(html)![1]!, 'base64').toString('utf8');
  expect(svg).toMatch(/^<svg viewBox="0 0 9 9" title="a>b"><style>@font-face\{font-family:"Source Sans 3"/);
  expect(svg).toContain('font-family:"Source Sans 3","Source Serif 4" !important');
});

test('an image that was not read is a fault of the program', () => {
  expect(() => render('![a](missing.png)')).toThrow(/missing\.png/);
});
