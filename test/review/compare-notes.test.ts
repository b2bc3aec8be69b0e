import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { compareStates } from '../../src/review/compare-notes.ts';
import { markdownComparison } from '../../src/review/markdown-comparison.ts';
import { wordComparison } from '../../src/review/word-comparison.ts';
import { readProject } from '../../src/source/read-project.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';
import { ARRESTER, calcBlock, evaluateText } from './evaluate-text.ts';

interface Files {
  readonly notes: Readonly<Record<string, string>>;
  readonly project?: string;
  readonly images?: Readonly<Record<string, string>>;
}

function stateOf({ notes, project = PROJECT, images = {} }: Files) {
  return {
    project: readProject('project.yaml', project, new Collector())!,
    notes: Object.entries(notes).map(([path, text]) => evaluateText(text, path, project)),
    imagesOf: () => new Map(Object.entries(images)),
  };
}

const compare = (before: Files, after: Files) => compareStates(stateOf(before), stateOf(after));
const compareTexts = (before: string, after: string) =>
  compare({ notes: { '001.md': before } }, { notes: { '001.md': after } });

const arrester = (given: Readonly<Record<string, string>> = {}, id = 'trial') =>
  calcBlock(id, 'arrester-connection', { ...ARRESTER, ...given });
const NAMES = { before: 'old', after: 'new' };

test('nothing changed', () => {
  const comparison = compareTexts(arrester(), arrester());
  expect(comparison).toMatchObject({ turned: [], project: [], submittals: [], notes: [] });
  expect(wordComparison(comparison, NAMES)).toBe('old -> new\nno differences');
  expect(markdownComparison(comparison, NAMES)).toContain('No differences.');
});

test('a given changed: old and new value with the change in per cent, and the verdict that turned', () => {
  const { turned, notes } = compareTexts(arrester(), arrester({ line_lead: '0.5 m', earth_lead: '1 m' }));
  // By hand: 33 kV + 9.3 m * 10 kV/m = 126 kV; 33 kV + 1.5 m * 10 kV/m = 48 kV, -61.9048 %; 75/126 and 75/48.
  expect(turned).toEqual([
    expect.objectContaining({
      block: 'trial',
      check: 'withstand_margin',
      before: 'does not comply',
      after: 'complies',
      afterCode: 'complies',
    }),
  ]);
  const [block] = notes[0]!.blocks;
  expect(block!.given).toEqual([
    { name: 'line_lead', before: '1.8 m', after: '0.5 m', percent: -72.2222 },
    { name: 'earth_lead', before: '7.5 m', after: '1 m', percent: -86.6667 },
  ]);
  expect(block!.results).toContainEqual({
    name: 'terminal_voltage',
    before: '126 kV',
    after: '48 kV',
    percent: -61.9048,
  });
  expect(block!.checks[0]!.facts).toContainEqual({
    name: 'value',
    before: '0.595238',
    after: '1.5625',
    percent: 162.5,
  });
  expect(block!.results.map(({ name }) => name)).not.toContain('current_steepness');
});

test('another way of writing a value is no change of it', () => {
  const { notes } = compareTexts(arrester(), arrester({ line_lead: '1.80 m', earth_lead: '"7.5 m"' }));
  expect(notes).toEqual([]);
});

test('a verdict that comes to lie at the limit, or holds only over a part of a range, has turned', () => {
  const steady = compareTexts(
    arrester({ line_lead: '0.5 m', earth_lead: '1 m' }),
    arrester({ line_lead: '0.5 m', earth_lead: '{ value: 1 m, range: [1 m, 9 m] }' }),
  );
  expect(steady.turned).toEqual([
    expect.objectContaining({
      before: 'complies',
      after: 'does not comply, met over a part of the range only',
      afterCode: 'does-not-comply',
    }),
  ]);
  const held = compareTexts(
    arrester({ line_lead: '0.5 m', earth_lead: '1 m' }),
    arrester({ line_lead: '0.5 m', earth_lead: '{ value: 1 m, range: [0.9 m, 1.1 m] }' }),
  );
  expect(held.turned).toEqual([]);
  // 75 kV/1.15 = 65.2174 kV = 33 kV + 3.22174 m * 10 kV/m; of these 0.5 m in the line lead.
  const limit = compareTexts(
    arrester({ line_lead: '0.5 m', earth_lead: '1 m' }),
    arrester({ line_lead: '0.5 m', earth_lead: '2.7217391304348 m' }),
  );
  expect(limit.turned).toEqual([
    expect.objectContaining({ before: 'complies', after: 'complies, at the limit' }),
  ]);
});

test('a block that is renamed, one that is added and one that is removed are told apart', () => {
  const wire = (id: string, length: string) =>
    calcBlock(id, 'conductor-inductance', { shape: 'round-wire', length, diameter: '8 mm' });
  const { notes, turned } = compareTexts(
    `${arrester({}, 'as-found')}\n${wire('down-lead', '2 m')}`,
    `${arrester({ line_lead: '1.7 m' }, 'intake')}\n${calcBlock('rod', 'earth-electrode', {
      kind: 'rod',
      resistivity: '150 ohm m',
      length: '2.4 m',
      diameter: '16 mm',
    })}`,
  );
  expect(notes[0]!.blocks.map(({ id, state, renamedFrom }) => ({ id, state, renamedFrom }))).toEqual([
    { id: 'intake', state: 'changed', renamedFrom: 'as-found' },
    { id: 'rod', state: 'added', renamedFrom: undefined },
    { id: 'down-lead', state: 'removed', renamedFrom: undefined },
  ]);
  expect(notes[0]!.blocks[1]!.given).toContainEqual({ name: 'length', after: '2.4 m' });
  expect(turned.map(({ block, before, after }) => ({ block, before, after }))).toEqual([
    { block: 'rod', before: undefined, after: 'cannot be judged' },
  ]);
});

test('two blocks of one calculation that share little are two', () => {
  const other = { line_lead: '3 m', earth_lead: '4 m', residual_voltage: '20 kV', steepness: '20 kA/us' };
  const { notes } = compareTexts(
    arrester({}, 'one'),
    arrester({ ...other, impulse_withstand: '95 kV' }, 'two'),
  );
  // Arrangement and defaults are equal in any two blocks of a calculation; what was entered decides.
  expect(notes[0]!.blocks.map(({ state }) => state)).toEqual(['added', 'removed']);
});

test('sources and the formulas of the engineer are compared where no value changed', () => {
  const own = (formula: string) => `\`\`\`yaml formula
id: own
title: Own
given:
  x: { symbol: x, meaning: a length, unit: m, value: 2 m }
steps:
  y: { symbol: y, meaning: twice, unit: m, formula: "${formula}" }
\`\`\`
`;
  const { notes } = compareTexts(
    `${own('2 * x')}${arrester({ line_lead: '{ value: 1.8 m, source: sketch }' })}`,
    `${own('x + x')}${arrester({ line_lead: '{ value: 1.8 m, source: measured }' })}`,
  );
  expect(notes[0]!.blocks.map(({ wording }) => wording)).toEqual([
    [{ name: 'formula of y', before: '2 * x', after: 'x + x' }],
    [{ name: 'source of line_lead', before: 'sketch', after: 'measured' }],
  ]);
});

test('what is to be done about a block is compared as it is written', () => {
  const withAction = (action: string) => arrester().replace(/```\n$/, `action: { ${action} }\n\`\`\`\n`);
  const { notes } = compareTexts(
    withAction('what: "Shorten to {{ trial.limiting.earth_lead }}", due: 2032-01-31'),
    withAction('what: "Shorten to {{ trial.limiting.line_lead }}", owner: site, due: 2032-01-31'),
  );
  expect(notes[0]!.blocks.map(({ wording }) => wording)).toEqual([
    [
      {
        name: 'action',
        before: 'Shorten to {{ trial.limiting.earth_lead }}',
        after: 'Shorten to {{ trial.limiting.line_lead }}',
      },
      { name: 'owner of the action', before: undefined, after: 'site' },
    ],
  ]);
});

test('assumptions, holds and references by their ids', () => {
  const registers = (state: string, hold: string) => `\`\`\`yaml assumptions
- { id: A1, text: It is dry., state: ${state}, owner: nobody, due: 2030-01-01 }
\`\`\`

\`\`\`yaml holds
- { id: ${hold}, missing: the survey, effect: on all, state: open, owner: nobody, due: 2030-01-01 }
\`\`\`

\`\`\`yaml references
- { id: R1, title: Survey, edition: "${state}" }
\`\`\`
`;
  const { notes } = compareTexts(
    registers('to be confirmed', 'H1'),
    registers('confirmed', 'H2').replace('owner: nobody, due: 2030-01-01', 'closed_by: a letter'),
  );
  const [note] = notes;
  expect(note!.assumptions).toMatchObject([{ id: 'A1', state: 'changed' }]);
  expect(note!.assumptions[0]!.facts).toContainEqual({
    name: 'state',
    before: 'to be confirmed',
    after: 'confirmed',
  });
  expect(note!.holds.map(({ id, state }) => [id, state])).toEqual([
    ['H2', 'added'],
    ['H1', 'removed'],
  ]);
  expect(note!.references[0]!.facts).toEqual([
    { name: 'edition', before: 'to be confirmed', after: 'confirmed' },
  ]);
});

describe('the text', () => {
  test('by paragraph under its heading; breaking lines anew changes nothing', () => {
    const { notes } = compareTexts(
      `## One\n\nFirst line\nof a paragraph.\n\n${arrester()}\n## Two\n\n- a\n- b\n`,
      `## One\n\nFirst line of\na paragraph.\n\n${arrester()}\n## Two\n\n- a\n- c\n`,
    );
    expect(notes[0]!.text).toEqual([
      { section: 'Two', state: 'removed', text: '- b' },
      { section: 'Two', state: 'added', text: '- c' },
    ]);
  });

  test('what stands in a block is not text, but its place is', () => {
    const [one, two] = [arrester({}, 'one'), arrester({ line_lead: '1 m' }, 'two')];
    const { notes } = compareTexts(`Words.\n\n${one}\n${two}`, `${two}\nWords.\n\n${one}`);
    expect(notes[0]!.blocks).toEqual([]);
    expect(notes[0]!.text.map(({ text }) => text)).toEqual(['[calculation two]', '[calculation two]']);
  });

  test('front matter', () => {
    const { notes } = compareTexts(
      `${FRONT_MATTER}\nWords.\n`,
      `${FRONT_MATTER.replace('revision: A', 'revision: B')}\nWords.\n`,
    );
    expect(notes[0]!.text).toEqual([
      { section: 'front matter', state: 'removed', text: 'revision: A' },
      { section: 'front matter', state: 'added', text: 'revision: B' },
    ]);
  });
});

test('project.yaml, images, and notes that are renamed, added or removed', () => {
  const second = (number: string) =>
    `${FRONT_MATTER.replace('number: "1"', `number: "${number}"`)}\nWords.\n`;
  const { project, notes } = compare(
    {
      notes: { '001.md': arrester(), '002.md': second('2'), '003.md': second('3') },
      images: { 'a.png': 'x' },
    },
    {
      notes: { '001.md': arrester(), '002-b.md': second('2'), '004.md': second('4') },
      project: `${PROJECT.replace('75 kV peak', '95 kV peak').replace('site: Nowhere', 'site: Somewhere')}
time_stamps: { server: "https://stamps.example/tsa", policy: 1.3.6.1 }
revocation: fetch
`,
      images: { 'a.png': 'y' },
    },
  );
  expect(project).toEqual([
    { name: 'site', before: 'Nowhere', after: 'Somewhere' },
    { name: 'time_stamps.server', after: 'https://stamps.example/tsa' },
    { name: 'time_stamps.policy', after: '1.3.6.1' },
    { name: 'revocation', after: 'fetch' },
    { name: 'equipment.TX1.withstand', before: '75 kV peak', after: '95 kV peak' },
  ]);
  expect(notes.map(({ path, state, renamedFrom }) => [path, state, renamedFrom])).toEqual([
    ['001.md', 'changed', undefined],
    ['002-b.md', 'changed', '002.md'],
    ['004.md', 'added', undefined],
    ['003.md', 'removed', undefined],
  ]);
  expect(notes[0]!.images).toEqual([{ name: 'a.png', before: 'x', after: 'y' }]);
});

describe('for people', () => {
  const comparison = compareTexts(
    `${arrester()}\nA | B \`\`\`\` *c*\n`,
    `${arrester({ line_lead: '0.5 m', earth_lead: '1 m' })}\nA | B \`\`\`\` *d*\n`,
  );

  test('in the terminal one sentence, then what was written, then the verdicts that turned and what else follows', () => {
    const lines = wordComparison(comparison, NAMES).split('\n');
    // (75/48)/1.15 - 1 = 35.9 %.
    expect(lines.slice(0, 4)).toEqual([
      'old -> new',
      '2 givens changed; 2 other changes of what is written; 1 verdict changed; 0 blocks follow; smallest margin of what is required now 35.9 % (1 trial.withstand_margin)',
      '',
      '001.md: trial (arrester-connection: Connection of a surge arrester)',
    ]);
    const placeOf = (line: string | RegExp) =>
      lines.findIndex((one) => (typeof line === 'string' ? one === line : line.test(one)));
    const order = [
      '    line_lead: 1.8 m -> 0.5 m (-72.2 %)',
      '    + A | B ```` *d*',
      'Verdicts that changed',
      /^ {2}trial\.withstand_margin \(.*\): does not comply -> complies$/,
      '    terminal_voltage: 126 kV -> 48 kV (-61.9 %)',
    ].map(placeOf);
    expect(order).not.toContain(-1);
    expect(order).toEqual([...order].sort((x, y) => x - y));
  });

  test('in markdown a table keeps its columns and a patch its fence', () => {
    const text = markdownComparison(comparison, NAMES);
    expect(text).toContain('| line\\_lead | 1.8 m | 0.5 m | -72.2 % |');
    expect(text).toContain('`````diff\n');
    for (const line of text.split('\n').filter((row) => row.startsWith('|'))) {
      expect(line.replace(/\\\|/g, '').match(/\|/g)).toHaveLength(5);
    }
  });

  test('control characters do not reach the terminal', () => {
    const hostile = { ...comparison, project: [{ name: 'title', after: 'a\u001b[2Jb' }] };
    expect(wordComparison(hostile, NAMES)).toContain('+ title: a\uFFFD[2Jb');
  });
});

describe('what was written, and what follows', () => {
  const reference = (given: Readonly<Record<string, string>>, length: string) => `${calcBlock(
    'survey',
    'conductor-inductance',
    { shape: 'round-wire', length, diameter: '8 mm' },
  )}
${arrester({ line_lead: '!ref survey.length', earth_lead: '!formula "{survey.length} * 2"', ...given })}`;

  test('a given that follows a reference or a formula is not called edited', () => {
    const { notes, summary } = compareTexts(reference({}, '1.1 m'), reference({}, '1.3 m'));
    const [survey, trial] = notes[0]!.blocks;
    expect(survey!.given).toEqual([expect.not.objectContaining({ follows: expect.anything() })]);
    expect(trial!.given.map(({ name, before, after, follows }) => [name, before, after, follows])).toEqual([
      ['line_lead', '1.1 m', '1.3 m', 'survey.length'],
      ['earth_lead', '2.2 m', '2.6 m', '{survey.length} * 2'],
    ]);
    expect(trial!.wording).toEqual([]);
    expect(summary).toMatchObject({ givens: 1, following: 1, turned: 0, others: 0 });
  });

  test('another reference is what somebody wrote, though it leads to the same value or another', () => {
    const { notes, summary } = compareTexts(
      reference({}, '1.1 m'),
      reference({ earth_lead: '!formula "{survey.length} * 3"' }, '1.1 m'),
    );
    expect(notes[0]!.blocks).toHaveLength(1);
    expect(notes[0]!.blocks[0]!.given).toEqual([
      { name: 'earth_lead', before: '2.2 m', after: '3.3 m', percent: 50 },
    ]);
    expect(summary).toMatchObject({ givens: 1, following: 0 });
  });

  test('an edited given says which variants inherit it, and these follow', () => {
    const variants = (lead: string) => `${arrester({ earth_lead: lead })}
\`\`\`yaml calc
id: nearer
based_on: trial
given:
  line_lead: 0.7 m
\`\`\`

\`\`\`yaml calc
id: own-earth
based_on: trial
given:
  earth_lead: 0.9 m
\`\`\`
`;
    const comparison = compareTexts(variants('7.5 m'), variants('6.5 m'));
    const { notes, summary } = comparison;
    expect(notes[0]!.blocks.map(({ id }) => id)).toEqual(['trial', 'nearer']);
    expect(notes[0]!.blocks[0]!.given).toEqual([expect.objectContaining({ inheritedBy: ['nearer'] })]);
    expect(notes[0]!.blocks[1]!.given).toEqual([]);
    expect(summary).toMatchObject({ givens: 1, following: 1 });
    expect(wordComparison(comparison, NAMES)).toContain(
      '    earth_lead (inherited by nearer): 7.5 m -> 6.5 m (-13.3 %)\n',
    );
  });

  test('a value of the register that changed is counted as that, and what takes it follows', () => {
    const note = arrester({ impulse_withstand: '!ref equipment.TX1.withstand' });
    const { notes, summary } = compare(
      { notes: { '001.md': note } },
      { project: PROJECT.replace('75 kV peak', '85 kV peak'), notes: { '001.md': note } },
    );
    expect(notes[0]!.blocks[0]!.given).toEqual([
      expect.objectContaining({ name: 'impulse_withstand', follows: 'equipment.TX1.withstand' }),
    ]);
    expect(summary).toMatchObject({ givens: 0, register: 1, following: 1 });
  });

  test('the smallest margin is that of what the notes stand for and propose', () => {
    const inCase = (id: string, lead: string, ofCase: string) =>
      arrester({ line_lead: lead, earth_lead: '1 m' }, id).replace('given:', `case: ${ofCase}\ngiven:`);
    const text = (lead: string) =>
      `${inCase('found', '9 m', 'as-found')}${inCase('plan', lead, 'proposed')}${inCase('other', '8 m', 'alternative')}`;
    const { summary } = compareTexts(text('0.9 m'), text('1.2 m'));
    // 33 kV + 2.2 m * 10 kV/m = 55 kV; 75/55/1.15 - 1 = 18.58 %.
    expect(summary.least).toMatchObject({ note: '1', block: 'plan', check: 'withstand_margin' });
    expect(summary.least!.margin).toBeCloseTo(75 / 55 / 1.15 - 1, 9);
  });
});

test('how a numerical method went is told only to those who ask', () => {
  const simulated = (distance: string) =>
    calcBlock('bay', 'surge-at-terminals', {
      arrangement: 'common-earth',
      line_lead: '0.6 m',
      earth_lead: '3 m',
      bond_position: '0.4 m',
      residual_voltage: '33 kV',
      residual_current: '10 kA',
      exponent: '30',
      surge_peak: '400 kV',
      surge_steepness: '200 kV/us',
      line_impedance: '400 ohm',
      distance,
      transformer_capacitance: '1 nF',
      impulse_withstand: '75 kV',
    });
  const comparison = compareTexts(simulated('5 m'), simulated('7 m'));
  const kept = comparison.notes[0]!.blocks[0]!.results.filter(({ bookkeeping }) => bookkeeping);
  expect(kept.map(({ name }) => name)).toEqual(['time_step', 'energy_imbalance']);
  expect(wordComparison(comparison, NAMES)).toContain('peak_terminal_voltage: ');
  for (const word of [wordComparison, markdownComparison]) {
    expect(word(comparison, NAMES)).not.toMatch(/energy\\?_imbalance/);
    expect(word(comparison, NAMES, { bookkeeping: true })).toMatch(/energy\\?_imbalance/);
  }
});
