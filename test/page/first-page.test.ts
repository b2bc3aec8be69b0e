import { describe, expect, test } from 'vitest';
import { renderNote } from '../../src/page/render-note.ts';
import { listPageNumberTargets } from '../../src/print/page-numbers.ts';
import type { NoteReview } from '../../src/review/sign-off/note-review.ts';
import { ARRESTER, evaluateText } from '../review/evaluate-text.ts';
import { FRONT_MATTER } from '../support/write-project.ts';
import { OPTIONS, PROJECT } from './fixtures/build-note.ts';
import { readText } from './read-html.ts';

function block(id: string, more: readonly string[], given: Readonly<Record<string, string>> = {}): string {
  const lines = Object.entries({ ...ARRESTER, ...given }).map(([name, value]) => `  ${name}: ${value}`);
  const head = [`id: ${id}`, 'calculation: arrester-connection', `title: Arrester ${id}`, ...more];
  return ['```yaml calc', ...head, 'given:', ...lines, '```', ''].join('\n');
}

function firstPage(blocks: readonly string[], front: readonly string[] = [], review?: NoteReview): string {
  const head = FRONT_MATTER.replace(/---\s*$/, [...front, '---', ''].join('\n'));
  const note = evaluateText([head, ...blocks].join('\n'));
  const { html } = renderNote(note, PROJECT, { ...OPTIONS, ...(review ? { review } : {}) });
  return readText(html.slice(html.indexOf('<header'), html.indexOf('</header>'))).replace(
    /[\u00a0\u202f]/g,
    ' ',
  );
}

/** Arresters at the riser and at the open end of a cable that withstands 170 kV: a requirement, and a recommended ratio of 1.2. */
function cable(id: string, riser: string, end: string, more: readonly string[]): string {
  const head = [`id: ${id}`, 'calculation: cable-protection', `title: Cable ${id}`, ...more, 'given:'];
  const given = ['arrangement: open-end', `riser_level: ${riser}`, `open_end_level: ${end}`];
  const lines = [...given, 'impulse_withstand: 170 kV'].map((line) => `  ${line}`);
  return ['```yaml calc', ...head, ...lines, '```', ''].join('\n');
}

/** Both leads in the loop: K = 75 / (33 + 10 x (line + earth)), with lengths in metres. */
const SHORT = { line_lead: '0.2 m', earth_lead: '0.3 m' };
const SHORTER = { line_lead: '0.1 m', earth_lead: '0.2 m' };

describe('counts', () => {
  test('what is found, proposed and considered is counted apart, and what is auxiliary not at all', () => {
    const page = firstPage([
      block('a', ['case: as-found']),
      block('b', ['case: proposed'], SHORT),
      block('c', ['case: alternative']),
      block('d', ['case: alternative'], SHORTER),
      block('e', ['case: auxiliary']),
    ]);
    // 75 / (33 + 93) = 0.595; 75 / 38 = 1.97.
    expect(page).toMatch(
      /As found: the only requirement does not comply\. Worst verdict: calculation 1, Arrester a, margin −48 %/,
    );
    expect(page).toMatch(
      /As proposed: the only requirement complies\. Least margin: calculation 2, Arrester b, margin \+71 %/,
    );
    expect(page).toMatch(/Alternatives considered: 1 of 2 requirements complies, 1 does not comply/);
    expect(page).not.toMatch(/Arrester [de]\b/);
    // Of what is only considered the worst stands for all.
    expect(page).toMatch(/does not comply 3 Arrester c: [^:]* 0\.595 ≥ 1\.15 −48 % does not comply/);
    expect(page).not.toMatch(/\b[345] requirements/);
  });

  test('every check that is not met stands there, of those that are met the nearest to their limits', () => {
    const failing = Array.from({ length: 9 }, (_, i) => block(`f${i}`, [], { line_lead: `${3 + i} m` }));
    const good = Array.from({ length: 6 }, (_, i) =>
      block(`g${i}`, [], { line_lead: `0.${9 - i} m`, earth_lead: '0.2 m' }),
    );
    const page = firstPage([...failing, ...good]);
    const table = page.slice(page.indexOf('Decisive verdicts'), page.indexOf('Schedule of actions'));
    expect(table.match(/does not comply/g)).toHaveLength(9);
    expect(table.match(/Arrester g\d/g)).toEqual(['Arrester g0']);
    expect(table).toMatch(/and 5 further checks, all of them met/);
  });
});

describe('the finding', () => {
  test('is the author’s, with values put in and its emphasis', () => {
    const page = firstPage(
      [block('a', ['case: as-found']), block('b', ['case: proposed'], SHORT)],
      [
        'summary: "The leads take {{ a.lead_drop }} of *all*; {{ b.withstand_margin }} with {{ b.earth_lead }}."',
      ],
    );
    expect(page).toMatch(/Finding The leads take 93\.0 kV of all; complies with 0\.3 m\. Draft/);
    expect(page).toMatch(/As found: the only requirement does not comply/);
  });

  test('of a note without a check says so', () => {
    expect(firstPage(['Text.'])).toMatch(/Finding No calculation of this note makes a check\./);
  });
});

describe('actions', () => {
  test('say what to do, to which limiting value, who, when and by what proof', () => {
    const action = 'action: { what: "Move it", where: "bay 4", owner: site, due: 2031-06-30, proof: photo }';
    const page = firstPage([
      block('a', ['case: as-found', action], { earth_lead: '0.4 m', line_lead: '7 m' }),
    ]);
    // 75 / 1.15 - 33 = 32.2 kV, which 3.22 m take; 0.4 m of it the earth lead.
    expect(page).toMatch(
      /1 bay 4 1 Arrester a \(as found\) Protective ratio [^:]*: 0\.701 \(required ≥ 1\.15\), does not comply Move it Would just comply, without any margin, other values unchanged: longest lead on the line side, other values unchanged: 2\.82 m\. Do not design to this value\. site by 30 Jun 2031 photo/,
    );
    // A single action has no order.
    expect(page).not.toMatch(/order of urgency|more urgent/);
  });

  test('say of a recommendation that what is proposed does not meet what its requirement does', () => {
    const page = firstPage([
      block('a', ['case: proposed', 'action: { what: Fit it }'], SHORT),
      cable('b', '110 kV', '100 kV', ['case: proposed', 'action: { what: Fit a second set }']),
    ]);
    // 110 + 100/2 = 160 kV of 170 kV: (170 - 160)/170 = 5.9 %; 170/160 = 1.06 of 1.2.
    expect(page).toMatch(
      /1\.06 \(recommended ≥ 1\.2\), not met the requirement complies as calculated, once this is done, least margin \+5\.9 % Fit a second set/,
    );
    expect(page).toMatch(/By their verdicts none comes before another: the order is that of the text/);
    expect(page).not.toMatch(/order of urgency/);
  });

  test('on what complies say for what state of things that is so', () => {
    const action = 'action: { what: "Move it" }';
    const page = firstPage([block('a', ['case: proposed', action], SHORT), block('b', [action], SHORT)]);
    expect(page).toMatch(
      /Arrester a \(as proposed\) complies as calculated, once this is done, least margin \+71 % Move it/,
    );
    expect(page).toMatch(/Arrester b complies as described in this note, least margin \+71 % Move it/);
  });
});

test('a limiting value stands neither beside a size that the author says nor beside a variant that complies', () => {
  const found = { earth_lead: '0.4 m', line_lead: '7 m' };
  const sized = firstPage([
    block('a', ['case: as-found', 'action: { what: "Cut the lead of SA7 to 1.2 m" }'], found),
  ]);
  expect(sized).not.toMatch(/Would just comply/);
  const named = firstPage([
    block('a', ['case: as-found', 'action: { what: "Cut the lead of SA7 in bay 12" }'], found),
  ]);
  expect(named).toMatch(/Would just comply/);
  const variant = (action: string) => [
    ['```yaml calc', 'id: b', 'based_on: a', 'case: proposed', 'title: Cut', action].join('\n'),
    'given: { line_lead: 0.5 m }',
    '```',
  ];
  for (const action of ['action: { what: "Cut it" }', '']) {
    const page = firstPage([block('a', ['case: as-found'], found), variant(action).join('\n')]);
    expect(page).toMatch(/As calculated in calculation 1b, Cut: complies, least margin/);
    expect(page).not.toMatch(/Would just comply/);
  }
});

test('an action names what governs once it is done, where that is not the calculation of the remedy itself', () => {
  const found = block('a', ['case: as-found']);
  const remedy = ['```yaml calc', 'id: b', 'based_on: a', 'case: proposed', 'title: Cut']
    .concat(['given: { line_lead: 0.1 m, earth_lead: 0.2 m }', '```'])
    .join('\n');
  const further = (id: string, lead: string, ofCase = 'proposed') =>
    block(id, [`case: ${ofCase}`], {
      line_lead: lead,
      earth_lead: '0 m',
      residual_voltage: '!ref b.terminal_voltage',
    });
  // Alone the remedy has 75 / (33 + 3) = 2.08, 81 % above 1.15; what rests on it 75 / (36 + 28) = 1.172, printed as 1.17 and so 1.7 %; a mere alternative does not count.
  const page = firstPage([found, remedy, further('c', '2.8 m'), further('d', '2.9 m', 'alternative')]);
  expect(page).toMatch(
    /calculation 1b, Cut: complies, least margin \+81 %\. Of the calculations that rest on it, calculation 2, Arrester c, has the least margin: complies, margin \+1\.7 %\./,
  );
  expect(
    firstPage([found, remedy, further('c', '0 m').replace('!ref b.terminal_voltage', '20 kV')]),
  ).not.toMatch(/governs/);
});

test('a draft says that it has been issued for nothing yet, also where its history names a reason', () => {
  const history = ['revisions:', '  - { revision: A, date: 2031-05-14, reason: first issue for the works }'];
  const page = (review: NoteReview | undefined) => {
    const head = FRONT_MATTER.replace(/---\s*$/, [...history, '---', ''].join('\n'));
    const { html } = renderNote(evaluateText(head), PROJECT, { ...OPTIONS, ...(review ? { review } : {}) });
    return readText(html);
  };
  expect(page(undefined)).toMatch(/Purpose of issue For review \(not yet issued\)/);
  expect(page(undefined)).toMatch(/first issue for the works \(not yet issued\)/);
  expect(page({ mark: 'none', signOffs: [], issues: [] })).not.toMatch(/not yet issued/);
});

test('a calculation that carries an action stands among the verdicts that decide, however much it has in hand', () => {
  const near = Array.from({ length: 9 }, (_, i) =>
    block(`g${i}`, ['case: proposed'], { line_lead: '0.9 m', earth_lead: '0.2 m' }),
  );
  const far = block('far', ['case: proposed', 'action: { what: "Fit it" }'], SHORTER);
  const page = firstPage([...near, far]);
  const table = page.slice(page.indexOf('Decisive verdicts'), page.indexOf('Schedule of actions'));
  // 75 / (33 + 3) = 2.08.
  expect(table).toMatch(/Arrester far: [^:]* 2\.08 ≥ 1\.15/);
  expect(table).toMatch(/\(R\) marks a recommendation/);
});

test('an open point has its owner and its date', () => {
  const hold = '- { id: H4, missing: The drawing, effect: the lead, owner: board builder, due: 2031-02-03 }';
  const page = (text: string) => firstPage(['```yaml holds', text, '```']);
  expect(page(hold)).toMatch(
    /Open point H4: The drawing\. Effect: the lead\. Owner: board builder, by 3 Feb 2031\./,
  );
  expect(page(hold.replace(', due: 2031-02-03', ''))).toMatch(/Owner: board builder, no date named\./);
  expect(page(hold.replace(', owner: board builder', ''))).toMatch(/No owner named, by 3 Feb 2031\./);
});

test('where nothing is to be remedied, conditions of the finding still count', () => {
  expect(firstPage([block('a', [], SHORT)])).toMatch(
    /No check requires a remedy\. Conditions that the finding names must be built as calculated\./,
  );
});

describe('the finding names the actions, which may stand overleaf, with their pages', () => {
  const html = (...places: readonly string[]) => {
    const blocks = places.map((where, i) =>
      block(`b${i}`, [`action: { what: "Move it"${where === '' ? '' : `, where: ${where}`} }`]),
    );
    return renderNote(evaluateText([FRONT_MATTER, ...blocks].join('\n')), PROJECT, OPTIONS).html;
  };

  const words = (page: string) => readText(page.slice(page.indexOf('<header'), page.indexOf('</header>')));

  test('by place, with the calculation where several stand at one place, and by it alone where no place is named', () => {
    const page = html('pump house', 'gallery', 'pump house', '');
    expect(words(page)).toMatch(
      /To be done, the worst verdict first: action 1, pump house \(calculation 1\), page ; action 2, gallery, page ; action 3, pump house \(calculation 3\), page ; action 4, Arrester b3, page \./,
    );
    for (const target of ['action-1', 'action-4']) {
      expect(listPageNumberTargets(page)).toContain(target);
      expect(page).toContain(`id="${target}"`);
    }
  });

  test('where everything is met, none is more urgent: the order is that of the note, whatever the margins', () => {
    // 75 / (33 + 3) = 2.08 and 75 / (33 + 5) = 1.97, of 1.15: the second has less in hand.
    const far = block('far', ['action: { what: Fit it, where: gallery }'], SHORTER);
    const near = block('near', ['action: { what: Fit it, where: gate }'], SHORT);
    const page = firstPage([far, near]);
    expect(page).toMatch(/To be done, in the order of this note: action 1, gallery, page ; action 2, gate, /);
    const mixed = firstPage([far, block('open', ['action: { what: Move it, where: shaft }'])]);
    expect(mixed).toMatch(/To be done, the worst verdict first: action 1, shaft, page ; action 2, gallery, /);
    expect(mixed).toMatch(/last, in the order of the text, what the author asks for where everything is met/);
  });

  test('a single one, and more than six', () => {
    expect(words(html('gate'))).toMatch(/To be done: action 1, gate, page \./);
    expect(words(html('a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'))).toMatch(
      /; action 6, f, page ; and 2 more\. /,
    );
  });
});

test('an action on a calculation that makes no check says nothing of complying', () => {
  const own = [
    '```yaml formula',
    'id: own',
    'title: Own sum',
    'given: { x: { symbol: x, meaning: a length, unit: m, value: 2 m } }',
    'steps: { y: { symbol: y, meaning: twice, unit: m, formula: 2 * x } }',
    'action: { what: "Measure it" }',
    '```',
  ];
  expect(firstPage([own.join('\n')])).toMatch(/1 1 Own sum Measure it/);
});

describe('how the document stands', () => {
  const review = (mark: NoteReview['mark']): NoteReview => ({ signOffs: [], issues: [], mark });

  test.each([
    ['draft', 'Draft: this revision has not been issued. Not for construction: nothing may be built'],
    ['superseded', 'Superseded: a later revision has been issued. Not for construction'],
    ['withdrawn', 'Withdrawn: the issue of this revision is no longer valid. Not for construction'],
  ] as const)('%s', (mark, words) => {
    expect(firstPage(['Text.'], [], review(mark))).toContain(words);
  });

  test('of many assumptions that are not confirmed three are told, and the rest named', () => {
    const items = [1, 2, 3, 4, 5].map(
      (i) =>
        `- { id: A${i}, text: Fact ${i}, state: ${i === 2 ? 'confirmed, closed_by: letter' : 'to be confirmed'} }`,
    );
    const page = firstPage(['```yaml assumptions', ...items, '```']);
    expect(page).toMatch(/Depends on assumption A1, not confirmed: Fact 1\. Depends on assumption A3/);
    expect(page).toMatch(/A4, not confirmed: Fact 4\. Depends on further assumptions, not confirmed: A5\./);
    expect(page).not.toMatch(/Fact 2|Fact 5/);
  });
});

describe('what follows the first page', () => {
  const headings = (...blocks: readonly string[]): string[] => {
    const note = evaluateText(`${FRONT_MATTER}\n${blocks.join('\n')}`);
    return renderNote(note, PROJECT, OPTIONS).outline.map(({ title }) => title);
  };

  test('is a table of all verdicts only where some of them do not stand there', () => {
    expect(headings(block('a', []), block('b', [], SHORT))).not.toContain('All verdicts');
    expect(headings(block('a', []), block('b', ['case: auxiliary'], SHORT))).toContain('All verdicts');
    expect(headings(...Array.from({ length: 9 }, (_, i) => block(`g${i}`, [], SHORT)))).toContain(
      'All verdicts',
    );
  });

  test('counts case by case, and has each check with the page on which it stands', () => {
    const blocks = Array.from({ length: 9 }, (_, i) =>
      block(`g${i}`, [`case: ${i < 4 ? 'as-found' : 'proposed'}`], i < 4 ? {} : SHORT),
    );
    const { html } = renderNote(evaluateText(`${FRONT_MATTER}\n${blocks.join('\n')}`), PROJECT, OPTIONS);
    const table = html.slice(html.indexOf('<section class="verdicts">'));
    const verdicts = readText(table.slice(0, table.indexOf('</section>')));
    expect(verdicts).toMatch(/As found: none of the 4 requirements is met/);
    expect(verdicts).toMatch(/As proposed: all 5 requirements comply/);
    expect(listPageNumberTargets(html)).toContain('check-g7-withstand_margin');
    // Who recomputes 41.13 and finds 41.1 as a limit is told why, in either table and where the document says how it was printed.
    expect(verdicts).toMatch(/A computed limit is rounded to the safe side/);
    expect(readText(html)).toMatch(/limits and bounds are printed rounded to the safe side, other values to/);
  });

  test('of no case begins its counts as a sentence', () => {
    const blocks = Array.from({ length: 9 }, (_, i) => block(`g${i}`, [], SHORT));
    const { html } = renderNote(evaluateText(`${FRONT_MATTER}\n${blocks.join('\n')}`), PROJECT, OPTIONS);
    expect(html).toContain('<th scope="rowgroup" colspan="7">All 9 requirements comply</th>');
    expect(html).not.toMatch(/<th scope="rowgroup"[^>]*>[a-z]/);
  });

  test('is no table of contents that lists itself', () => {
    const sections = Array.from({ length: 12 }, (_, i) => `# Section ${i + 1}\n\nText.\n`);
    const { html } = renderNote(evaluateText(`${FRONT_MATTER}\n${sections.join('\n')}`), PROJECT, OPTIONS);
    const contents = html.slice(html.indexOf('<nav class="contents">'));
    expect(readText(contents.slice(0, contents.indexOf('</nav>')))).toMatch(
      /^Contents Revision history 1 Section 1 .*Software and source/,
    );
  });

  test('is a table of contents only in a note of more than eight headings', () => {
    const of = (count: number) => headings(...Array.from({ length: count }, (_, i) => `## Part ${i}\n`));
    expect(of(8)).not.toContain('Contents');
    expect(of(9)).toContain('Contents');
  });
});
