import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { loadAndEvaluate } from '../../src/cli/load-and-evaluate.ts';
import { openDocument } from '../../src/pdf/open-document.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, noteWith, numbered, writeProject } from '../support/write-project.ts';

const SCHEDULES = `${FRONT_MATTER}
## Boards

\`\`\`yaml schedule
id: boards
calculation: spd-effective-protection-level
title: SPDs of the boards
rows: data/boards.csv
row_id: board
columns: { protection_level: { column: Up, unit: kV }, lead_a: lead a, lead_b: lead b, lead_c: lead c, circuit_length: cable }
given: { spd_type: limiting, steepness: 1 kA/us, impulse_withstand: 2.5 kV, wiring: branch }
\`\`\`

## Arresters

\`\`\`yaml schedule
id: arresters
calculation: arrester-connection
title: Arresters of the stations
rows: data/arresters.csv
row_id: station
columns: { line_lead: line lead, earth_lead: earth lead, bond_position: joint, residual_voltage: Ures }
given: { arrangement: common-earth, steepness: 10 kA/us, impulse_withstand: 75 kV }
\`\`\`
`;

const BOARDS = `board;Up;lead a [m];lead b [m];lead c [m];cable [m]
DB-01;1,5;0,35;0,1;0,6;12
DB-02;1,2;0,2;0;0,25;4,5
DB-03;;;;;
`;
const ARRESTERS = 'station,line lead [m],earth lead [m],joint [m],Ures [kV]\nPole 7,1.25,6.5,0.125,33\n';

describe('survey forms', () => {
  const folder = temporaryFolder();
  const path = (name: string): string => join(folder, name);
  const read = (name: string): string => readFileSync(path(name), 'utf8');
  /** Without fonts and style. */
  const bodyOf = (name: string): string =>
    read(name)
      .replace(/^[\s\S]*<body>/, '')
      .replace(/<wbr>/g, '');
  const form = (...args: string[]) => runInProcess(['form', '1.md', ...args], { cwd: folder });

  beforeAll(() => {
    writeProject(folder, { '1.md': SCHEDULES, 'data/boards.csv': BOARDS, 'data/arresters.csv': ARRESTERS });
  });

  test('a PDF and a template for each schedule, A4 landscape, the same bytes each time', async () => {
    const { out } = await form('--out', path('first'));
    expect(out.match(/[\w.-]+$/gm)).toEqual([
      '1.boards.form.pdf',
      '1.boards.template.csv',
      '1.arresters.form.pdf',
      '1.arresters.template.csv',
    ]);
    await form('--out', path('second'));
    for (const name of readdirSync(path('first'))) {
      expect(readFileSync(path(`second/${name}`)).equals(readFileSync(path(`first/${name}`))), name).toBe(
        true,
      );
    }
    const pdf = await openDocument(readFileSync(path('first/1.boards.form.pdf')));
    expect(pdf.getTitle()).toBe('Survey form: SPDs of the boards');
    for (const page of pdf.getPages()) {
      // 297 mm by 210 mm, in points of 1/72 inch.
      expect(page.getWidth()).toBeCloseTo((297 / 25.4) * 72, -0.5);
      expect(page.getHeight()).toBeCloseTo((210 / 25.4) * 72, -0.5);
    }
  });

  test('the page asks for every column by name and unit, marked as in the sketch', async () => {
    await form('--out', path('html'), '--html', '--no-pdf', '--blank', '1');
    const html = bodyOf('html/1.boards.form.html');
    for (const column of ['lead a', 'lead b', 'lead c', 'cable', 'Up']) expect(html).toContain(column);
    expect(html).toContain('(2) <tspan');
    expect(html).toMatch(/<td>DB-01<\/td><td>1,5<\/td><td>0,35<\/td>/);
    expect(html.match(/<tr><td>DB-0\d/g)).toHaveLength(3);
    expect(html.match(/<tr><td><\/td><td><\/td>/g)).toHaveLength(1);
    expect(html).toContain('No conductor of the earthing, bonding or surge protection is disconnected');
    const bare = await form(
      '--out',
      path('bare'),
      '--html',
      '--no-pdf',
      '--no-values',
      '--schedule',
      'boards',
    );
    expect(bare.status).toBe(0);
    expect(bodyOf('bare/1.boards.form.html')).not.toContain('<td>0,35</td>');
    expect(bodyOf('bare/1.boards.form.html')).toContain('<td>DB-01</td><td></td>');
    expect(existsSync(path('bare/1.arresters.form.html'))).toBe(false);
  });

  test.each(['semicolon', 'comma', 'tab'])(
    'the template with %s, filled in, is the table again',
    async (delimiter) => {
      const whole = `${BOARDS.trimEnd().replace('DB-03;;;;;', 'DB-03;1,8;0,5;0,125;1,250;30')}\n`;
      writeFileSync(path('data/boards.csv'), whole);
      const before = await rowsOf();
      expect(before).toHaveLength(4);
      await form('--out', path(delimiter), '--html', '--no-pdf', '--delimiter', delimiter);
      for (const name of ['boards', 'arresters']) {
        writeFileSync(path(`data/${name}.csv`), readFileSync(path(`${delimiter}/1.${name}.template.csv`)));
      }
      expect(await rowsOf()).toEqual(before);
      writeFileSync(path('data/boards.csv'), BOARDS);
      writeFileSync(path('data/arresters.csv'), ARRESTERS);
    },
  );

  /** What each row of each schedule comes to, without the noughts as typed: a template writes one where three decimals may be thousands. */
  async function rowsOf(): Promise<unknown[]> {
    const [loaded] = await loadAndEvaluate([path('1.md')]);
    expect(loaded!.diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
    const found = loaded!.notes[0]!.schedules.flatMap(({ rows }) =>
      rows.map(({ id, given, results, checks }) => ({ id, given, results, checks })),
    );
    return JSON.parse(JSON.stringify(found, (key, value) => (key === 'places' ? undefined : value)));
  }

  test('before there is a table, and with a header alone', async () => {
    rmSync(path('data'), { recursive: true });
    expect((await form('--out', path('empty'), '--html', '--no-pdf')).status).toBe(0);
    expect(read('empty/1.boards.template.csv')).toBe(
      'board,Up [kV],lead a [m],lead b [m],lead c [m],cable [m],photos,notes,surveyor,surveyed on\r\n',
    );
    expect(bodyOf('empty/1.boards.form.html').match(/<tr><td><\/td><td><\/td>/g)).toHaveLength(30);
    writeProject(folder, {
      'data/boards.csv': 'board\tUp [kV]\tlead a [m]\tlead b [m]\tlead c [m]\tcable [m]\n',
      'data/arresters.csv': ARRESTERS,
    });
    expect((await form('--out', path('header'), '--html', '--no-pdf')).status).toBe(0);
    expect(read('header/1.boards.template.csv')).toMatch(/^board\tUp \[kV\]\t/);
    writeProject(folder, { 'data/boards.csv': BOARDS });
  });

  test('a template that somebody has filled in is not written over', async () => {
    expect((await form('--html', '--no-pdf')).status).toBe(0);
    expect((await form('--html', '--no-pdf')).status).toBe(0);
    const filled = read('1.boards.template.csv').replace('DB-03;;;;;', 'DB-03;1,4;0,2;0;0,3;8');
    writeFileSync(path('1.boards.template.csv'), filled);
    const { status, err } = await form('--html', '--no-pdf');
    expect(`${status} ${err}`).toMatch(/^3 .*1\.boards\.template\.csv is there already/s);
    expect(read('1.boards.template.csv')).toBe(filled);
    for (const name of readdirSync(folder)) if (/template|form\./.test(name)) rmSync(path(name));
  });

  test.each([
    [
      'a note without a schedule',
      { '2.md': numbered('2.md', noteWith('line_lead: 1 m')) },
      ['2.md'],
      2,
      /2\.md has no schedule/,
    ],
    ['a schedule that is not there', {}, ['1.md', '--schedule', 'bords'], 2, /no schedule 'bords'/],
    ['a number of rows that is none', {}, ['1.md', '--blank', 'ten'], 2, /--blank ten/],
    ['no note', {}, ['data/boards.csv'], 2, /is not a note/],
    ['nothing to write', {}, ['1.md', '--no-pdf'], 2, /nothing to write/],
    [
      'a fault of the note',
      { '3.md': numbered('3.md', SCHEDULES.replace('lead_a: lead a', 'lead_aa: lead a')) },
      ['3.md'],
      1,
      /has no given 'lead_aa'/,
    ],
    [
      'a unit that the table contradicts',
      {
        '3.md': numbered('3.md', SCHEDULES.replace('lead_a: lead a', 'lead_a: { column: lead a, unit: cm }')),
      },
      ['3.md'],
      1,
      /lead a.*cm/s,
    ],
    [
      'a table that cannot be parted',
      { 'data/boards.csv': `${BOARDS}"open;1\n` },
      ['1.md'],
      1,
      /data\/boards\.csv:5:1: error/,
    ],
  ] as const)('%s', async (_, files, args, status, said) => {
    writeProject(folder, { '1.md': SCHEDULES, ...(files as Record<string, string>) });
    const outcome = await runInProcess(['form', ...args, '--out', path('none')], { cwd: folder });
    expect(outcome.status).toBe(status);
    expect(outcome.err).toMatch(said);
    expect(existsSync(path('none'))).toBe(false);
    writeProject(folder, { 'data/boards.csv': BOARDS });
  });
});
