import { describe, expect, test } from 'vitest';
import type { ScheduleRow } from '../../../src/evaluation/schedule/evaluated-schedule.ts';
import { governingCheck, orderRows, outcomeOf } from '../../../src/evaluation/schedule/order-rows.ts';
import { errorsOf, HEADER, open, SCHEDULE, scheduleOf } from './survey.ts';

/** A small generator of its own, so that the rows are the same everywhere. */
function numbers(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    return state / 2_147_483_648;
  };
}

const next = numbers(41);
const SURVEYED = Array.from({ length: 40 }, (_, i) => ({
  id: `DB-${i + 1}`,
  building: 'ABC'[i % 3]!,
  leads: [0.02 + next() * 0.4, next() * 0.1, 0.02 + next() * 0.3].map((one) => Number(one.toFixed(3))),
  up: Number((0.9 + next()).toFixed(2)),
  uw: [1.5, 2.5, 4][i % 3]!,
}));
const CSV = [
  HEADER,
  ...SURVEYED.map(({ id, building, leads, up, uw }) =>
    [id, building, ...leads, up, uw].join(';').replaceAll('.', ','),
  ),
].join('\r\n');

function numberOf(row: ScheduleRow, name: string): number {
  const result = row.results[name];
  if (result?.type !== 'number') throw new Error(`${name} is no number`);
  return result.si;
}

describe('rows against an independent calculation', () => {
  const schedule = scheduleOf({ csv: CSV });

  // IEC 62305-4:2010, Annex C: U_p/f = U_p + delta U, the drop 1 kV per metre of lead (1 uH/m at 1 kA/us).
  test('the effective level is the level of the device and 1 kV for each metre of lead', () => {
    for (const [i, { leads, up }] of SURVEYED.entries()) {
      const expected = up * 1000 + leads.reduce((sum, one) => sum + one, 0) * 1000;
      expect(numberOf(schedule.rows[i]!, 'effective_protection_level')).toBeCloseTo(expected, 6);
    }
  });

  // The same annex: up to 10 m of circuit the level must not exceed 80 % of the withstand voltage; IEC 60364-5-53: leads of 0.5 m at most.
  test('verdicts', () => {
    for (const [i, { leads, up, uw }] of SURVEYED.entries()) {
      const length = leads.reduce((sum, one) => sum + one, 0);
      const checks = new Map(schedule.rows[i]!.checks.map((check) => [check.name, check.verdict]));
      expect(checks.get('lead_length_rule')).toBe(length <= 0.5 ? 'complies' : 'does-not-comply');
      expect(checks.get('equipment_protection')).toBe(
        up + length <= 0.8 * uw ? 'complies' : 'does-not-comply',
      );
    }
    const outcomes = schedule.rows.map((row) => outcomeOf(governingCheck(row)!));
    expect(new Set(outcomes)).toEqual(new Set(['met', 'unmet']));
  });

  test('what is said of the file', () => {
    expect(schedule.file).toEqual({ path: 'data/boards.csv', separator: ';', decimalCommas: true });
    expect(schedule.groups).toEqual(['A', 'B', 'C']);
    expect(schedule.rows[1]).toMatchObject({ row: 3, id: 'DB-2', group: 'B' });
  });

  test('a row is what the same values are in a block', () => {
    const blocks = SURVEYED.slice(0, 6).map(
      ({ leads: [a, b, c], up, uw }, i) => `\`\`\`yaml calc
id: block-${i}
calculation: spd-effective-protection-level
given:
  spd_type: limiting
  circuit_length: 8 m
  lead_a: ${a} m
  lead_b: ${b} m
  lead_c: ${c} m
  protection_level: ${up} kV
  impulse_withstand: ${uw} kV
\`\`\``,
    );
    const state = open({ csv: CSV, more: blocks.join('\n\n') }).state();
    const [written] = state.notes;
    expect(errorsOf(state)).toEqual([]);
    for (const [i, { evaluated }] of written!.blocks.entries()) {
      const row = written!.schedules[0]!.rows[i]!;
      expect(evaluated.checks).toMatchObject(row.checks);
      expect(row.limiting).toEqual(evaluated.limiting);
      expect(row.cautions).toEqual(evaluated.cautions);
      expect(Object.keys(row.results)).toEqual(evaluated.steps.map(({ name }) => name));
    }
  });

  test('what fails comes first, then what cannot be judged, each from the least margin; the worst is set out', () => {
    const ordered = orderRows(schedule.rows);
    const margins = ordered.map((row) => governingCheck(row)!.margin!.value);
    const outcomes = ordered.map((row) => outcomeOf(governingCheck(row)!));
    expect(outcomes).toEqual([...outcomes].sort().reverse());
    expect(margins).toEqual([...margins].sort((a, b) => a - b));
    expect(schedule.inFull.map(({ id }) => id)).toEqual([`boards/${ordered[0]!.id}`]);
    expect(schedule.inFull[0]!.evaluated.givens.find(({ name }) => name === 'lead_a')?.source).toBe(
      `boards.csv, ${ordered[0]!.id}`,
    );
  });
});

describe('what is not given', () => {
  test('a cell that only a check needs leaves that unjudged, after what fails', () => {
    const csv = `${HEADER}\nA;X;0.1;0;0.1;1.2;\nB;X;0.1;0;0.1;1.2;4\nC;X;0.9;0;0.1;1.2;4\n`;
    const { rows } = scheduleOf({ csv });
    const check = rows[0]!.checks.find(({ name }) => name === 'equipment_protection');
    expect(check).toMatchObject({ verdict: 'cannot-be-judged', missing: ['impulse_withstand'] });
    expect(orderRows(rows).map(({ id }) => id)).toEqual(['C', 'A', 'B']);
  });

  test('a cell that a step needs is an error there', () => {
    const csv = `${HEADER}\nA;X;0.1;0;0.1;;2.5\nB;X;;0;0.1;1.2;2.5\n`;
    expect(errorsOf(open({ csv }).state())).toEqual([
      'missing-cell data/boards.csv:2:15',
      'missing-cell data/boards.csv:3:5',
    ]);
  });
});

describe('faults, all in one run, each where it stands', () => {
  const wrong = (csv: string, schedule?: string) =>
    errorsOf(open({ csv, ...(schedule ? { schedule } : {}) }).state());

  test('cells', () => {
    const csv = [
      HEADER,
      'A;X;none;0;0.1;1.2;2.5',
      'A;X;0.1;0 kV;0.1;1.2;2.5',
      ';X;0.1;0;0.1;1.2;2.5',
      'worst;X;0.1;0;0.1;1.2;2.5',
      'D;X;0.1;0;10 cm;1.2;2.5',
      'E;X;-0.1;0;0.1;1 234;2.5',
      '03.04;X;03.04;0;-0.1;1.2;002',
    ].join('\n');
    expect(wrong(csv)).toEqual([
      'not-a-quantity data/boards.csv:2:5',
      'doubled-row-id data/boards.csv:3:1',
      'unit-contradiction data/boards.csv:3:9',
      'row-without-id data/boards.csv:4:1',
      'row-id-reserved data/boards.csv:5:1',
      'unit-contradiction data/boards.csv:6:11',
      'outside-permitted data/boards.csv:7:5',
      'digit-grouping data/boards.csv:7:16',
      'day-like-number data/boards.csv:8:9',
      'outside-permitted data/boards.csv:8:17',
      'day-like-number data/boards.csv:8:26',
    ]);
  });

  test('of very many rows at fault the first ones, and that no more were looked at', () => {
    const rows = Array.from({ length: 600 }, (_, i) => `A${i};X;${i < 3 ? '0.1' : 'none'};0;0.1;1.2;2.5`);
    const told = wrong([HEADER, ...rows].join('\n'));
    expect(told).toHaveLength(501);
    expect(told.slice(0, 2)).toEqual([
      'not-a-quantity data/boards.csv:5:6',
      'not-a-quantity data/boards.csv:6:6',
    ]);
    // The header is the first line, and three rows are sound.
    expect(told.at(-1)).toBe('rows-not-examined data/boards.csv:505:1');
    expect(wrong([HEADER, ...rows.slice(0, 503)].join('\n'))).toHaveLength(500);
  });

  test('words and cases', () => {
    const schedule = SCHEDULE.replace('  spd_type: limiting\n', '')
      .replace('columns:', 'columns:\n  spd_type: type')
      .concat('\ncase: { column: state }');
    const csv = `${HEADER};type;state\nA;X;0.1;0;0.1;1.2;2.5;limitting;as-found\nB;X;0.1;0;0.1;1.2;2.5;limiting;found\nC;X;0.1;0;0.1;1.2;2.5;switching;\n`;
    expect(wrong(csv, schedule)).toEqual([
      'unknown-option data/boards.csv:2:23',
      'unknown-case data/boards.csv:3:32',
    ]);
    const sound = csv.replace('limitting', 'limiting').replace(';found', ';proposed');
    const { rows } = scheduleOf({ csv: sound, schedule });
    expect(rows.map((row) => row.case)).toEqual(['as-found', 'proposed', undefined]);
  });

  test('columns', () => {
    const csv = 'board;building;lead a;lead b [kV];lead c [m];Up [V];Uw\nA;X;0.1;0;0.1;1200;2500\n';
    const schedule =
      `${SCHEDULE.replace('lead_c: lead c', 'lead_c: { column: leed c }').replace('Up', '{ column: Up, unit: kV }')}\n`
        .replace('impulse_withstand: Uw', 'impulse_withstand: Uw\n  spd_type: building\n  no_such: Uw')
        .trim();
    expect(wrong(csv, schedule)).toEqual([
      'unknown-table-column 401-boards.md:21:21',
      'units-of-column 401-boards.md:22:41',
      'column-and-given 401-boards.md:24:3',
      'unknown-given 401-boards.md:25:3',
      'column-without-unit data/boards.csv:1:16',
      'wrong-dimension data/boards.csv:1:23',
      'column-without-unit data/boards.csv:1:53',
    ]);
  });

  test('what every row lacks is told once', () => {
    const schedule = SCHEDULE.replace('  spd_type: limiting\n', '');
    expect(wrong(CSV, schedule)).toEqual(['missing-given 401-boards.md:15:14']);
  });

  test('a fault of what all rows have in common is told once', () => {
    const schedule = SCHEDULE.replace('8 m', '8 kV');
    expect(wrong(CSV, schedule)).toEqual(['wrong-dimension 401-boards.md:26:19']);
  });

  test('a kind of voltage that does not fit is told at the unit, once', () => {
    const csv = CSV.replace('Up [kV]', 'Up [kV rms]');
    expect(wrong(csv)).toEqual(['wrong-voltage-kind data/boards.csv:1:49']);
  });

  test('a table that is not there, with the nearest name', () => {
    const session = open({ csv: CSV, schedule: SCHEDULE.replace('boards.csv', 'bords.csv') });
    const state = session.state();
    expect(errorsOf(state)).toEqual(['table-missing 401-boards.md:16:7']);
    expect(state.diagnostics[0]!.data).toMatchObject({ nearest: 'data/boards.csv' });
  });
});

describe('decimal signs', () => {
  const rows = (...cells: readonly string[]) =>
    `${HEADER}\n${cells.map((cell, i) => `R${i};X;${cell};0;0;1;2\n`).join('')}`;
  const leads = (csv: string) =>
    scheduleOf({ csv }).rows.map((row) => {
      const value = row.given.lead_a;
      return value?.type === 'quantity' ? value.quantity.value : undefined;
    });

  test('commas are read as such where one number can be read in no other way', () => {
    expect(leads(rows('0,5', '1,234', '12'))).toEqual([0.5, 1.234, 12]);
    expect(leads(rows('0.5', '1.234'))).toEqual([0.5, 1.234]);
  });

  test.each([
    ['0,5', '0.25', 'mixed-decimals data/boards.csv:3:6'],
    ['0,5', '1.234', 'mixed-decimals data/boards.csv:3:6'],
    ['1,234', '1', 'ambiguous-decimals data/boards.csv:2:6'],
    ['1.234', '1', 'ambiguous-decimals data/boards.csv:2:6'],
    ['0.5.', '1', 'several-numbers data/boards.csv:2:6'],
    ['7..2', '1', 'several-numbers data/boards.csv:2:6'],
    ['0,25', '3,,', 'several-numbers data/boards.csv:3:6'],
    ['1.234,5', '1', 'decimal-comma data/boards.csv:2:6'],
    ['1,234.5', '1', 'digit-grouping data/boards.csv:2:6'],
    ['1,234,567', '1', 'digit-grouping data/boards.csv:2:6'],
  ])('%s beside %s is refused', (first, second, error) => {
    expect(errorsOf(open({ csv: rows(first, second) }).state())).toContain(error);
  });

  test('where commas part the cells a quoted decimal comma is refused', () => {
    const csv = rows('"0,5"').replaceAll(';', ',');
    expect(errorsOf(open({ csv }).state())).toEqual(['decimal-comma data/boards.csv:2:6']);
  });
});

describe('references to rows', () => {
  test('counts, the worst row, a row by its name, from prose and from a block', () => {
    const csv = `${HEADER}\nDB-1;X;0.1;0.1;0.1;1.2;4\nDB-2;X;0.5;0.2;0.3;1.5;2.5\nDB-3;X;0.1;0;0;1.2;\n`;
    const more = `{{ boards.rows }} {{ boards.complies }} {{ boards.does_not_comply }} {{ boards.cannot_be_judged }}
{{ boards.worst.id }} {{ boards.worst.margin }} {{ boards.worst.lead_length }} {{ boards.DB-1.effective_protection_level }}
{{ boards.DB-3.equipment_protection }}

\`\`\`yaml calc
id: again
calculation: spd-effective-protection-level
given:
  spd_type: limiting
  protection_level: !ref boards.DB-1.effective_protection_level
  lead_a: !ref boards.worst.lead_a
  lead_b: 0 m
  lead_c: 0 m
\`\`\``;
    const state = open({ csv, more }).state();
    expect(errorsOf(state)).toEqual([]);
    const [{ proseTexts, blocks } = { proseTexts: new Map(), blocks: [] }] = state.notes;
    const said = (name: string) => proseTexts.get(`boards.${name}`);
    expect(['rows', 'complies', 'does_not_comply', 'cannot_be_judged'].map(said)).toEqual([
      '3',
      '1',
      '1',
      '1',
    ]);
    // 0.5 + 0.2 + 0.3 m beyond 0.5 m is 100 % of the limit; 1.2 kV + 0.3 m * 1 kV/m.
    expect([said('worst.id'), said('worst.margin'), said('worst.lead_length')]).toEqual([
      'DB-2',
      '−100\u00a0%',
      '1.00\u00a0m',
    ]);
    expect(said('DB-1.effective_protection_level')).toBe('1.50\u00a0kV');
    const taken = blocks[0]!.evaluated.givens.map(
      ({ name, text }: { name: string; text: string }) => `${name} ${text}`,
    );
    expect(taken).toContain('protection_level 1.50 kV');
    expect(taken).toContain('lead_a 0.5 m');
  });

  test('a row or name that is not there', () => {
    const csv = `${HEADER}\nDB-1;X;0.1;0.1;0.1;1.2;4\n`;
    const more = '{{ boards.DB-2.lead_length }} {{ boards.compliant }} {{ boards.DB-1.lead }}';
    expect(errorsOf(open({ csv, more }).state()).map((one) => one.split(' ')[0])).toEqual([
      'unknown-row',
      'unknown-of-schedule',
      'unknown-name',
    ]);
    const last = open({ csv, more: '{{ boards.worst.leads }}' }).state().diagnostics[0]!;
    expect(last.data).toMatchObject({ id: 'boards.DB-1', name: 'leads' });
  });
});

describe('bases, registers, own formulas', () => {
  test.each([
    ['a block on a schedule', '```yaml calc\nid: one\nbased_on: boards\n```'],
    [
      'a variant of it',
      '```yaml calc\nid: one\nbased_on: boards\n```\n\n```yaml calc\nid: two\nbased_on: one\n```',
    ],
    [
      'a schedule on a schedule',
      '```yaml schedule\nid: one\nbased_on: boards\nrows: data/boards.csv\ncolumns: { lead_a: lead a }\n```',
    ],
  ])('nothing is based on a schedule: %s', (_, more) => {
    const csv = `${HEADER}\nDB-1;X;0.2;0.1;0.1;1.2;4\n`;
    expect(errorsOf(open({ csv, more }).state()).map((one) => one.split(' ')[0])).toEqual([
      'base-is-schedule',
    ]);
  });

  test('a schedule and its base on each other', () => {
    const csv = `${HEADER}\nDB-1;X;0.2;0.1;0.1;1.2;4\n`;
    const more = '```yaml calc\nid: one\nbased_on: boards\n```';
    const schedule = SCHEDULE.replace(/calculation: .*/, 'based_on: one');
    expect(errorsOf(open({ csv, more, schedule }).state()).map((one) => one.split(' ')[0])).toEqual([
      'base-is-schedule',
    ]);
  });

  test('a base gives what the columns do not; the register fills what neither has', () => {
    const more = `\`\`\`yaml calc
id: typical
calculation: spd-effective-protection-level
given:
  spd_type: limiting
  protection_level: 1.2 kV
  lead_a: 0.3 m
  lead_b: 0.1 m
  lead_c: 0.2 m
  impulse_withstand: 2.5 kV
\`\`\``;
    const schedule =
      'id: boards\nbased_on: typical\nrows: data/boards.csv\nrow_id: board\ncolumns: { lead_a: lead a }';
    const { rows } = scheduleOf({ csv: 'board,lead a [m]\nA,0.25\nB,0.4\n', schedule, more });
    expect(rows.map((row) => numberOf(row, 'lead_length'))).toEqual(
      [0.55, 0.7].map((one) => expect.closeTo(one, 9)),
    );
    const filled = SCHEDULE.replace('  protection_level: Up\n', '').concat('\ngivens_from: [equipment.SPD1]');
    const [row] = scheduleOf({ csv: `${HEADER}\nA;X;0.1;0;0;9;4\n`, schedule: filled }).rows;
    expect(numberOf(row!, 'effective_protection_level')).toBeCloseTo(1500, 6);
  });
});

describe('in a session', () => {
  test('one cell that changes is one row computed; the same values in another file are none', () => {
    const session = open({ csv: CSV });
    session.state();
    session.takeCounts();
    session.change('data/boards.csv', CSV.replace(/DB-7;A;[\d,]+/, 'DB-7;A;0,777'));
    const changed = session.state();
    expect(session.takeCounts().get('row')).toBe(1);
    expect(changed.notes[0]!.schedules[0]!.rows[6]!.given.lead_a).toMatchObject({
      quantity: { value: 0.777 },
    });
    session.change('data/boards.csv', CSV.replaceAll('\r\n', '\n').replace(/DB-7;A;[\d,]+/, 'DB-7;A;0,777'));
    session.state();
    expect(session.takeCounts().get('row')).toBeUndefined();
  });
});
