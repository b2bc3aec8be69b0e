import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { readText } from '../page/read-html.ts';
import { succeed } from '../support/formal-project.ts';
import { GitRepository } from '../support/git-repository.ts';
import { IssuedNote, textOf } from '../support/issued-note.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, PROJECT, writeProject } from '../support/write-project.ts';

const DRAWING = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0H9"/></svg>';

const block = (id: string, line: string): string =>
  `\`\`\`yaml calc\nid: ${id}\ncalculation: arrester-connection\ntitle: Bay ${id}\ngiven:\n  arrangement: common-earth\n  line_lead: ${line}\n  earth_lead: 0.7 m\n  residual_voltage: 41 kV\n  steepness: 9 kA/us\n  impulse_withstand: ${id === 'two' ? '!ref equipment.TX1.withstand' : '75 kV'}\n\`\`\`\n`;

const note = (line: string, last: string): string => `${FRONT_MATTER}
## Bays

The first paragraph stays.

At the first bay {{ one.terminal_voltage }} are left.

| Bay | Leads |
| --- | --- |
| one | copper |
| two | ${line === '1.1 m' ? 'steel' : 'copper'} |

![Plan of the bays](plan.svg)

${block('one', line)}
${block('two', '0.4 m')}
- an item that stays
- ${last}

\`\`\`yaml assumptions
- { id: A1, text: The soil is wet., basis: survey, state: ${line === '1.1 m' ? 'to be confirmed' : 'confirmed'} }
- { id: A2, text: The line is shielded., basis: survey, state: confirmed }
\`\`\`
`;

/** The texts of what has a bar in the margin, those of tables, items and paragraphs. */
function barred(html: string): string[] {
  return [...html.matchAll(/<(p|li|tr) [^>]*class="changed"[^>]*>([\s\S]*?)<\/\1>/g)].map(([, , text]) =>
    readText(text!),
  );
}

describe('since a revision of git', () => {
  const folder = join(temporaryFolder(), 'bays');
  let repository: GitRepository;

  beforeAll(() => {
    mkdirSync(folder);
    writeProject(folder, { '8.md': note('1.1 m', 'the old item'), 'plan.svg': DRAWING });
    repository = new GitRepository(folder);
    repository.commitAll('First');
    writeProject(folder, {
      'project.yaml': PROJECT.replace('75 kV', '95 kV'),
      '8.md': note('1.6 m', 'the new item'),
      'plan.svg': DRAWING.replace('H9', 'V9'),
    });
  });

  const compile = (...args: string[]) =>
    runInProcess(['compile', '8.md', '--no-pdf', '--html', ...args], { cwd: folder });

  test('bars stand beside what changed and nothing else; the annex has old and new values, and what went', async () => {
    const { status, err } = await compile('--since', 'HEAD');
    expect(status, err).toBe(0);
    const commit = repository.run('rev-parse', 'HEAD').trim().slice(0, 10);
    const html = readFileSync(join(folder, `8.since-${commit}.html`), 'utf8');
    const texts = barred(html);
    // 41 + 9 x (1.6 + 0.7) = 61.7 kV; before 41 + 9 x (1.1 + 0.7) = 57.2 kV.
    expect(texts).toEqual(
      expect.arrayContaining([
        expect.stringMatching(/^At the first bay 61\.7 kV are left/),
        'two copper',
        'the new item',
        expect.stringMatching(/^A1 The soil is wet/),
      ]),
    );
    for (const same of [/The first paragraph/, /one copper/, /item that stays/, /A2 /])
      expect(texts.filter((text) => same.test(text))).toEqual([]);
    const calculations = [...html.matchAll(/<div class="changed"><section[^>]* data-block="(\w+)"/g)];
    expect(calculations.map(([, id]) => id)).toEqual(['one', 'two']);
    expect(/<div class="changed"><figure[^>]*><img/.test(html)).toBe(true);
    const annex = readText(html.slice(html.indexOf('id="annex-changes"')));
    expect(annex).toMatch(/1\.1 m 1\.6 m \+45\.5 %/);
    expect(annex).toMatch(/57\.2 kV 61\.7 kV \+7\.87 %/);
    expect(annex).toMatch(/equipment\.TX1\.withstand 75 kV peak 95 kV peak/);
    expect(annex).toMatch(/to be confirmed confirmed/);
    expect(annex).toMatch(/removed - the old item/);
    expect(readText(html)).toContain(`Review copy: change bars against commit ${commit}`);
    // Neither results nor the record of a print, nor the page of the note itself.
    expect(repository.run('status', '--porcelain', '--untracked-files=all').trim().split('\n')).toEqual([
      expect.stringContaining('8.md'),
      expect.stringContaining('plan.svg'),
      expect.stringContaining('project.yaml'),
      expect.stringContaining(`8.since-${commit}.html`),
    ]);
    await compile('--since', commit);
    expect(readFileSync(join(folder, `8.since-${commit}.html`), 'utf8')).toBe(html);
  });

  test('the title block has bars where it reads otherwise, and so has a calculation of whose device only the source changed', async () => {
    const other = join(temporaryFolder(), 'heads');
    mkdirSync(other);
    const tied = note('1.1 m', 'an item');
    writeProject(other, { '8.md': tied, 'plan.svg': DRAWING });
    const git = new GitRepository(other);
    git.commitAll('First');
    writeProject(other, {
      'project.yaml': PROJECT.replace(/^client: .*$/m, 'client: Another owner').replace(
        /withstand: (?:\{ value: )?(75 kV[^,}\n]*).*$/m,
        'withstand: { value: $1, source: type test 9 }',
      ),
      '8.md': tied.replace('date: 2030-01-01', 'date: 2030-02-03'),
    });
    const { status, err } = await runInProcess(['compile', '8.md', '--no-pdf', '--html', '--since', 'HEAD'], {
      cwd: other,
    });
    expect(status, err).toBe(0);
    const html = readFileSync(
      join(other, `8.since-${git.run('rev-parse', 'HEAD').trim().slice(0, 10)}.html`),
      'utf8',
    );
    const rows = [...html.matchAll(/<tr class="changed">([\s\S]*?)<\/tr>/g)].map(([, row]) => readText(row!));
    expect(rows).toEqual([
      expect.stringMatching(/^Client Another owner/),
      expect.stringMatching(/^Date of the note 3 Feb 2030/),
    ]);
    const calculations = [...html.matchAll(/<div class="changed"><section[^>]* data-block="(\w+)"/g)];
    expect(calculations.map(([, id]) => id)).toEqual(['two']);
  });

  test('a page without it has neither bars nor annex', async () => {
    await compile();
    const html = readFileSync(join(folder, '8.html'), 'utf8');
    expect(html).not.toMatch(/class="changed"|annex-changes|Review copy/);
  });

  test.each([
    ['no issue', ['--since'], /8\.md: no revision of 1 was issued\n.*--since HEAD~3/],
    ['no such revision', ['--since', 'C'], /'C' is neither an issued revision of 1 nor one of git/],
  ])('%s is told', async (_, args, message) => {
    const { status, err } = await compile(...args);
    expect(status).toBeGreaterThan(0);
    expect(err).toMatch(message);
  });

  test('a note that was not there is told', async () => {
    writeFileSync(join(folder, '9.md'), note('2 m', 'x').replace('number: "1"', 'number: "9"'));
    const { err } = await runInProcess(['compile', '9.md', '--no-pdf', '--html', '--since', 'HEAD'], {
      cwd: folder,
    });
    expect(err).toContain("9.md: the note did not exist at 'HEAD'");
    rmSync(join(folder, '9.md'));
  });
});

describeWithTools(['ssh-keygen', 'git'], 'since the last issue', () => {
  let issued: IssuedNote;

  beforeAll(async () => {
    const root = join(temporaryFolder(), 'issued');
    mkdirSync(root);
    issued = await IssuedNote.make(root);
    const path = join(issued.folder, '1.md');
    const text = readFileSync(path, 'utf8')
      .replace('line_lead: 1.3 m', 'line_lead: 1.9 m')
      .replace('revision: A\n', 'revision: B\n')
      .replace(
        'reason: first issue }',
        'reason: first issue }\n  - { revision: B, date: 2030-02-01, reason: longer lead }',
      );
    writeFileSync(path, text);
  });

  const compile = (...args: string[]) => succeed(issued.folder, 'compile', '1.md', ...args);

  test('its source comes from the issued PDF, else from git, and is held against the register', async () => {
    await compile('--since', '--no-pdf', '--html');
    const fromPdf = readFileSync(join(issued.folder, '1.since-A.html'), 'utf8');
    expect(readText(fromPdf)).toMatch(/Annex \w Changes since revision A \(15 May 2031\)/);
    expect(readText(fromPdf)).toMatch(/longer lead; Changes since revision A \(15 May 2031\): Annex \w/);
    expect(readText(fromPdf)).toMatch(/1\.3 m 1\.9 m/);
    const pdf = readFileSync(join(issued.folder, '1.rev-A.pdf'));
    rmSync(join(issued.folder, '1.rev-A.pdf'));
    const lost = await runInProcess(['compile', '1.md', '--since', '--no-pdf', '--html'], {
      cwd: issued.folder,
    });
    expect(lost.err).toMatch(
      /the source of revision A was found neither in 1\.rev-A\.pdf nor in the commits/,
    );
    const repository = new GitRepository(issued.folder);
    repository.run('add', 'issues.yaml');
    repository.run('commit', '-q', '-m', 'Issued');
    await compile('--since', 'A', '--no-pdf', '--html');
    expect(readFileSync(join(issued.folder, '1.since-A.html'), 'utf8')).toBe(fromPdf);
    writeFileSync(join(issued.folder, '1.rev-A.pdf'), pdf);
  });

  test('a review copy has the same bytes again, and is never verified as an issue', async () => {
    const file = join(issued.folder, '1.since-A.pdf');
    await compile('--since');
    const first = readFileSync(file);
    await compile('--since');
    expect(readFileSync(file).equals(first)).toBe(true);
    const report = await issued.report(file);
    expect(report.status).not.toBe(0);
    expect(textOf(report, 'page of the source')).toMatch(/review copy with change bars against revision A/);
    expect(textOf(report, 'pages')).toMatch(/the same bytes/);
  });
});
