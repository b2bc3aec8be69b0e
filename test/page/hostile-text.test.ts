import { expect, test } from 'vitest';
import { renderNote } from '../../src/page/render-note.ts';
import { given, makeBlock, makeNote, margin, OPTIONS, PROJECT, result } from './fixtures/build-note.ts';
import { readText } from './read-html.ts';

/** What tries to leave an element, an attribute, a CSS string, the style element, and a template. */
const H =
  '</style><script>alert(1)</script><img src=x onerror=alert(1)>"\'`;}*{display:none}\\\n{{evil}}{{{evil}}}';

const place = { file: 'note.md', start: 0, end: 1 };
const check = {
  name: 'check',
  criterion: H,
  verdict: 'does-not-comply',
  force: 'requirement',
  relation: '<=',
  valueFormula: { type: 'symbol', tex: 'x' },
  limitFormula: { type: 'symbol', tex: 'y' },
  value: result('2 m'),
  limit: result('1 m'),
  margin: margin(result('2 m'), '<=', result('1 m')),
  restsOn: ['s'],
  atLimit: false,
  missing: [H.replace(/[\\{}^]/g, '')],
  basis: { kind: 'author', text: H },
  remedies: [H],
  overRange: { holds: false, sentence: H, examined: H, at: [] },
  judgedOn: H,
} as const;

const block = makeBlock(
  'b',
  {
    title: H,
    purpose: H,
    givens: [
      { ...given('g', 'g', H, '1 m', H) },
      { ...given('h', 'h', H, '1 m', undefined), origin: 'formula', written: `!formula "${H} {b.g}"` },
      { ...given('c', 'c', H, 'x', undefined), print: H, text: H, value: { type: 'choice', choice: H } },
    ],
    steps: [
      {
        name: 's',
        symbol: 's',
        meaning: H,
        basis: { kind: 'derivation', note: H },
        kind: 'table',
        uses: [],
        origin: H,
        keys: [{ meaning: H, options: [{ option: H, words: H }] }],
        note: H,
        numericUnits: [{ tex: 'g', unit: H }],
        result: { type: 'choice', choice: H },
      },
    ],
    checks: [check],
    limiting: [
      {
        given: 'g',
        symbol: 'g',
        seek: 'largest',
        meaning: H,
        result: result(H),
        governing: { check: undefined, words: H },
        checks: ['check'],
        unjudged: ['check'],
      },
    ],
    cautions: [{ id: 'x', text: H }],
    figure: { svg: '<svg viewBox="0 0 1 1"></svg>', caption: H },
  },
  [{ caution: 'x', by: H, reason: H, place }],
);

const note = makeNote(
  `## ${'`'}${H.replaceAll('`', '').replace('\n', ' ')}${'`'}\n\n{{ v }} [x](javascript:alert(1)) [y](data:text/html,x) <b onclick="x">raw</b>\n\n` +
    '![alt "quote" <i>](a.png "title <script>")\n\n' +
    '```yaml calc\nid: b\n```\n\n```yaml assumptions\n```\n\n```yaml holds\n```\n\n```yaml references\n```\n\n<script>alert(2)</script>\n',
  {
    frontMatter: {
      number: H,
      title: H,
      revision: H,
      date: H,
      documentType: H,
      discipline: H,
      clientDocumentNumber: H,
      classification: H,
      distribution: [{ to: H, company: H, format: H, for: H }],
      supersedes: H,
      affects: [H],
      prepared: 'p',
      standards: [H],
      revisions: [{ revision: H, date: H, reason: H, sections: H, prepared: H }],
    },
    assumptions: [
      { id: H, text: H, basis: H, state: 'to be confirmed', owner: H, due: H, closedBy: H, place },
    ],
    holds: [{ id: H, missing: H, effect: H, state: 'open', owner: H, due: H, closedBy: H, place }],
    references: [{ id: H, title: H, designation: H, edition: H, issuer: H, place }],
  },
  { blocks: [block], proseTexts: new Map([['v', H]]), usedRegister: new Map([[H, { print: H, source: H }]]) },
);

const project = {
  ...PROJECT,
  title: H,
  client: H,
  site: H,
  contract: H,
  company: { name: H, address: H, department: H },
  people: [{ key: 'p', name: H, designation: H, registration: H, initials: H }],
  itemTitles: new Map([[H, H]]),
};

const { html } = renderNote(note, project, {
  ...OPTIONS,
  software: { name: H, version: H },
  digest: H,
  images: new Map([['a.png', { mime: 'image/png', bytes: new Uint8Array([1]) }]]),
});

test('no text of the author becomes an element, an attribute or a template', () => {
  const lines = html.split('\n').filter((line) => /<script|<img src=x|<b onclick|<i>"/i.test(line));
  expect(lines).toEqual([]);
  expect(html.match(/<style>/g)).toHaveLength(1);
  expect(html.match(/<\/style>/g)).toHaveLength(1);
  expect(html.match(/\shref="(?!#)[^"]*"/g)).toBeNull();
  // Each tag that is left is one of the page's own: its attributes are well formed.
  const tags = html.slice(html.indexOf('<body>')).match(/<[^>]*>/g)!;
  expect(tags.filter((tag) => /alert|display:none/.test(tag.replace(/"[^"]*"/g, '""')))).toEqual([]);
});

test('every text of the author is still there to read', () => {
  const text = readText(html.slice(html.indexOf('<body>')));
  const shown = H.replace(/\s+/g, ' ');
  expect(text.split(shown).length - 1).toBeGreaterThan(50);
  expect(text).toContain('<b onclick="x">raw</b>');
  expect(text).toContain('<script>alert(2)</script>');
});

test('the running words are closed CSS strings', () => {
  const rules = html.slice(html.indexOf('@page {'), html.indexOf('@page :first'));
  for (const [, content] of rules.matchAll(/content: ("(?:[^"\\\n]|\\[0-9a-f]+ )*"|none|"Page ");?/g)) {
    expect(content).not.toMatch(/[<>'`;{}]/);
  }
  expect(rules.match(/@(?:top|bottom)-\w+ \{/g)).toHaveLength(5);
  expect(rules.split('\n').filter((line) => line.trim().startsWith('@'))).toHaveLength(6);
});
