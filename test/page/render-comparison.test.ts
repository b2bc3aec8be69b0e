import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { type ComparedState, renderComparison } from '../../src/page/render-comparison.ts';
import { spellUnprintable } from '../../src/page/spell-unprintable.ts';
import { compareStates } from '../../src/review/compare-notes.ts';
import { readProject } from '../../src/source/read-project.ts';
import { ARRESTER, calcBlock, evaluateText } from '../review/evaluate-text.ts';
import { PROJECT } from '../support/write-project.ts';

const DIGEST = '0123456789abcdef'.repeat(4);

function stateOf(
  name: string,
  notes: Readonly<Record<string, string>>,
  project = PROJECT,
): ComparedState & { imagesOf(): ReadonlyMap<string, string> } {
  return {
    name,
    identity: `commit ${name}`,
    project: readProject('project.yaml', project, new Collector())!,
    notes: Object.entries(notes).map(([path, text]) => evaluateText(text, path, project)),
    digestOf: () => DIGEST,
    imagesOf: () => new Map(),
  };
}

function render(
  before: ReturnType<typeof stateOf>,
  after: ReturnType<typeof stateOf>,
  notices: string[] = [],
) {
  const software = { name: 'surgenote', version: '0.0.0' };
  const rendered = renderComparison(compareStates(before, after), before, after, { software, notices });
  const body = rendered.html.slice(rendered.html.indexOf('<body>')).replaceAll('<wbr>', '');
  const headings = [...body.matchAll(/<h(\d)[^>]*>([^<]*)<\/h\1>/g)].map(([, level, text]) => ({
    level: Number(level),
    title: text!
      .replaceAll('&lt;', '<')
      .replaceAll('&gt;', '>')
      .replaceAll('&#x3D;', '=')
      .replaceAll('&amp;', '&'),
    typeset: false,
  }));
  return { ...rendered, body, headings };
}

const arrester = (lead: string, id = 'trial') =>
  calcBlock(id, 'arrester-connection', { ...ARRESTER, line_lead: lead, earth_lead: '1 m' });
const one = (text: string) => ({ '001.md': text });

describe('the page of a comparison', () => {
  test('has every heading in the outline, in order, and the verdicts that turned before what changed', () => {
    const { body, headings, outline } = render(
      stateOf('old', { ...one(`${arrester('1 m')}\nText.\n`), '002.md': arrester('1 m') }),
      stateOf(
        'new',
        { ...one(`${arrester('3 m')}\nOther.\n`), '003.md': arrester('1 m').replace('trial', 'other') },
        PROJECT.replace('75 kV', '95 kV'),
      ),
    );
    expect(headings).toEqual(outline);
    expect(headings.map(({ title }) => title).slice(1, 5)).toEqual([
      'States compared',
      'Verdicts that changed',
      'Project and register',
      '001.md',
    ]);
    expect(body.indexOf('<strong>does not comply</strong>')).toBeLessThan(body.indexOf('<caption>Givens'));
    expect(body).toContain('<td class="name">line_lead</td><td>1\u00a0m</td><td>3\u00a0m</td>');
    expect(body).toContain('<td>removed</td><td class="words-of-note">Text.</td>');
    expect(body).toContain('01234567 89abcdef');
  });

  test('says that nothing differs, and that nothing but the name of a note does', () => {
    const same = render(stateOf('old', one(arrester('1 m'))), stateOf('new', one(arrester('1 m'))));
    expect(same.body).toContain('No verdict changed.');
    expect(same.body).toContain('The states do not differ');
    const renamed = render(stateOf('old', one(arrester('1 m'))), stateOf('new', { 'b.md': arrester('1 m') }));
    expect(renamed.body).not.toContain('The states do not differ');
    expect(renamed.body).toContain('<h1 aria-level="2">b.md, renamed from 001.md</h1>');
    expect(renamed.body).toContain('Nothing that the note says or computes changed.');
  });

  test('takes no markup from what it compares, and spells what no font has', () => {
    const hostile = '</style><script>alert(1)</script>';
    const project = PROJECT.replace('title: Trial', `title: ${JSON.stringify(`${hostile} & ☃`)}`);
    const { html, body, headings, outline } = render(
      stateOf(hostile, one('Text.\n'), PROJECT),
      stateOf('new', one(`\`${hostile}\` ☃ \u202Eleft\n`), project),
      [hostile],
    );
    expect(headings).toEqual(outline);
    expect(html).not.toContain('<script');
    expect(html.match(/<\/style>/g)).toHaveLength(1);
    expect(body).toContain('[U+2603] [U+202E]left');
    expect(html).not.toMatch(/[☃\u202E]/u);
  });
});

test('what can be seen stays, what cannot is spelt by its code', () => {
  expect(spellUnprintable('1.8 m µH/Ω – “é”\tend\nnext')).toBe('1.8 m µH/Ω – “é”\tend\nnext');
  expect(spellUnprintable('a\u0007b\u200Bc\u{1F329}雪')).toBe('a[U+0007]b[U+200B]c[U+1F329][U+96EA]');
});
