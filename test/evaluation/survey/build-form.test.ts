import { describe, expect, test } from 'vitest';
import { Collector } from '../../../src/diagnostics/collector.ts';
import { CALCULATIONS } from '../../../src/engine/calculations/registry.ts';
import { buildForm, type FormOptions, type KnownTable } from '../../../src/evaluation/survey/build-form.ts';
import { rewriteNumber } from '../../../src/evaluation/survey/rewrite-number.ts';
import { writeTemplate } from '../../../src/evaluation/survey/write-template.ts';
import { readCsv } from '../../../src/source/csv/read-csv.ts';
import { readNote } from '../../../src/source/read-note.ts';
import { readProject } from '../../../src/source/read-project.ts';
import { FRONT_MATTER } from '../../support/write-project.ts';

const BOARDS = `id: boards
calculation: spd-effective-protection-level
title: SPDs of the boards
rows: data/boards.csv
row_id: board
group_by: building
columns:
  protection_level: { column: Up, unit: kV }
  lead_a: lead a
  circuit_length: cable
  wiring: wiring
given: { spd_type: limiting, steepness: 1 kA/us, lead_b: 0 m, lead_c: 0.2 m }`;

interface Trial {
  readonly schedule?: string;
  readonly text?: string;
  readonly blocks?: string;
  readonly project?: string;
  readonly options?: Partial<FormOptions>;
}

function formOf({ schedule = BOARDS, text, blocks = '', project = '', options = {} }: Trial) {
  const collector = new Collector();
  const source = `${FRONT_MATTER}\n## Trial\n${blocks}\n\`\`\`yaml schedule\n${schedule}\n\`\`\`\n`;
  const note = readNote('1.md', source, collector)!;
  const read = readProject('project.yaml', `title: T\nclient: C\nsite: S\n${project}`, collector)!;
  const table = text === undefined ? undefined : tableOf(text, collector);
  expect(collector.list().filter(({ severity }) => severity === 'error')).toEqual([]);
  return buildForm(note.schedules[0]!, note, read, table, { values: 'known', blankRows: 0, ...options })!;
}

function tableOf(text: string, collector = new Collector()): KnownTable {
  const { header, rows, separator } = readCsv('data/boards.csv', text, collector)!;
  return {
    header: header.map((cell) => cell.text),
    rows: rows.map(({ cells }) => cells.map((cell) => cell.text)),
    separator,
  };
}

const TABLE = [
  'board;floor;building;Up;lead a [cm];cable;wiring',
  'DB-01;2;House A;1,5;35;12 m;branch',
  'DB-02;;House B;;;;branch',
  '',
].join('\r\n');

describe('the form of a schedule', () => {
  test('has the columns of the table, with the units in which they are read, and what is known', () => {
    const { columns, rows, title, separator } = formOf({ text: TABLE, options: { blankRows: 2 } });
    expect(title).toBe('SPDs of the boards');
    expect(separator).toBe(';');
    expect(columns.map(({ head, kind }) => `${kind}: ${head}`)).toEqual([
      'id: board',
      'other: floor',
      'group: building',
      'given: Up [kV]',
      'given: lead a [cm]',
      'given: cable',
      'given: wiring',
    ]);
    const asked = columns.flatMap(({ asks }) => asks);
    expect(asked.map(({ mark, name, unit }) => [mark, name, unit])).toEqual([
      ['(1)', 'protection_level', 'kV'],
      ['(2)', 'lead_a', 'cm'],
      ['(3)', 'circuit_length', ''],
      ['(4)', 'wiring', ''],
    ]);
    expect(asked[2]!.ownUnits).toBe(true);
    expect(asked[3]!.options.map(({ option }) => option)).toEqual(['branch', 'through-line', 'through-both']);
    expect(rows).toEqual([
      ['DB-01', '2', 'House A', '1,5', '35', '12 m', 'branch'],
      ['DB-02', '', 'House B', '', '', '', 'branch'],
      ['', '', '', '', '', '', ''],
      ['', '', '', '', '', '', ''],
    ]);
  });

  test('without values has the names of the rows, and what stands beside them', () => {
    const { rows } = formOf({ text: TABLE, options: { values: 'none' } });
    expect(rows).toEqual([
      ['DB-01', '2', 'House A', '', '', '', ''],
      ['DB-02', '', 'House B', '', '', '', ''],
    ]);
  });

  test('before there is a table has the columns that the schedule names, in the units of the calculation', () => {
    const { columns, rows, separator } = formOf({});
    expect(columns.map(({ head }) => head)).toEqual([
      'board',
      'building',
      'Up [kV]',
      'lead a [m]',
      'cable [m]',
      'wiring',
    ]);
    expect(rows).toEqual([]);
    expect(separator).toBe(',');
  });

  test('of a schedule on a base, and of own formulas', () => {
    const base = `\n\`\`\`yaml calc\nid: first\ncalculation: arrester-connection\ngiven: { arrangement: common-earth, line_lead: 1 m, earth_lead: 2 m, residual_voltage: 33 kV, steepness: 10 kA/us }\n\`\`\`\n`;
    const schedule = 'id: rows\nbased_on: first\nrows: a.csv\ncolumns: { earth_lead: earth }';
    const form = formOf({ schedule, blocks: base });
    expect(form.columns.map(({ head }) => head)).toEqual(['earth [m]']);
    expect(form.title).toBe('Connection of a surge arrester');
    expect(form.sketch!.view.choice('arrangement')).toBe('common-earth');
    const own = `\n\`\`\`yaml formula\nid: first\ntitle: Drop\ngiven:\n  lead: { value: 1 m, symbol: l, meaning: length of the lead, unit: m }\nsteps:\n  drop: { formula: "lead * 1 kV/m", symbol: U, meaning: drop, unit: kV, source: common practice }\n\`\`\`\n`;
    const onOwn = formOf({ schedule: schedule.replace('earth_lead: earth', 'lead: lead'), blocks: own });
    expect(onOwn.columns[0]).toMatchObject({
      head: 'lead [m]',
      asks: [{ meaning: 'length of the lead', symbol: 'l' }],
    });
    expect(onOwn.sketch).toBeUndefined();
  });
});

describe('the sketch of a form', () => {
  const draw = (trial: Trial): string => {
    const { sketch } = formOf(trial);
    return sketch!.draw(sketch!.view);
  };

  test('bears the marks of the columns that the form has, and no others', () => {
    const text = draw({ text: TABLE });
    expect(text).toContain('(2)');
    expect(text).toContain('(3) length of the circuit');
    expect(text).not.toMatch(/\(5\)|disconnector/);
    // The protection level is read from the device.
    expect(text).toContain('(1)');
  });

  test('shows the wiring that all rows have: in the table, in common, from the register, by default', () => {
    const looped = TABLE.replaceAll('branch', 'through-line');
    expect(draw({ text: looped })).toContain('looped at the terminal');
    expect(draw({ text: TABLE.replace('branch', 'through-line') })).not.toContain('looped at the terminal');
    const common = BOARDS.replace('  wiring: wiring\n', '').replace(
      'given: {',
      'given: { wiring: through-line,',
    );
    expect(draw({ schedule: common })).toContain('looped at the terminal');
    const register = BOARDS.replace('  wiring: wiring\n', '').replace(
      'given:',
      'givens_from: [equipment.MB]\ngiven:',
    );
    const project = 'equipment: { MB: { wiring: through-both } }\n';
    expect(draw({ schedule: register, project })).toContain('does not count');
    expect(draw({ schedule: register, project: 'equipment: { MB: { lead_d: 1 m } }\n' })).not.toContain(
      'looped',
    );
  });

  test.each(
    [...CALCULATIONS].flatMap(([name, { definition }]) =>
      definition.sketch ? [[name, definition] as const] : [],
    ),
  )('%s: every length to be measured is marked in it, where all are asked for', (_, { sketch, givens }) => {
    const names = Object.keys(sketch!.measures);
    const marks = new Map(names.map((name, i) => [name, `(${i + 1})`]));
    const svg = sketch!.draw({ mark: (name) => marks.get(name), choice: () => undefined });
    const unit = (name: string) => (givens[name] as { unit?: string }).unit;
    const lengths = names.filter((name) => unit(name) === 'm');
    expect(lengths.length).toBeGreaterThanOrEqual(5);
    for (const name of lengths) expect(svg, name).toContain(marks.get(name));
    const bare = sketch!.draw({ mark: () => undefined, choice: () => undefined });
    expect(bare).not.toMatch(/\(\d\)/);
  });
});

describe('the template', () => {
  test('is read as the table is: the same columns and rows, and beside them what people note', () => {
    const written = writeTemplate(formOf({ text: TABLE, options: { blankRows: 3 } }));
    expect(written).toBe(
      'board;floor;building;Up [kV];lead a [cm];cable;wiring;photos;notes;surveyor;surveyed on\r\n' +
        'DB-01;2;House A;1,5;35;12 m;branch;;;;\r\n' +
        'DB-02;;House B;;;;branch;;;;\r\n',
    );
    const again = tableOf(written);
    expect(again.rows.map((row) => row.slice(0, 7))).toEqual(tableOf(TABLE).rows);
    // Once more from itself, it stays as it is.
    expect(writeTemplate(formOf({ text: written }))).toBe(written);
  });

  test('with other separators the numbers are the same', () => {
    const commas = writeTemplate(formOf({ text: TABLE, options: { separator: ',' } }));
    expect(commas).toContain('DB-01,2,House A,1.5,35,12 m,branch');
    const tabs = writeTemplate(formOf({ text: commas, options: { separator: '\t' } }));
    expect(tabs).toContain('DB-01\t2\tHouse A\t1.5\t35\t12 m\tbranch');
  });

  test.each([
    ['1,25', ';', ',', '1.25'],
    ['−1,25 m', ';', ',', '−1.25 m'],
    ['1,25', ';', '\t', '1,25'],
    ['1,250', ';', ';', '1,250'],
    // Where commas do not separate, three decimals could be taken for thousands.
    ['1.250', ',', ';', '1.2500'],
    ['1.2505', ',', ';', '1.2505'],
    ['branch', ';', ',', 'branch'],
    ['12', ';', ',', '12'],
  ] as const)('%s from a table of %j to one of %j is %s', (cell, from, to, expected) => {
    expect(rewriteNumber(cell, from, to)).toBe(expected);
  });
});
