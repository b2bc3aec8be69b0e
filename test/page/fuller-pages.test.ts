import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { isNarrow } from '../../src/page/draw-figure.ts';
import { finishTables } from '../../src/page/finish-tables.ts';
import { renderNote } from '../../src/page/render-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { ARRESTER, calcBlock, evaluateText } from '../review/evaluate-text.ts';
import { SMALL_GRID } from '../support/small-grid.ts';
import { PROJECT } from '../support/write-project.ts';
import { readText } from './read-html.ts';

/** What keeps a document short without leaving anything out: what stands beside what, and what stands once. */

function page(text: string, project = PROJECT): string {
  const read = readProject('project.yaml', project, new Collector())!;
  const { html } = renderNote(evaluateText(text), read, {
    images: new Map(),
    software: { name: 'trial', version: '0' },
    digest: '0'.repeat(64),
  });
  return html.slice(html.indexOf('<body>'));
}

const positions = (html: string, ...texts: readonly string[]) => texts.map((text) => html.indexOf(text));
const isSorted = (numbers: readonly number[]) =>
  numbers.every((one, i) => one >= 0 && (i === 0 || one > numbers[i - 1]!));

describe('figures', () => {
  test('one of half the column stands before the checks, which have room beside it', () => {
    const html = page(calcBlock('one', 'arrester-connection', ARRESTER));
    expect(isSorted(positions(html, '<div class="judged">', 'class="narrow"', 'class="check"'))).toBe(true);
  });

  test('a wide one stands behind the cautions', () => {
    const html = page(calcBlock('one', 'earth-grid', SMALL_GRID));
    expect(html).not.toContain('class="narrow"');
    expect(isSorted(positions(html, 'class="check"', 'class="cautions"', '<figure'))).toBe(true);
  });

  test.each([
    // Two of 45 mm, each with its caption of 48 mm, and 5 mm between them.
    [[45, 45], true],
    [[82], true],
    [[103], false],
    [[82, 45], false],
  ] as const)('of %j mm have room for text beside them: %s', (widths, narrow) => {
    expect(isNarrow(...widths.map((width) => `<svg class="fig" width="${width}mm" height="30mm">`))).toBe(
      narrow,
    );
  });
});

describe('between a table and what stands before it', () => {
  const BREAK = '<div class="table-break"></div>';
  const OWN = '<table><caption>Own</caption></table>';

  test.each(['</table>', '</div>\n', '</ul>\n\n'])('a page may begin behind %j', (before) => {
    const tables = finishTables(`${before}${OWN}`);
    expect(tables.startsWith(`${before}${BREAK}<table`)).toBe(true);
  });

  test('none begins between a paragraph and its table, or a picture and the list of its marks', () => {
    expect(finishTables(`<p>As measured:</p>\n${OWN}`)).not.toContain(BREAK);
    expect(finishTables(`</div>\n${OWN.replace('<table', '<table class="callouts"')}`)).not.toContain(BREAK);
  });
});

test('a given stands with its source in one line of its table', () => {
  const html = page(calcBlock('one', 'arrester-connection', ARRESTER));
  const row = html.split('<tr').find((one) => one.includes('data-value="earth_lead"'))!;
  expect(readText(`<tr${row}`)).toMatch(
    /7\.5.m length of the lead from the arrester base .* no source named/,
  );
});

test('a formula that another edition has on another clause stands once, and both clauses', () => {
  const html = page(
    calcBlock('new', 'earth-grid', { ...SMALL_GRID, method: 'ieee-80-2013' }) +
      calcBlock('old', 'earth-grid', { ...SMALL_GRID, method: 'ieee-80-1986' }),
  );
  const old = html.slice(html.indexOf('id="calc-old"'));
  const table = /<table class="repeated"[^>]*>.*?<\/table>/s.exec(old)![0];
  const row = table
    .split('<tr')
    .find((one) => one.includes('Distance between parallel conductors, the larger'))!;
  expect(row).toContain('IEEE Std 80-1986');
  expect(row).not.toContain('mfrac');
});

describe('the checker’s record', () => {
  test('is no annex where nobody has checked and checks are signed by keys; a link to it leads somewhere', () => {
    const html = page(calcBlock('one', 'arrester-connection', ARRESTER));
    expect(html).not.toContain('Checker’s record');
    expect(html.split('id="annex-check"')).toHaveLength(2);
  });

  test('is a form where documents are signed by hand', () => {
    const html = page(calcBlock('one', 'arrester-connection', ARRESTER), `${PROJECT}signatures: ink\n`);
    expect(html).toContain('Checker’s record</h1>');
    for (const words of ['line by line', 'Inputs compared with their sources', 'Values found independently'])
      expect(html).toContain(words);
    expect(html.split('id="annex-check"')).toHaveLength(2);
  });
});
