import fc from 'fast-check';
import type { Code, Heading, List, Paragraph, Table } from 'mdast';
import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import type { Place } from '../../src/diagnostics/place.ts';
import type { CalcBlock, FormulaBlock, NoteSource } from '../../src/source/note-source.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { trials } from '../support/at-length.ts';
import { positionOf, told } from '../support/told.ts';

const FRONT_MATTER = `---
number: NH-E-CAL-001
title: Arresters of the north harbour
revision: B
status: for-review
date: 2026-03-31
`;

let texts: Collector;

/** Reads a note that has no fault. */
function read(body: string, moreKeys = ''): NoteSource {
  const collector = new Collector();
  texts = collector;
  const note = readNote('001-arresters.md', `${FRONT_MATTER}${moreKeys}---\n\n${body}`, collector);
  expect(collector.list()).toEqual([]);
  return note!;
}

/** The line and column of a place in the note that was read last. */
const at = (place: Place | undefined) => positionOf(place!, texts);

function codes(text: string): string[] {
  const collector = new Collector();
  readNote('note.md', text, collector);
  return collector.list().map((d) => d.code);
}

describe('front matter', () => {
  test('keys that are left out have their usual value', () => {
    const { frontMatter } = read('# Purpose\n');
    expect(frontMatter).toMatchObject({
      number: 'NH-E-CAL-001',
      documentType: 'Calculation',
      distribution: [],
      pageSize: 'A4',
      locale: 'en-GB',
    });
    expect('supersedes' in frontMatter).toBe(false);
    expect(at(frontMatter.places.get('number'))).toEqual({
      file: '001-arresters.md',
      line: 2,
      column: 9,
      length: 12,
    });
  });

  test('every key', () => {
    const { frontMatter } = read(
      '# Purpose\n',
      `document_type: Design calculation
discipline: Electrical
client_document_number: "0042"
classification: internal
distribution: [client, archive]
supersedes: NH-E-CAL-000
affects:
  - NH-E-DRW-007, sheet 2
prepared: jd
checked: ab
approved: cd
revisions:
  - { revision: A, date: 2026-01-10, reason: first issue, sections: all, prepared: jd, checked: ab, approved: cd }
  - revision: B
    date: 2026-03-31
    reason: leads measured again, and one more arrester
standards: ["IEC 62305-3:2010", IEC 60099-5]
page_size: Letter
locale: en-US
`,
    );
    expect(frontMatter).toMatchObject({
      documentType: 'Design calculation',
      clientDocumentNumber: '0042',
      affects: ['NH-E-DRW-007, sheet 2'],
      approved: 'cd',
      standards: ['IEC 62305-3:2010', 'IEC 60099-5'],
      pageSize: 'Letter',
      locale: 'en-US',
    });
    expect(frontMatter.revisions).toEqual([
      {
        revision: 'A',
        date: '2026-01-10',
        reason: 'first issue',
        sections: 'all',
        prepared: 'jd',
        checked: 'ab',
        approved: 'cd',
      },
      { revision: 'B', date: '2026-03-31', reason: 'leads measured again, and one more arrester' },
    ]);
    expect(at(frontMatter.places.get('revisions.1.date'))).toMatchObject({
      line: 21,
      column: 11,
      length: 10,
    });
  });
});

describe('blocks', () => {
  test('every form of a given', () => {
    const note = read(`\`\`\`yaml calc
id: tx1-as-found
calculation: arrester-connection
title: Transformer TX1, as found
given:
  arrangement: common-earth
  residual_voltage: { value: 33 kV, source: "routine test report, 8/20 at 10 kA" }
  line_lead: 1.8 m # measured
  earth_lead: { value: !ref survey.earth_lead, range: [7 m, 8 m] }
  steepness: { value: 10 kA/us, plus_minus: 20 % }
  impulse_withstand: !ref equipment.TX1.lightning_impulse_withstand
  bond: !formula "{survey.line_lead} + 0.3 m"
  lengths: [1 m, '2 m']
  leads:
    - { length: 2 m, height: !ref survey.height }
    - length: 3 m
accept:
  - { caution: long-lead, by: jd, reason: temporary until the outage }
\`\`\`
`);
    const block = note.blocks[0] as CalcBlock;
    expect(block).toMatchObject({ kind: 'calc', id: 'tx1-as-found', calculation: 'arrester-connection' });
    expect(at(block.place)).toMatchObject({ line: 9, column: 1, length: 12 });
    expect(at(block.calculationPlace)).toMatchObject({ line: 11, column: 14, length: 19 });
    const given = Object.fromEntries(block.given.map((g) => [g.name, g]));
    expect(given.arrangement!.value).toMatchObject({ type: 'scalar', text: 'common-earth' });
    expect(given.residual_voltage).toMatchObject({
      value: { type: 'scalar', text: '33 kV' },
      source: 'routine test report, 8/20 at 10 kA',
    });
    const lead = given.line_lead!;
    expect(lead).toEqual({
      name: 'line_lead',
      namePlace: lead.namePlace,
      value: { type: 'scalar', text: '1.8 m', place: lead.value.place },
    });
    expect([at(lead.namePlace), at(lead.value.place)]).toEqual([
      { file: '001-arresters.md', line: 16, column: 3, length: 9 },
      { file: '001-arresters.md', line: 16, column: 14, length: 5 },
    ]);
    expect(at(given.earth_lead!.value.place)).toMatchObject({ column: 29, length: 17 });
    expect(given.earth_lead).toMatchObject({
      value: { type: 'reference', target: 'survey.earth_lead' },
      range: { low: { text: '7 m' }, high: { text: '8 m' } },
    });
    expect(given.steepness!.plusMinus).toMatchObject({ type: 'scalar', text: '20 %' });
    expect(given.impulse_withstand!.value).toMatchObject({ type: 'reference' });
    expect(given.bond!.value).toMatchObject({
      type: 'formula',
      text: '{survey.line_lead} + 0.3 m',
    });
    // Behind the quote, so that a fault in the formula can be marked to the column.
    expect(at(given.bond!.value.place)).toMatchObject({ column: 19, length: 26 });
    expect(given.lengths!.value).toMatchObject({ type: 'list', items: [{ text: '1 m' }, { text: '2 m' }] });
    expect(given.leads!.value).toMatchObject({
      type: 'list',
      items: [{ type: 'map', entries: [{ key: 'length' }, { key: 'height' }] }, { type: 'map' }],
    });
    expect(block.accepted).toMatchObject([
      { caution: 'long-lead', by: 'jd', reason: 'temporary until the outage' },
    ]);
    expect(note.faultyBlocks.size).toBe(0);
  });

  test('a formula block', () => {
    const note = read(`\`\`\`yaml formula
id: lead-voltage
title: Voltage of the lead
purpose: What the lead adds to the residual voltage.
given:
  lead: { symbol: l, meaning: length of the lead, unit: m, value: !ref survey.line_lead, range: [1 m, 2 m] }
  inductance: { symbol: "L'", meaning: inductance of the lead, unit: uH/m, value: 1 uH/m, source: common practice }
steps:
  voltage:
    symbol: U_L
    meaning: voltage of the lead
    unit: kV
    formula: inductance * lead * 10 kA/us
    source: common practice
    numeric: { lead: m }
checks:
  margin:
    criterion: The lead leaves the margin
    value: voltage
    relation: '<='
    limit: 30 kV
    force: recommendation
    remedies: ["shorten the lead, if there is room"]
\`\`\`
`);
    const block = note.blocks[0] as FormulaBlock;
    expect(block).toMatchObject({
      kind: 'formula',
      purpose: 'What the lead adds to the residual voltage.',
      given: [
        { name: 'lead', symbol: 'l', unit: 'm', value: { type: 'reference' }, range: {} },
        { name: 'inductance', symbol: "L'", source: 'common practice' },
      ],
      steps: [{ name: 'voltage', formula: 'inductance * lead * 10 kA/us', numeric: { lead: 'm' } }],
      checks: [{ name: 'margin', relation: '<=', force: 'recommendation', limit: '30 kV' }],
    });
    expect(block.checks[0]!.remedies).toEqual(['shorten the lead, if there is room']);
  });

  test('assumptions, holds and references, from several blocks', () => {
    const note = read(`\`\`\`yaml assumptions
- { id: A1, text: The soil is homogeneous., state: to be confirmed, owner: jd, due: 2026-05-01 }
\`\`\`

- Later:

  \`\`\`yaml assumptions
  - id: leads-straight
    text: The leads are straight.
    basis: photographs
    state: confirmed
    closed_by: survey of 3 March
  \`\`\`

\`\`\`yaml holds
- { id: H1, missing: routine test report, effect: the margin may be smaller }
- { id: H2, missing: survey, effect: none, state: closed, closed_by: survey of 3 March }
\`\`\`

\`\`\`yaml references
- { id: report, title: Routine test report, designation: RT-7, edition: "2024", issuer: works laboratory }
\`\`\`
`);
    expect(note.assumptions.map((a) => [a.id, a.state])).toEqual([
      ['A1', 'to be confirmed'],
      ['leads-straight', 'confirmed'],
    ]);
    expect(note.assumptions[1]!.closedBy).toBe('survey of 3 March');
    expect(note.holds.map((h) => [h.id, h.state])).toEqual([
      ['H1', 'open'],
      ['H2', 'closed'],
    ]);
    expect(note.references[0]).toMatchObject({ id: 'report', designation: 'RT-7', edition: '2024' });
  });

  test('in the tree, each block stands where it was written; other code stays code', () => {
    const { tree } = read(`Before.

\`\`\`yaml
plain: code
\`\`\`

- \`\`\`yaml calc
  id: supply
  calculation: arrester-connection
  \`\`\`

\`\`\`yaml holds
- { id: H1, missing: report, effect: margin }
\`\`\`
`);
    expect(tree.children.map((node) => node.type)).toEqual(['paragraph', 'code', 'list', 'noteBlock']);
    expect((tree.children[1] as Code).value).toBe('plain: code');
    const list = tree.children[2] as List;
    expect(list.children[0]!.children[0]).toMatchObject({ type: 'noteBlock', kind: 'calc', block: 'supply' });
    expect(tree.children[3]).toMatchObject({ type: 'noteBlock', kind: 'holds' });
    expect('block' in tree.children[3]!).toBe(false);
  });

  test('a block with a fault is named, and the others are read', () => {
    const collector = new Collector();
    const note = readNote(
      'note.md',
      `${FRONT_MATTER}---

\`\`\`yaml calc
id: broken
calculation: "arrester
\`\`\`

\`\`\`yaml calc
id: faulty
calculation: arrester-connection
given: { line_lead: , earth_lead: 3 m }
\`\`\`

\`\`\`yaml calc
id: sound
calculation: arrester-connection
\`\`\`
`,
      collector,
    );
    expect(note?.blocks.map((block) => block.id)).toEqual(['faulty', 'sound']);
    expect([...note!.faultyBlocks]).toEqual(['broken', 'faulty']);
    const given = (note!.blocks[0] as CalcBlock).given;
    expect(given.map((g) => g.value.type)).toEqual(['empty', 'scalar']);
  });
});

describe('prose', () => {
  test('values are read in every kind of text', () => {
    const note = read(`# Result {{ supply.line_lead }}

Plain {{supply.line_lead}}, _emphasised {{ a.b_c }} and {{ d.e_f }}_, **{{ a.b }}**, [{{ a.b }}](#result),
~~{{ a.b }}~~ and a note[^1]. {{ equipment.TX1.rated_voltage }}

| a | b |
| --- | --- |
| {{ a.b }} | {{ a.c }} |

> - {{ a.d }}

[^1]: {{ a.e }}
`);
    expect(note.proseValues.map((value) => value.target)).toEqual([
      ...['supply.line_lead', 'supply.line_lead', 'a.b_c', 'd.e_f', 'a.b', 'a.b', 'a.b'],
      ...['equipment.TX1.rated_voltage', 'a.b', 'a.c', 'a.d', 'a.e'],
    ]);
    const heading = note.tree.children[0] as Heading;
    expect(heading.children[1]).toMatchObject({ type: 'proseValue', target: 'supply.line_lead' });
    const table = note.tree.children.find((node): node is Table => node.type === 'table');
    expect(table?.children[1]?.children[1]?.children[0]).toMatchObject({ type: 'proseValue', target: 'a.c' });
    expect(at(note.proseValues[0]!.place)).toEqual({
      file: '001-arresters.md',
      line: 9,
      column: 13,
      length: 16,
    });
    expect(at(note.proseValues.at(-2)!.place)).toMatchObject({ line: 18, column: 8, length: 3 });
  });

  test('no value is read in code, math, or behind a backslash', () => {
    const note = read(
      '`{{ a.b }}` $x_{{ a.b }}$ \\{{ a.b }} \\{\\{ a.b }}\n\n```\n{{ a.b }}\n```\n\n$$\n{{ a.b }}\n$$\n',
    );
    expect(note.proseValues).toEqual([]);
    expect((note.tree.children[0] as Paragraph).children.map((node) => node.type)).toEqual([
      'inlineCode',
      'text',
      'inlineMath',
      'text',
    ]);
  });

  test('images are listed as they are written', () => {
    const { images } = read('![a](images/a%20b.png) ![c][d]\n\n[d]: ./c.svg\n');
    expect(images.map((image) => image.address)).toEqual(['images/a%20b.png', './c.svg']);
  });

  test('comments go, and no HTML stays in the tree', () => {
    const { tree } = read('One <!-- two --> three.\n\n<!-- four -->\n');
    expect(JSON.stringify(tree)).not.toContain('two');
    expect(JSON.stringify(tree)).not.toContain('four');
    expect(tree.children).toHaveLength(1);
  });
});

describe('hostile texts', () => {
  test('texts that are too long or nested too deeply are refused', () => {
    const note = (body: string) => codes(`${FRONT_MATTER}---\n\n${body}`);
    expect(note('x'.repeat(4_000_001))).toEqual(['text-too-long']);
    expect(note('>'.repeat(20_000))).toEqual(['text-too-deep']);
    expect(note(`\`\`\`yaml calc\nid: ${'['.repeat(20_000)}\n\`\`\``)).toContain('yaml-too-deep');
    expect(note(`\`\`\`yaml calc\nid: ${'['.repeat(60)}${']'.repeat(60)}\n\`\`\``)).toContain(
      'yaml-too-deep',
    );
    expect(note(`\`\`\`yaml calc\n# ${'x'.repeat(1_000_001)}\n\`\`\``)).toEqual(['yaml-too-long']);
  });

  /** Pieces that mean something to markdown, YAML or a note, so that random texts reach beyond the first check. */
  const pieces = fc.constantFrom(
    ...[
      '---\n',
      '```yaml calc\n',
      '```yaml formula\n',
      '```yaml holds\n',
      '```\n',
      '\n',
      '\r\n',
      '\t',
      '  ',
      '> ',
      '- ',
    ],
    ...[
      'id: a\n',
      'given:\n',
      'given: {',
      '}',
      '[',
      ']',
      '{{',
      '}}',
      '{{ a.b }}',
      '"',
      "'",
      ': ',
      ', ',
      '|',
      '> ',
    ],
    ...[
      '!ref ',
      '!formula ',
      '!',
      '&a ',
      '*a',
      '#',
      '<b>',
      '<!--',
      '-->',
      '![',
      '](',
      ')',
      '[^1]',
      '[^1]: ',
      '$',
      '$$',
    ],
    ...[
      'value: 3 m',
      'range: [1, 2]',
      'steps:\n',
      'checks:\n',
      '__proto__: 1\n',
      '<<<<<<< a\n',
      '>>>>>>> b\n',
      '? ',
      '%',
    ],
    ...[
      '\uFEFF',
      '\0',
      '\u2028',
      '\uD800',
      '😀',
      '\\',
      '`',
      '~~~',
      '| a |\n| - |\n',
      'number: 1\n',
      'status: draft\n',
    ],
  );
  const texts = fc.oneof(
    fc.string({ unit: 'binary', maxLength: 200 }),
    fc.array(fc.oneof(pieces, fc.string({ maxLength: 5 })), { maxLength: 60 }).map((parts) => parts.join('')),
    fc.array(pieces, { maxLength: 60 }).map((parts) => `${FRONT_MATTER}---\n\n${parts.join('')}`),
    fc
      .array(pieces, { maxLength: 40 })
      .map((parts) => `${FRONT_MATTER}---\n\n\`\`\`yaml calc\n${parts.join('')}`),
  );

  test('no text makes reading throw, and every place lies in the text', () => {
    fc.assert(
      fc.property(texts, (text) => {
        const collector = new Collector();
        readNote('note.md', text, collector);
        readProject('project.yaml', text, collector);
        const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/);
        for (const { place } of told(collector)) {
          expect(place.line).toBeGreaterThanOrEqual(1);
          expect(place.line).toBeLessThanOrEqual(lines.length);
          expect(place.column).toBeGreaterThanOrEqual(1);
          expect(place.column).toBeLessThanOrEqual(lines[place.line - 1]!.length + 1);
        }
      }),
      { numRuns: trials(200, 1500) },
    );
  });
});
