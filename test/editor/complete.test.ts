import { describe, expect, test } from 'vitest';
import { complete } from '../../src/editor/complete/complete.ts';
import { USUAL_UNITS, unitsLike } from '../../src/editor/complete/units.ts';
import { CALCULATIONS } from '../../src/engine/calculations/registry.ts';
import { readUnit } from '../../src/quantity/unit.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';
import { readingOf, unmark } from './reading-of.ts';

const PEOPLE = `people:
  brandreth: { name: Ilse Brandreth }
`;
const TABLE = 'board;lead a [m];Up [kV]\nDB-01;0.4;1.5\nDB-02;0.6;1.5\n';
const OTHER = `${FRONT_MATTER}
\`\`\`yaml calc
id: survey
calculation: arrester-connection
given:
  line_lead: 1 m
\`\`\`
`;
const TX1 = `\`\`\`yaml calc
id: tx1
calculation: arrester-connection
given:
  arrangement: common-earth
  residual_voltage: 33 kV peak
  line_lead: 1.8 m
\`\`\`
`;

/** What is offered at the bar of a note, in this order. */
function offersIn(marked: string): string[] {
  const { text, offset } = unmark(`${FRONT_MATTER}\n${marked}`);
  const files = {
    'project.yaml': PROJECT + PEOPLE,
    '1-a.md': text,
    '201-b.md': OTHER,
    'data/boards.csv': TABLE,
  };
  return complete(readingOf(files), '1-a.md', offset).map(({ label }) => label);
}

/** The text as it is when an offer was taken. */
function take(marked: string, label: string): string {
  const { text, offset } = unmark(`${FRONT_MATTER}\n${marked}`);
  const files = {
    'project.yaml': PROJECT + PEOPLE,
    '1-a.md': text,
    '201-b.md': OTHER,
    'data/boards.csv': TABLE,
  };
  const offer = complete(readingOf(files), '1-a.md', offset).find((one) => one.label === label)!;
  const taken = text.slice(0, offer.start) + (offer.insert ?? label) + text.slice(offer.end);
  return taken.slice(FRONT_MATTER.length + 1);
}

const calc = (content: string): string => `\`\`\`yaml calc\n${content}\n\`\`\`\n`;

describe('kinds and keys', () => {
  test('of blocks behind an opening fence, closed or not', () => {
    expect(offersIn('```ya|')).toContain('yaml calc');
    expect(offersIn('```|\n\n## More')).toContain('yaml schedule');
    expect(take('```yaml ca|', 'yaml calc')).toBe('```yaml calc');
    expect(offersIn('words|')).toEqual([]);
  });

  test('of a block, those first that must stand there, and none twice', () => {
    expect(offersIn(calc('|')).slice(0, 2)).toEqual(['id', 'calculation']);
    const offers = offersIn(calc('id: a\ncalculation: arrester-connection\n|\ngiven:\n  line_lead: 1 m'));
    expect(offers).not.toContain('given');
    expect(offers).toContain('based_on');
  });

  test('of a value in braces, an acceptance, an action and an item', () => {
    expect(offersIn(calc('calculation: arrester-connection\ngiven:\n  line_lead: { value: 1 m, |}'))).toEqual(
      ['source', 'range', 'plus_minus'],
    );
    expect(offersIn(calc('accept:\n  - |'))).toEqual(['caution', 'by', 'reason']);
    expect(offersIn(calc('action: { w|'))).toContain('what');
    expect(offersIn('```yaml holds\n- id: H1\n  |\n```\n').slice(0, 2)).toEqual(['missing', 'effect']);
  });

  test('of the block that is not closed yet', () => {
    expect(
      offersIn(
        `\`\`\`yaml calc\nid: a\ncalculation: arrester-connection\ngiven:\n  line|\n\n## More\n\n${TX1}`,
      ),
    ).toContain('line_lead');
  });

  test('are written with what belongs behind them', () => {
    expect(take(calc('calculation: arrester-connection\ngiven:\n  line|'), 'line_lead')).toContain(
      '\n  line_lead: \n',
    );
    expect(take(calc('giv|'), 'given')).toBe(calc('given:'));
    expect(take(calc('giv|en: 1'), 'given')).toBe(calc('given: 1'));
  });

  test('of the givens of a base, and of rows', () => {
    expect(offersIn(`${TX1}\n${calc('id: b\nbased_on: tx1\ngiven:\n  |')}`)).toContain('earth_lead');
    const givens = Object.entries(CALCULATIONS.get('surge-network')!.definition.givens);
    const [name, table] = givens.find(([, given]) => given.type === 'rows')!;
    const offers = offersIn(calc(`calculation: surge-network\ngiven:\n  ${name}:\n    - { |`));
    expect(offers.sort()).toEqual(Object.keys(table.type === 'rows' ? table.columns : {}).sort());
  });

  test('of front matter', () => {
    const { text, offset } = unmark('---\nnumber: "1"\nti|\n---\n');
    const offers = complete(readingOf({ 'project.yaml': PROJECT, '1-a.md': text }), '1-a.md', offset);
    expect(offers.map(({ label }) => label).slice(0, 2)).toEqual(['title', 'revision']);
  });

  test('of project.yaml and its register', () => {
    const at = (marked: string): string[] => {
      const { text, offset } = unmark(marked);
      return complete(readingOf({ 'project.yaml': text }), 'project.yaml', offset).map(({ label }) => label);
    };
    expect(at('title: T\n|').slice(0, 2)).toEqual(['client', 'site']);
    expect(at('people:\n  tallis: { na|')).toContain('name');
    expect(at('equipment:\n  TX1:\n    |')).toContain('residual_voltage');
    expect(at('equipment:\n  TX1:\n    residual_voltage: 33 |')).toContain('kV');
    expect(at('equipment:\n  TX1:\n    residual_voltage: { value: 33 k| }')).toContain('kV');
  });
});

describe('values', () => {
  const given = (line: string): string => calc(`id: a\ncalculation: arrester-connection\ngiven:\n  ${line}`);

  test('calculations, options, cases', () => {
    expect(offersIn(calc('calculation: |')).length).toBe(CALCULATIONS.size);
    expect(offersIn(given('arrangement: |'))).toEqual(expect.arrayContaining(['common-earth', '!ref']));
    expect(offersIn(calc('case: p|'))).toEqual(['as-found', 'proposed', 'alternative', 'auxiliary']);
  });

  test("units that fit, the given's own first, and the kind of a voltage", () => {
    expect(offersIn(given('line_lead: 1.8 |')).slice(0, 2)).toEqual(['m', 'mm']);
    expect(offersIn(given('steepness: 10 k|'))).toEqual(expect.arrayContaining(['kA/us']));
    expect(offersIn(given('line_lead: 1.8 |'))).not.toContain('kV');
    expect(take(given('line_lead: 1.8|'), 'mm')).toContain('line_lead: 1.8 mm\n');
    expect(take(given('line_lead: 1.8 k| # tape'), 'cm')).toContain('line_lead: 1.8 cm # tape\n');
    expect(offersIn(given('residual_voltage: 33 kV |'))).toContain('peak');
    expect(offersIn(given('line_lead: { value: 1.8 |, source: x }'))).toContain('ft');
  });

  test('references of the dimension that is needed, first blocks, then their values', () => {
    const line = (target: string): string => `${TX1}\n${given(`line_lead: !ref ${target}`)}`;
    expect(offersIn(line('|'))).toEqual(expect.arrayContaining(['tx1', '201/']));
    expect(offersIn(line('|'))).not.toContain('a');
    expect(offersIn(line('|'))).not.toContain('equipment.TX1.withstand');
    const names = offersIn(line('tx1.|'));
    expect(names).toContain('earth_lead');
    expect(names).not.toContain('terminal_voltage');
    expect(offersIn(line('201/|'))).toEqual(['201/survey']);
    expect(take(line('201/survey.l|'), 'line_lead')).toContain('line_lead: !ref 201/survey.line_lead\n');
    expect(offersIn(`${TX1}\n${given('impulse_withstand: !ref |')}`)).toContain('equipment.TX1.withstand');
    expect(offersIn(`${TX1}\n${given('line_lead: !formula "{tx1.|} + 1 m"')}`)).toContain('line_lead');
  });

  test('in double braces, in the prose and in an action', () => {
    expect(offersIn(`${TX1}\nThe lead of {{ | }}`)).toEqual(
      expect.arrayContaining(['tx1', 'equipment.TX1.withstand']),
    );
    expect(offersIn(`${TX1}\nThe lead of {{ tx1.|`)).toEqual(
      expect.arrayContaining(['terminal_voltage', 'withstand_margin', 'limiting.line_lead']),
    );
    expect(offersIn(`${TX1}\n${calc('action:\n  what: "Shorten to {{ tx1.limiting.| }}"')}`)).toContain(
      'limiting.line_lead',
    );
    expect(offersIn(`${TX1}\n\`{{ tx1\`\n\n~~~text\n{{ tx1.|\n~~~\n`)).toEqual([]);
  });

  test('ids of bases and of compared blocks, items of the register, people', () => {
    expect(offersIn(`${TX1}\n${calc('id: b\nbased_on: |')}`)).toEqual(['tx1']);
    expect(offersIn(`${TX1}\n\`\`\`yaml comparison\nof: [tx1, |]\n\`\`\`\n`)).toContain('tx1');
    expect(offersIn(calc('calculation: arrester-connection\ngivens_from: [|]'))).toContain('equipment.TX1');
    expect(offersIn(calc('calculation: arrester-connection\naccept: [{ caution: x, by: | }]'))).toEqual([
      'Ilse Brandreth',
    ]);
  });

  test('columns of the table of a schedule', () => {
    const schedule = (line: string): string =>
      `\`\`\`yaml schedule\nid: boards\ncalculation: spd-effective-protection-level\nrows: data/boards.csv\n${line}\n\`\`\`\n`;
    expect(offersIn(schedule('row_id: |'))).toEqual(['board', 'lead a [m]', 'Up [kV]']);
    expect(offersIn(schedule('columns:\n  lead_a: |'))).toContain('lead a [m]');
    expect(offersIn(schedule('columns:\n  |'))).toContain('protection_level');
    expect(offersIn(schedule('columns:\n  lead_a: { column: x, unit: | }'))).toContain('mm');
    expect(offersIn('```yaml schedule\nrows: |\n```\n')).toEqual(['data/boards.csv']);
  });
});

test('every unit that is offered is one', () => {
  expect(USUAL_UNITS.filter((unit) => !readUnit(unit).ok)).toEqual([]);
});

test('the unit of every given of the catalogue is offered for it', () => {
  const without = [...CALCULATIONS.values()].flatMap(({ definition }) =>
    Object.values(definition.givens).flatMap((given) =>
      'unit' in given && given.unit !== '1' && unitsLike(given.unit)[0] !== given.unit ? [given.unit] : [],
    ),
  );
  expect(without).toEqual([]);
});
