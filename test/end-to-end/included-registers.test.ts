import { existsSync, mkdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { signAll, succeed } from '../support/formal-project.ts';
import { GitRepository } from '../support/git-repository.ts';
import { printEachPageOnce } from '../support/kept-printer.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { writeProject } from '../support/write-project.ts';

printEachPageOnce();

const PROJECT = `title: Trial
client: Nobody in particular
site: Nowhere
company: { name: An office }
people:
  adams: { name: A. Adams }
  brown: { name: B. Brown }
  clark: { name: C. Clark }
include:
  - devices/boards.yaml
  - { file: devices/spds.csv, as: equipment }
`;
const BOARDS = `equipment:
  MB:
    title: Main board MB
    impulse_withstand: { value: 2.5 kV peak, source: "overvoltage category II" }
  SB:
    title: Sub-board SB
    impulse_withstand: { value: 1.5 kV peak, source: "overvoltage category I" }
`;
const SPDS = `Device;Title;spd_type;Protection level [kV peak];Source;Nominal current [kA]
SPD1;SPD1, rail-mounted;limiting;1,2;data sheet 7;20
SPD2;SPD2, bolted;limiting;0,9;data sheet 8;20
SPD3;SPD3, spare;limiting;1,5;data sheet 9;40
`;

const note = (number: string, spd: string, board: string) => `---
number: "${number}"
title: Board ${board}
revision: A
status: for-review
date: 2030-01-01
prepared: adams
checked: brown
approved: clark
revisions:
  - { revision: A, date: 2030-01-01, reason: first issue }
---

## The board

\`\`\`yaml calc
id: board
calculation: spd-effective-protection-level
givens_from: [equipment.${spd}, equipment.${board}]
given:
  wiring: { value: branch, source: survey }
  lead_a: { value: 0.1 m, source: survey }
  lead_b: { value: 0.1 m, source: survey }
  lead_c: { value: 0.2 m, source: survey }
  steepness: { value: 1 kA/us, source: survey }
  circuit_length: { value: 0 m, source: survey }
\`\`\`
`;

const FILES = {
  'project.yaml': PROJECT,
  'devices/boards.yaml': BOARDS,
  'devices/spds.csv': SPDS,
  '1.md': note('1', 'SPD1', 'MB'),
  '2.md': note('2', 'SPD2', 'SB'),
};

describeWithTools(['git'], 'registers in files of their own', () => {
  const folder = temporaryFolder();
  const path = (name: string): string => join(folder, name);
  let repository: GitRepository;

  beforeAll(async () => {
    writeProject(folder, FILES);
    await succeed(folder, 'compile', '.', '--no-pdf', '--html');
    for (const name of ['1.html', '2.html']) rmSync(path(name));
    repository = new GitRepository(folder);
    repository.commitAll('First');
    await signAll(folder, '1.md');
    await signAll(folder, '2.md');
    repository.commitAll('Signed');
  });

  const states = async () => {
    const { notes } = JSON.parse(await succeed(folder, 'evaluate', '.', '--json')) as {
      notes: { number: string; sign_offs: { state: string }[] }[];
    };
    return notes.map(
      ({ number, sign_offs }) => `${number}: ${sign_offs.map(({ state }) => state).join(' ')}`,
    );
  };

  test.each([
    ['a device that no note uses', 'devices/spds.csv', '1,5;data sheet 9', '1,8;data sheet 9', []],
    ['what the calculation has no use for', 'devices/spds.csv', 'sheet 8;20', 'sheet 8;12,5', []],
    [
      'a board that no note uses any more',
      'devices/boards.yaml',
      'equipment:',
      'equipment:\n  XB: { impulse_withstand: 6 kV }',
      [],
    ],
    ['the value of a device', 'devices/spds.csv', '1,2;data sheet 7', '1,3;data sheet 7', ['1']],
    ['its source', 'devices/spds.csv', 'data sheet 8', 'data sheet 8, page 3', ['2']],
    ['its title', 'devices/spds.csv', 'SPD2, bolted', 'SPD2, bolted to the bars', ['2']],
    ['the value of a board', 'devices/boards.yaml', '1.5 kV peak', '1.6 kV peak', ['2']],
  ])(
    '%s changed: the sign-offs of exactly the notes that use it are void',
    async (_, file, before, after, voided) => {
      const text = FILES[file as keyof typeof FILES];
      writeFileSync(path(file), text.replace(before, after));
      const expected = ['1', '2'].map((number) => {
        const state = (voided as string[]).includes(number) ? 'void' : 'valid';
        return `${number}: ${state} ${state} ${state}`;
      });
      expect(await states()).toEqual(expected);
      writeFileSync(path(file), text);
      expect(await states()).toEqual(['1: valid valid valid', '2: valid valid valid']);
    },
  );

  test('compare tells a changed value once, with its file', async () => {
    writeFileSync(path('devices/spds.csv'), SPDS.replace('1,2;data sheet 7', '1,3;data sheet 7'));
    const { status, out } = await runInProcess(['compare', 'HEAD', 'WORK', '--json'], { cwd: folder });
    writeFileSync(path('devices/spds.csv'), SPDS);
    expect(status).toBe(0);
    const { project, notes } = JSON.parse(out);
    expect(project).toEqual([
      {
        name: 'equipment.SPD1.protection_level in devices/spds.csv',
        before: '1.2 kV peak',
        after: '1.3 kV peak',
      },
    ]);
    expect(notes).toHaveLength(1);
    const [block] = notes[0].blocks;
    expect(block).toMatchObject({ id: 'board', given: [], wording: [] });
    // By hand: 0.4 m of lead at 1 uH/m and 1 kA/us are 0.4 kV.
    expect(block.results).toContainEqual(
      expect.objectContaining({ name: 'effective_protection_level', before: '1.6 kV', after: '1.7 kV' }),
    );
  });

  test('another device instead is a change of the given', async () => {
    writeFileSync(path('1.md'), FILES['1.md'].replace('equipment.SPD1', 'equipment.SPD2'));
    const { out } = await runInProcess(['compare', 'HEAD', 'WORK', '--json'], { cwd: folder });
    writeFileSync(path('1.md'), FILES['1.md']);
    const { project, notes } = JSON.parse(out);
    expect(project).toEqual([]);
    expect(notes[0].blocks[0].given).toContainEqual(
      expect.objectContaining({ name: 'protection_level', before: '1.2 kV peak', after: '0.9 kV peak' }),
    );
  });

  test('nobody signs what git does not have of them', async () => {
    writeFileSync(path('devices/spds.csv'), SPDS.replace('1,5', '1,6'));
    const { status, err } = await runInProcess(['sign', '1.md', '--as', 'prepared', '--date', '2031-05-15'], {
      cwd: folder,
    });
    writeFileSync(path('devices/spds.csv'), SPDS);
    expect(status).toBe(1);
    expect(err).toMatch(/devices\/spds\.csv.*git does not have this file as it is now/s);
  });

  test('the PDF carries them, says whence each value comes, and is recomputed from itself', async () => {
    await succeed(folder, 'compile', '1.md', '--out', path('out'), '--html');
    const html = readFileSync(path('out/1.html'), 'utf8').replace(/<wbr>/g, '');
    expect(html).toContain('register, SPD1; data sheet 7');
    expect(html).toContain('register, MB; overvoltage category II');
    expect(html).toMatch(/<b>SPD1<\/b>, rail-mounted[^;]*\(in <code>devices\/spds\.csv<\/code>\)/);
    const { out } = await runInProcess(['verify', path('out/1.pdf')]);
    expect(out).toMatch(/^ {2}results: proven/m);
    expect(out).toMatch(/^ {2}page of the source: proven/m);
    // Of the state that the PDF holds and the one that is signed nothing differs.
    expect(await succeed(folder, 'compare', path('out/1.pdf'), 'WORK')).toContain('no differences');
  });
});

describe('what hinders reading them is told where it is', () => {
  const folder = temporaryFolder();
  const outside = temporaryFolder();
  const path = (name: string): string => join(folder, name);

  async function faults(files: Readonly<Record<string, string | Uint8Array>>): Promise<string[]> {
    writeProject(folder, { ...FILES, ...files });
    const { status, out } = await runInProcess(['evaluate', '--json', '.'], { cwd: folder });
    expect(status).toBe(1);
    const { diagnostics } = JSON.parse(out) as {
      diagnostics: { file: string; line: number; column: number; severity: string; code: string }[];
    };
    return diagnostics
      .filter(({ severity }) => severity === 'error')
      .map(({ file, line, column, code }) => `${file}:${line}:${column} ${code}`);
  }

  test('bytes that are no UTF-8, and both notes are silent about items that are not known then', async () => {
    const bytes = Buffer.from(SPDS.replace('spare', 'spare \u00e4'), 'latin1');
    expect(await faults({ 'devices/spds.csv': bytes })).toEqual(['devices/spds.csv:4:18 csv-not-utf8']);
  });

  test('a link that leads out of the project, a folder, a file that is missing', async () => {
    writeFileSync(join(outside, 'boards.yaml'), BOARDS);
    writeProject(folder, FILES);
    rmSync(path('devices/boards.yaml'));
    symlinkSync(join(outside, 'boards.yaml'), path('devices/boards.yaml'));
    rmSync(path('devices/spds.csv'));
    mkdirSync(path('devices/spds.csv'));
    expect(existsSync(path('devices/boards.yaml'))).toBe(true);
    const { out, err } = await runInProcess(['evaluate', '.'], { cwd: folder });
    expect(out).toBe('');
    expect(err).toMatch(/devices\/boards\.yaml:1:1: error: .*it is a link that leads out of the project/);
    expect(err).toMatch(/devices\/spds\.csv:1:1: error: .*it is a folder/);
    expect(err).not.toMatch(/unknown|has no item/);
    rmSync(path('devices'), { recursive: true });
    const gone = await runInProcess(['evaluate', '.'], { cwd: folder });
    expect(gone.err).toMatch(
      /project\.yaml:10:5: error: the register 'devices\/boards\.yaml' is not in the project/,
    );
    expect(gone.err).toMatch(
      /project\.yaml:11:13: error: the register 'devices\/spds\.csv' is not in the project/,
    );
  });
});
