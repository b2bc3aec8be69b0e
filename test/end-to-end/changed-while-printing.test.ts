import {
  appendFileSync,
  existsSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import type { Issue } from '../../src/review/sign-off/register-entry.ts';
import { appendIssue } from '../../src/review/sign-off/write-register.ts';
import { AT_LENGTH } from '../support/at-length.ts';
import { boardSchedule } from '../support/board-schedule.ts';
import { signAll, writeFormalProject } from '../support/formal-project.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import type { Outcome } from '../support/run-command.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER } from '../support/write-project.ts';

const ISSUE: Issue = {
  ...{ number: '7', revision: 'A', date: '2031-05-20', status: 'for-review', reason: 'first issue' },
  ...{ prepared: 'X, 2031-05-14', checked: 'Y, 2031-05-14', approved: 'Z, 2031-05-14', file: '7.rev-A.pdf' },
  ...{ sourceSha256: '00', resultsSha256: '00', software: 'surgenote 0' },
};

describeWithTools(['git'], 'what somebody else does while a note is printed', () => {
  const folder = join(temporaryFolder(), 'project');
  const path = (name: string): string => join(folder, name);
  const list = (): string[] => readdirSync(folder).filter((name) => /^\.surgenote|pdf$|issues/.test(name));

  /** Runs a command, and does something in the moment in which it begins to print. */
  async function runWhile(args: readonly string[], whilePrinting: () => void): Promise<Outcome> {
    let done = false;
    const progress = (text: string): void => {
      if (done || !text.startsWith('printing ')) return;
      done = true;
      whilePrinting();
    };
    const outcome = await runInProcess(args, { cwd: folder, progress });
    expect(done, outcome.err).toBe(true);
    return outcome;
  }
  const issue = ['issue', '1.md', '--date', '2031-05-21'];

  beforeAll(async () => {
    const repository = await writeFormalProject(folder, 2);
    await signAll(folder, '1.md');
    repository.commitAll('Signed');
  });

  test('the same revision is entered: this issue is refused, and writes nothing', async () => {
    const other = appendIssue(undefined, { ...ISSUE, number: '1', file: 'elsewhere.pdf' });
    const { status, err, out } = await runWhile(issue, () => writeFileSync(path('issues.yaml'), other));
    expect(err).toContain(
      'nothing was written: while the note was printed, another run entered revision A of 1 in issues.yaml',
    );
    expect({ status, out, files: list() }).toEqual({ status: 3, out: '', files: ['issues.yaml'] });
    expect(readFileSync(path('issues.yaml'), 'utf8')).toBe(other);
    rmSync(path('issues.yaml'));
  });

  test.runIf(AT_LENGTH)('a sign-off is changed: refused', async () => {
    const before = readFileSync(path('1.signoff.yaml'));
    const { status, err } = await runWhile(issue, () =>
      appendFileSync(path('1.signoff.yaml'), '# struck out\n'),
    );
    expect(err).toContain('its sign-offs were changed');
    expect({ status, files: list() }).toEqual({ status: 3, files: [] });
    writeFileSync(path('1.signoff.yaml'), before);
  });

  test.runIf(AT_LENGTH)('the note itself is changed: this issue is refused', async () => {
    const before = readFileSync(path('1.md'), 'utf8');
    const { status, err } = await runWhile(issue, () => appendFileSync(path('1.md'), '\nA word more.\n'));
    expect(err).toContain('nothing was written: 1.md changed while the document was printed');
    expect({ status, files: list() }).toEqual({ status: 3, files: [] });
    writeFileSync(path('1.md'), before);
  });

  test('the issue of another note is entered, and a remark: both stay, and this one follows', async () => {
    const other = `${appendIssue(undefined, ISSUE)}# sent by post\n`;
    const { status, err } = await runWhile(issue, () => writeFileSync(path('issues.yaml'), other));
    expect(`${status}: ${err}`).toMatch(/^0: /);
    const register = readFileSync(path('issues.yaml'), 'utf8');
    expect(register.startsWith(other)).toBe(true);
    expect(register.match(/^- number: .*$/gm)).toEqual(['- number: "7"', '- number: "1"']);
    expect(list().sort()).toEqual(['1.rev-A.pdf', 'issues.yaml']);
  });

  test.runIf(AT_LENGTH)('recorded results are changed: compile writes nothing over them', async () => {
    const { status, err } = await runWhile(['compile', '2.md'], () =>
      writeFileSync(path('2.results.yaml'), 'merged: by hand\n'),
    );
    expect(err).toMatch(/nothing was written: .*2\.results\.yaml was changed meanwhile/);
    expect(status).toBe(3);
    expect(readFileSync(path('2.results.yaml'), 'utf8')).toBe('merged: by hand\n');
    expect(existsSync(path('2.pdf'))).toBe(false);
  });

  test('table, picture, note and project.yaml are changed: compile writes what it read, and tells of each', async () => {
    writeFileSync(path('boards.csv'), 'board,lead a [m]\nDB-1,0.2\nDB-2,0.3\n');
    writeFileSync(
      path('a.svg'),
      '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0h9"/></svg>',
    );
    const block = boardSchedule('boards.csv', 'lead a');
    writeFileSync(path('3.md'), `${FRONT_MATTER.replace('"1"', '"3"')}\n## T\n\n![A](a.svg)\n\n${block}\n`);
    const names = ['3.md', 'project.yaml', 'boards.csv', 'a.svg'];
    const before = new Map(names.map((name) => [name, readFileSync(path(name))]));
    const untouched = await runWhile(['compile', '3.md'], () => {});
    expect(untouched).toMatchObject({
      status: 0,
      err: expect.not.stringContaining('changed after it was read'),
    });
    const { status, err } = await runWhile(['compile', '3.md'], () => {
      for (const name of names.slice(0, 3))
        appendFileSync(path(name), name === 'boards.csv' ? 'DB-3,0.9\n' : '\n');
      rmSync(path('a.svg'));
    });
    expect(status).toBe(0);
    for (const name of names)
      expect(err).toContain(`${name}:1:1: caution: the file was changed after it was read`);
    expect(readFileSync(path('3.boards.results.csv'), 'utf8')).not.toContain('DB-3');
    for (const [name, bytes] of before) writeFileSync(path(name), bytes);
    rmSync(path('3.md'));
  });

  test('the project is moved away: it is not made again', async () => {
    rmSync(path('2.results.yaml'));
    const away = `${folder}-elsewhere`;
    const { status, err } = await runWhile(['compile', path('2.md')], () => renameSync(folder, away));
    expect(err).toMatch(/project cannot be written: the folder is not there, or not any more/);
    expect(status).toBe(3);
    expect(existsSync(folder)).toBe(false);
  });
});
