import { describe, expect, test } from 'vitest';
import { compareStates } from '../../src/review/compare-notes.ts';
import { digestResults } from '../../src/review/digest-results.ts';
import { digestSources } from '../../src/review/digest-sources.ts';
import { openProject } from '../../src/session/project-session.ts';
import { open, SCHEDULE } from '../evaluation/schedule/survey.ts';
import { FRONT_MATTER } from '../support/write-project.ts';
import { calcBlock } from './evaluate-text.ts';

const CSV = [
  'board;building;lead a [m];lead b [m];lead c [m];Up [kV];Uw [kV]',
  'DB-1;A;0.1;0.1;0.15;1.2;2.5',
  'DB-2;A;0.3;0.2;0.3;1.5;2.5',
  'DB-3;B;0.05;0.1;0.1;1.4;4',
].join('\n');

function stateOf(csv: string, schedule?: string) {
  const { project, notes } = open({ csv, ...(schedule ? { schedule } : {}) }).state();
  return { project: project!, notes, imagesOf: () => new Map<string, string>() };
}

function digestsOf(csv: string, schedule?: string) {
  const { project, notes } = stateOf(csv, schedule);
  const files = [{ path: 'data/boards.csv', bytes: new TextEncoder().encode(csv) }];
  const [note] = notes;
  return { sources: digestSources(note!, project, files), results: digestResults(note!).sha256 };
}

describe('what a sign-off covers of a table', () => {
  const signed = digestsOf(CSV);
  const rewritten: Readonly<Record<string, string>> = {
    'byte order mark and ends of lines': `\uFEFF${CSV.replaceAll('\n', '\r\n')}\r\n`,
    'tabs and decimal commas': CSV.replaceAll(';', '\t').replaceAll('.', ','),
    'commas between cells': CSV.replaceAll(';', ','),
    'quotes around every cell': CSV.replace(/[^;\n]+/g, '"$&"'),
    'units in the cells': CSV.replace('Uw [kV]', 'Uw').replace(/;([\d.]+)$/gm, ';$1 kV'),
    'other order of columns': CSV.split('\n')
      .map((line) => line.split(';').reverse().join(';'))
      .join('\n'),
    'a column that nothing reads': CSV.split('\n')
      .map((line, i) => `${line};${i === 0 ? 'photo' : `P${i}`}`)
      .join('\n'),
    'other order of rows': [CSV.split('\n')[0], ...CSV.split('\n').slice(1).reverse()].join('\n'),
  };
  test.each(Object.entries(rewritten))('%s changes nothing', (_, csv) => {
    expect(digestsOf(csv)).toEqual(signed);
  });

  const changed: Readonly<Record<string, string>> = {
    'a cell': CSV.replace('DB-2;A;0.3', 'DB-2;A;0.31'),
    'a cell that was filled': CSV.replace(';4', ';'),
    'the name of a row': CSV.replace('DB-3', 'DB-4'),
    'a row that went': CSV.replace(/\nDB-3.*/, ''),
    // The page and the table of results print them in the unit in which they are given.
    'lengths in another unit': CSV.replace('lead a [m]', 'lead a [cm]')
      .replace('A;0.1;', 'A;10;')
      .replace('A;0.3;', 'A;30;')
      .replace('B;0.05;', 'B;5;'),
    'two rows that change names': CSV.replace('DB-1', 'x').replace('DB-2', 'DB-1').replace('x', 'DB-2'),
  };
  test.each(Object.entries(changed))('%s voids it', (_, csv) => {
    const now = digestsOf(csv);
    expect(now.sources).not.toBe(signed.sources);
    expect(now.results).not.toBe(signed.results);
  });

  test('a group voids what is signed of the sources, and is a fact of the results', () => {
    const now = digestsOf(CSV.replace('DB-1;A', 'DB-1;B'));
    expect(now.sources).not.toBe(signed.sources);
    expect(now.results).not.toBe(signed.results);
  });

  test('rows without names are known by their number, so their order counts', () => {
    const nameless = SCHEDULE.replace('row_id: board\n', '');
    const reversed = rewritten['other order of rows']!;
    expect(digestsOf(reversed, nameless).sources).not.toBe(digestsOf(CSV, nameless).sources);
  });
});

describe('comparison', () => {
  const before = stateOf(CSV);
  const blocksOf = (csv: string, schedule?: string) =>
    compareStates(before, stateOf(csv, schedule)).notes.flatMap(({ blocks }) => blocks);

  test('the same table written otherwise is no change', () => {
    expect(compareStates(before, stateOf(CSV.replaceAll(';', '\t').replaceAll('.', ','))).notes).toEqual([]);
  });

  test('one cell is one change, with what follows in its row', () => {
    const blocks = blocksOf(CSV.replace('DB-2;A;0.3', 'DB-2;A;0.35'));
    expect(blocks.map(({ id, state }) => `${id} ${state}`)).toEqual(['boards/DB-2 changed']);
    const [row] = blocks;
    expect(row!.given.map(({ name, before: was, after }) => [name, was, after])).toEqual([
      ['lead_a', '0.3 m', '0.35 m'],
    ]);
    // 1.5 kV + 0.8 m and 0.85 m at 1 kV/m.
    const level = row!.results.find(({ name }) => name === 'effective_protection_level');
    expect([level?.before, level?.after]).toEqual(['2.3 kV', '2.35 kV']);
  });

  test('a verdict that turns in a row is told with the others, and the counts with it', () => {
    const comparison = compareStates(before, stateOf(CSV.replace('DB-1;A;0.1', 'DB-1;A;0.9')));
    expect(comparison.turned.map(({ block, check }) => `${block} ${check}`)).toContain(
      'boards/DB-1 lead_length_rule',
    );
    const [schedule] = comparison.notes[0]!.blocks;
    expect(schedule!.results.map(({ name, before: was, after }) => [name, was, after])).toEqual([
      ['complies', '2', '1'],
      ['does not comply', '1', '2'],
    ]);
  });

  test('rows come and go by their names', () => {
    const blocks = blocksOf(CSV.replace('DB-3', 'DB-9'));
    expect(blocks.map(({ id, state }) => `${id} ${state}`)).toEqual([
      'boards/DB-9 added',
      'boards/DB-3 removed',
    ]);
  });

  test('what all rows have in common is one change', () => {
    const [schedule] = blocksOf(CSV, SCHEDULE.replace('8 m', '9 m'));
    expect(schedule!.given.map(({ name, after }) => [name, after])).toEqual([['circuit_length', '9 m']]);
  });

  test('of very many rows moved by one common value those whose verdict turned are told, the others counted', () => {
    const rows = Array.from({ length: 60 }, (_, i) => `R${i};A;0.2;0;0.2;${i === 7 ? 1.58 : 1};2.5`);
    const csv = [CSV.split('\n')[0], ...rows].join('\n');
    const [schedule, ...others] = compareStates(
      stateOf(csv),
      stateOf(csv, SCHEDULE.replace('spd_type: limiting', 'spd_type: limiting\n  lead_inductance: 1.1 uH/m')),
    ).notes.flatMap(({ blocks }) => blocks);
    // 1.58 + 0.4 = 1.98 kV keeps to 80 % of 2.5 kV, 1.58 + 0.44 = 2.02 kV does not.
    expect(others.map(({ id }) => id)).toEqual(['boards/R7']);
    expect(schedule!.results.at(-1)).toMatchObject({ after: '59' });
  });
});

describe('what a comparison tells of a schedule on a base', () => {
  const REGISTER = (level: string) => `title: T
client: C
site: S
equipment:
  A1: { title: One, protection_level: { value: ${level}, source: sheet } }
`;
  const NOTE = (steepness: string) => `${FRONT_MATTER}
${calcBlock('base', 'spd-effective-protection-level', {
  spd_type: 'limiting',
  lead_a: '0.2 m',
  lead_b: '0.1 m',
  lead_c: '0.1 m',
  steepness,
}).replace('given:', 'givens_from: [equipment.A1]\ngiven:')}
\`\`\`yaml schedule
id: boards
based_on: base
rows: data/boards.csv
row_id: board
columns: { lead_a: lead a, lead_b: lead b, lead_c: lead c, impulse_withstand: Uw }
in_full: 1
action: { what: shorten, where: west wing }
\`\`\`

\`\`\`yaml comparison
of: [base, other]
\`\`\`

\`\`\`yaml calc
id: other
based_on: base
given: { lead_a: 0.3 m }
\`\`\`
`;
  const state = (note: string, project: string) => {
    const session = openProject([
      ['project.yaml', project],
      ['001-survey.md', note],
      ['data/boards.csv', CSV],
    ]);
    const { notes, project: read } = session.state();
    return { project: read!, notes, imagesOf: () => new Map<string, string>() };
  };
  const before = state(NOTE('1 kA/us'), REGISTER('1.3 kV'));
  const changed = (note: string, project = REGISTER('1.3 kV')) => compareStates(before, state(note, project));

  test('a device is told of the register, a value of the base of the base, each once', () => {
    const device = changed(NOTE('1 kA/us'), REGISTER('1.6 kV'));
    expect(device.project.map(({ name }) => name)).toEqual(['equipment.A1.protection_level']);
    expect(device.notes[0]!.blocks.flatMap(({ given }) => given)).toEqual([]);
    expect(device.notes[0]!.blocks.map(({ id }) => id)).toContain('boards/DB-2');
    const { blocks } = changed(NOTE('1.7 kA/us')).notes[0]!;
    expect(blocks.flatMap(({ id, given }) => given.map(({ name }) => `${id}.${name}`))).toEqual([
      'base.steepness',
    ]);
  });

  test.each([
    ['where: west wing', 'where: east wing', 'place of the action'],
    ['in_full: 1', 'in_full: 2', 'rows set out in full'],
    ['in_full: 1', 'in_full: 1\ngroup_by: building', 'grouped by'],
    ['impulse_withstand: Uw', 'impulse_withstand: Up', 'column of impulse_withstand'],
  ])('%s -> %s', (old, fresh, name) => {
    const { blocks } = changed(NOTE('1 kA/us').replace(old, fresh)).notes[0]!;
    expect(blocks.find(({ id }) => id === 'boards')!.wording.map((one) => one.name)).toEqual([name]);
  });

  test('another choice or title of blocks side by side', () => {
    const of = (fresh: string) =>
      changed(NOTE('1 kA/us').replace('of: [base, other]', fresh)).notes[0]!.comparisons;
    expect(of('of: [other, base]\ntitle: Two')).toEqual([
      expect.objectContaining({ name: 'other, base', after: 'Two' }),
      expect.objectContaining({ name: 'base, other', before: 'without title' }),
    ]);
    expect(of('of: [base, other]\ntitle: Two')).toEqual([
      expect.objectContaining({ name: 'base, other', before: 'without title', after: 'Two' }),
    ]);
  });
});
