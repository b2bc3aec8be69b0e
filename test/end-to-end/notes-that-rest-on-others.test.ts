import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { readPdf } from '../../src/pdf/read-pdf.ts';
import { signAll, succeed, writeFormalProject } from '../support/formal-project.ts';
import type { GitRepository } from '../support/git-repository.ts';
import type { Report } from '../support/issued-note.ts';
import { printEachPageOnce } from '../support/kept-printer.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { replaceAttachment } from '../support/replace-attachment.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

printEachPageOnce();

/** Note 2 takes the earth lead from note 1, note 3 a value of note 2; each of them the arrester connection of the formal project. */
describeWithTools(['git'], 'notes that rest on others', () => {
  const folder = temporaryFolder();
  const path = (name: string): string => join(folder, name);
  const read = (name: string): string => readFileSync(path(name), 'utf8');
  const change = (name: string, from: string | RegExp, to: string): void => {
    const text = read(name);
    expect(text.replace(from, to), `${from} in ${name}`).not.toBe(text);
    writeFileSync(path(name), text.replace(from, to));
  };
  const STATES = /(prepared|checked|approved): \w+/g;
  const statesOf = async (note: string): Promise<string[]> => [
    ...((await succeed(folder, 'evaluate', note)).match(STATES) ?? []),
  ];
  const valid = ['prepared: valid', 'checked: valid', 'approved: valid'];
  const evaluate = async (...args: string[]) => runInProcess(['evaluate', ...args], { cwd: folder });
  const verify = async (file: string, status: number): Promise<Report> => {
    const outcome = await runInProcess(['verify', file, '--json', '--date', '2031-06-30'], { cwd: folder });
    expect(`${outcome.status} ${outcome.err}`).toMatch(new RegExp(`^${status}`));
    return { status: outcome.status, ...(JSON.parse(outcome.out) as Omit<Report, 'status'>) };
  };
  const stateOf = ({ findings }: Report, about: string) => findings.find((one) => one.about === about)?.state;

  let repository: GitRepository;
  beforeAll(async () => {
    repository = await writeFormalProject(folder, 3);
    change('2.md', 'earth_lead: 0.9 m', 'earth_lead: !ref 1/trial.earth_lead');
    change('3.md', 'line_lead: 1.3 m', 'line_lead: !formula "{2/trial.line_lead} + {2/trial.earth_lead}"');
    change('3.md', /$/, '\nTo be kept below {{ 1/trial.terminal_voltage }}.\n');
    await succeed(folder, 'compile', '.', '--no-pdf', '--html', '--out', path('page'));
    await succeed(folder, 'compile', '.', '--no-pdf', '--html');
    repository.commitAll('Notes that refer to one another');
  });

  test('the values are recorded with where they come from', () => {
    expect(read('2.results.yaml')).toContain('\nfrom:\n  1/trial.earth_lead: 0.9 m\nblock ');
    // 33 kV + (1.3 + 0.9) m * 10 kA/us * 1 uH/m = 55 kV; 2.2 m of leads over there are one here.
    expect(read('3.results.yaml')).toMatch(
      /\nfrom:\n {2}2\/trial\.line_lead: 1\.3 m\n {2}2\/trial\.earth_lead: 0\.9 m\n {2}1\/trial\.terminal_voltage: 55 kV/,
    );
    expect(read('3.results.yaml')).toContain('line_lead: 2.2 m');
    expect(read('1.results.yaml')).not.toContain('from:');
  });

  test('a note that is not signed off is a caution, and stands against issue, through another note too', async () => {
    const { err } = await evaluate('3.md');
    expect(err).toContain('a value is taken from 2 revision A, which is not valid: not signed off');
    expect(err).toContain('a value is taken from 1 revision A, which is not valid: not signed off');
    await signAll(folder, '2.md');
    repository.commitAll('Signed');
    const issued = await runInProcess(['issue', '2.md', '--date', '2031-05-15'], { cwd: folder });
    expect(issued.status).toBe(1);
    expect(issued.err).toContain('the note rests on 1 revision A, which is not valid: not signed off');
    expect((await evaluate('3.md')).err).not.toContain('taken from 2');
  });

  test('only another value voids; no other text, no revision, no state over there does', async () => {
    await signAll(folder, '1.md');
    repository.commitAll('Signed too');
    expect(await statesOf('2.md')).toEqual(valid);
    const before = read('1.md');
    change('1.md', 'title:', 'client_document_number: X-1\ntitle:');
    change('1.md', /^revision: .*$/m, 'revision: B');
    change('1.md', 'residual_voltage: 33 kV', 'residual_voltage: 31 kV');
    expect(await statesOf('1.md')).not.toEqual(valid);
    expect(await statesOf('2.md')).toEqual(valid);
    change('1.md', 'earth_lead: 0.9 m', 'earth_lead: 0.900001 m');
    expect(await statesOf('2.md')).toEqual(['prepared: void', 'checked: void', 'approved: void']);
    // Six digits are signed.
    change('1.md', 'earth_lead: 0.900001 m', 'earth_lead: 0.9000001 m');
    expect(await statesOf('2.md')).toEqual(valid);
    writeFileSync(path('1.md'), before);
    // A value that only the prose shows counts as well: of note 3 the terminal voltage of note 1.
    await signAll(folder, '3.md');
    expect(await statesOf('3.md')).toEqual(valid);
    change('1.md', 'residual_voltage: 33 kV', 'residual_voltage: 34 kV');
    expect(await statesOf('3.md')).toEqual(['prepared: void', 'checked: void', 'approved: void']);
    writeFileSync(path('1.md'), before);
  });

  test('a comparison tells the change once, and what follows from it as taken from there', async () => {
    repository.commitAll('Before the change');
    change('1.md', 'earth_lead: 0.9 m', 'earth_lead: 1.4 m');
    const out = await succeed(folder, 'compare', 'HEAD', 'WORK');
    change('1.md', 'earth_lead: 1.4 m', 'earth_lead: 0.9 m');
    expect(out).toMatch(/\n *earth_lead: 0\.9 m -> 1\.4 m/);
    expect(out).toMatch(/earth_lead \(follows 1\/trial\.earth_lead\): 0\.9 m -> 1\.4 m/);
    expect(out).toMatch(
      /line_lead \(follows \{2\/trial\.line_lead\} \+ \{2\/trial\.earth_lead\}\): 2\.2 m -> 2\.7 m/,
    );
    expect(out).toMatch(
      /3\.md: values taken from other notes\n {2}1\/trial\.terminal_voltage: 55 kV peak -> 60 kV peak/,
    );
  });

  test('the PDF recomputes itself, says whence, and cannot be changed through the other note', async () => {
    await succeed(folder, 'issue', '1.md', '--date', '2031-05-20');
    repository.commitAll('Issued');
    await succeed(folder, 'issue', '2.md', '--date', '2031-05-21');
    repository.commitAll('Issued');
    await succeed(folder, 'issue', '3.md', '--date', '2031-05-22');
    const { attachments } = await readPdf(readFileSync(path('3.rev-A.pdf')));
    expect(attachments.map(({ name }) => name).sort()).toEqual([
      '1.md',
      '1.signoff.yaml',
      '2.md',
      '2.signoff.yaml',
      '3.md',
      '3.page.json',
      '3.results.yaml',
      '3.signoff.yaml',
      'issues.yaml',
      'project.yaml',
    ]);
    const report = await verify('3.rev-A.pdf', 1);
    for (const about of ['source', 'results', 'pages', 'page of the source', 'file'])
      expect([about, stateOf(report, about)]).toEqual([about, 'proven']);
    const texts = report.findings.filter(({ about }) => about.startsWith('note ')).map(({ text }) => text);
    expect(texts).toEqual([
      '2/trial.line_lead, 2/trial.earth_lead computed from the source in the PDF of 2 revision A, 2030-01-01: signed off, issued 2031-05-21',
      '1/trial.terminal_voltage computed from the source in the PDF of 1 revision A, 2030-01-01: signed off, issued 2031-05-20',
    ]);
    // A later sign-off or withdrawal over there is told by a later compilation, and changes nothing of the one that was issued.
    await succeed(folder, 'withdraw', '1.md', '--reason', 'measured anew', '--date', '2031-06-01');
    expect(stateOf(await verify('3.rev-A.pdf', 1), 'page of the source')).toBe('proven');
    expect((await evaluate('3.md')).err).toContain('1 revision A, which is not valid: withdrawn 2031-06-01');
    await replaceAttachment(path('3.rev-A.pdf'), path('forged.pdf'), '1.md', (text) =>
      text.replace('earth_lead: 0.9 m', 'earth_lead: 1.1 m'),
    );
    expect(stateOf(await verify('forged.pdf', 1), 'results')).toBe('contradicted');
  });
});
