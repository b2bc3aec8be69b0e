import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { PDFDocument } from '@cantoo/pdf-lib';
import { beforeAll, describe, expect, test } from 'vitest';
import { listFonts } from '../../src/pdf/list-fonts.ts';
import { readPageTexts } from '../../src/pdf/read-page-texts.ts';
import { readPdf } from '../../src/pdf/read-pdf.ts';
import { GitRepository } from '../support/git-repository.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { replaceAttachment } from '../support/replace-attachment.ts';
import type { Outcome } from '../support/run-command.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, noteWith, writeProject } from '../support/write-project.ts';

const root = temporaryFolder();
const project = join(root, 'quay');
const temporary = join(root, 'tmp');
const [old, fresh] = [join(root, 'old.pdf'), join(root, 'new.pdf')];
let git: GitRepository;

const given = (lead: string) =>
  `arrangement: common-earth\nline_lead: ${lead}\nearth_lead: 1 m\nresidual_voltage: 33 kV\nresidual_waveform: 1/20\nsteepness: 10 kA/us\nimpulse_withstand: 75 kV`;
const note = (lead: string) => `${noteWith(given(lead))}\nSee ![the quay](images/quay%20plan.svg).\n`;
const PLAN = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M1 1h7v7z"/></svg>';

const run = (args: readonly string[], cwd = project): Promise<Outcome> =>
  runInProcess(args, { cwd, env: { TMPDIR: temporary } });
const compare = (...args: readonly string[]): Promise<Outcome> => run(['compare', ...args]);

/** Compiles the note with this lead and puts the PDF where it is wanted. */
async function compileTo(pdf: string, lead: string): Promise<void> {
  writeFileSync(join(project, '001.md'), note(lead));
  const { status, err } = await run(['compile', '001.md']);
  expect(`${status}: ${err}`).toMatch(/^0: /);
  renameSync(join(project, '001.pdf'), pdf);
}

beforeAll(async () => {
  mkdirSync(project);
  mkdirSync(temporary);
  git = new GitRepository(project);
  writeProject(project, {
    'images/quay plan.svg': PLAN,
    // Faults of another note concern nobody who compares the PDF of the first.
    '002.md': `${FRONT_MATTER.replace('number: "1"', 'number: "2"')}\n\`\`\`yaml calc\nid: x\n\`\`\`\n`,
    '001.signoff.yaml': '# nobody has signed\n',
  });
  await compileTo(old, '1 m');
  git.commitAll('First');
  git.run('tag', 'issue-a');
  await compileTo(fresh, '3 m');
  git.commitAll('Longer lead');
});

describe('a compiled PDF', () => {
  test('carries every file that its note needs, byte for byte, under its path in the project', async () => {
    const { attachments } = await readPdf(readFileSync(fresh));
    expect(attachments.map(({ name, mimeType, relationship }) => [name, mimeType, relationship])).toEqual([
      ['001.md', 'text/markdown', 'Source'],
      ['001.page.json', 'application/json', 'Data'],
      ['001.results.yaml', 'application/yaml', 'Data'],
      ['001.signoff.yaml', 'application/yaml', 'Data'],
      ['images/quay plan.svg', 'image/svg+xml', 'Data'],
      ['project.yaml', 'application/yaml', 'Source'],
    ]);
    // The page stands in no file of the project.
    for (const { name, bytes } of attachments.filter((file) => file.name !== '001.page.json')) {
      expect(Buffer.from(bytes).equals(readFileSync(join(project, name))), name).toBe(true);
    }
  });

  test('is not made where a file could not be carried', async () => {
    const folder = join(root, 'unfit');
    mkdirSync(folder);
    writeProject(folder, {
      '001.md': `${FRONT_MATTER}\n![a](.hidden/plan.svg) ![b](images/A.svg) ![c](images/a.svg)\n`,
      '.hidden/plan.svg': PLAN,
      'images/A.svg': PLAN,
      'images/a.svg': PLAN,
    });
    const { status, err } = await run(['compile', folder]);
    expect(status).toBe(1);
    expect(err).toContain('cannot carry a file named ".hidden/plan.svg"');
    expect(err).toContain("'images/A.svg' and 'images/a.svg' are one file");
    expect(readdirSync(folder).sort()).toEqual(['.hidden', '001.md', 'images', 'project.yaml']);
  });
});

describeWithTools(['pdfdetach'], 'a program that knows nothing of us', () => {
  test('takes the files out, folders and all', () => {
    const folder = join(root, 'detached');
    mkdirSync(join(folder, 'images'), { recursive: true });
    execFileSync('pdfdetach', ['-saveall', '-o', folder, fresh]);
    for (const name of ['001.md', 'project.yaml', 'images/quay plan.svg']) {
      expect(readFileSync(join(folder, name), 'utf8')).toBe(readFileSync(join(project, name), 'utf8'));
    }
  });
});

describe('compare', () => {
  test('two PDFs, from anywhere', async () => {
    const { status, out, err } = await run(['compare', 'old.pdf', 'new.pdf'], root);
    expect(err).toBe('');
    expect(status).toBe(0);
    // By hand: 33 kV + 2 m * 10 kV/m = 53 kV; 33 kV + 4 m * 10 kV/m = 73 kV.
    expect(out).toMatch(
      /^old.pdf -> new.pdf\n1 given changed; 1 verdict changed; [\s\S]*\n\nVerdicts that changed\n {2}trial\.withstand_margin .*: complies -> does not comply\n/,
    );
    expect(out).toContain('    line_lead: 1 m -> 3 m (+200 %)\n');
    expect(out).toContain('    terminal_voltage: 53 kV -> 73 kV (+37.7 %)\n');
  });

  test('a PDF with a revision, the working tree, a folder, each way round: only its note counts', async () => {
    expect((await compare(old, 'issue-a')).out).toMatch(/-> issue-a \([0-9a-f]{7}\)\nno differences\n$/);
    expect((await compare('HEAD', fresh)).out).toMatch(/no differences\n$/);
    expect((await compare(old, 'WORK')).out).toContain('line_lead: 1 m -> 3 m');
    const elsewhere = join(root, 'elsewhere');
    mkdirSync(elsewhere);
    writeProject(elsewhere, { 'renamed.md': note('2 m'), 'images/quay plan.svg': PLAN });
    const { status, out } = await compare(old, elsewhere);
    expect(status).toBe(0);
    expect(out).toContain('renamed.md, renamed from 001.md');
    expect(out).toContain('line_lead: 1 m -> 2 m');
  });

  test('a slip in a name, outside a project', async () => {
    const { status, err } = await run(['compare', 'old.pdf', 'nwe'], root);
    expect(status).toBe(2);
    expect(err).toContain("'nwe' is neither a folder nor a PDF; taken for a revision, ");
  });

  test('a project without that note', async () => {
    const other = join(root, 'other');
    mkdirSync(other);
    writeProject(other, { '009.md': FRONT_MATTER.replace('number: "1"', 'number: "9"') });
    const { status, err } = await compare(old, other);
    expect(status).toBe(3);
    expect(err).toContain('does not hold the note of the PDF: none lies at 001.md, none has the number 1');
  });

  test('says so where the results in a PDF are not those of its source', async () => {
    const tampered = join(root, 'tampered.pdf');
    await replaceAttachment(old, tampered, '001.results.yaml', (text) => text.replace('53 kV', '51 kV'));
    const { status, out, err } = await compare(tampered, fresh);
    expect(status).toBe(0);
    expect(out).toContain('terminal_voltage: 53 kV -> 73 kV');
    expect(err).toContain('tampered.pdf: its own results are not those that this version computes');
    const json = JSON.parse((await compare(tampered, fresh, '--json')).out) as { notices: string[] };
    expect(json.notices).toHaveLength(1);
  });

  test('refuses what is no PDF of ours, and leaves nothing behind', async () => {
    const plain = await PDFDocument.create();
    plain.addPage();
    const foreign = join(root, 'foreign.rev-B.pdf');
    writeFileSync(foreign, await plain.save());
    const cut = join(root, 'cut.pdf');
    writeFileSync(cut, readFileSync(old).subarray(0, -2000));
    for (const [pdf, words] of [
      [foreign, 'was not made by surgenote'],
      [cut, 'The PDF is damaged'],
      [join(root, 'none.pdf'), 'it does not exist'],
    ] as const) {
      const { status, out, err } = await compare(old, pdf);
      expect([status, out]).toEqual([3, '']);
      expect(err).toContain(words);
      expect(err).toContain(pdf);
    }
    expect(readdirSync(temporary)).toEqual([]);
  });
});

describe('compare --pdf', () => {
  const file = join(root, 'file', 'comparison.pdf');
  let texts: string[];

  beforeAll(async () => {
    const { status, out, err } = await compare('issue-a', fresh, '--pdf', file);
    expect(err).toBe('');
    expect([status, out]).toEqual([0, `wrote ${file}\n`]);
    texts = (await readPageTexts(readFileSync(file))).map((text) => text.replace(/\s+/g, ' '));
  });

  test('names both states such that no other can be meant', async () => {
    const commit = git.run('rev-parse', 'issue-a').trim();
    const whole = texts.join(' ').replaceAll(' ', '');
    expect(whole).toContain(`commit${commit}`);
    expect(whole).toContain(createHash('sha256').update(readFileSync(fresh)).digest('hex'));
    expect(texts[0]).toContain('new.pdf');
    expect(texts.join(' ')).not.toContain(root);
    const { information, tagged, attachments } = await readPdf(readFileSync(file));
    expect(information.Title).toBe('Comparison: 1 Trial');
    expect(information.CreationDate).toBe('D:20300101000000Z');
    expect(tagged).toBe(true);
    expect(attachments).toEqual([]);
  });

  test('shows the verdict that turned before everything else', async () => {
    const whole = texts.join(' ');
    const turned = whole.indexOf('complies does not comply');
    expect(turned).toBeGreaterThan(whole.indexOf('Verdicts that changed'));
    expect(turned).toBeLessThan(whole.indexOf('Givens'));
    expect(whole).toMatch(/line_ ?lead 1 m 3 m \+200 %/);
    expect(whole).toMatch(/terminal_ ?voltage 53 kV 73 kV \+37\.7 %/);
    const { outline } = await readPdf(readFileSync(file));
    expect(outline.map(({ title }) => title)).toEqual(['1 Trial']);
    expect(outline[0]!.children.map(({ title }) => title)).toEqual([
      'States compared',
      'Verdicts that changed',
      '001.md',
    ]);
    expect((await listFonts(readFileSync(file))).every(({ embedded }) => embedded)).toBe(true);
  });

  test('comes out the same each time', async () => {
    const again = join(root, 'again.pdf');
    expect((await compare('issue-a', fresh, '--pdf', again)).status).toBe(0);
    expect(Buffer.compare(readFileSync(again), readFileSync(file))).toBe(0);
  });

  test('does not replace what it compares, nor write what is no PDF, nor two things at once', async () => {
    const before = readFileSync(old);
    for (const [args, words] of [
      [['--pdf', old], 'would replace what is compared'],
      [['--pdf', 'comparison.md'], 'must end with .pdf'],
      [['--pdf', 'x.pdf', '--json'], 'one of --json, --markdown and --pdf'],
    ] as const) {
      const { status, err } = await compare(old, fresh, ...args);
      expect(status).toBe(2);
      expect(err).toContain(words);
    }
    expect(readFileSync(old).equals(before)).toBe(true);
    expect(existsSync(join(project, 'x.pdf'))).toBe(false);
    const error = await compare(old, 'no-such-branch', '--pdf', 'x.pdf');
    expect(error.status).toBe(3);
    expect(existsSync(join(project, 'x.pdf'))).toBe(false);
  });
});

describe('git diff', () => {
  test('shows the line that changed in a PDF, and goes on where a PDF is foreign', async () => {
    const folder = join(root, 'diff');
    expect((await run(['new', folder])).status).toBe(0);
    const repository = new GitRepository(folder);
    const main = join(import.meta.dirname, '../../dist/cli/main.js');
    repository.run('config', 'diff.surgenote.textconv', `'${process.execPath}' '${main}' text`);
    cpSync(old, join(folder, 'issued note.rev-A.pdf'));
    writeFileSync(join(folder, 'foreign.rev-B.pdf'), 'no PDF at all\n');
    repository.commitAll('Issue A');
    cpSync(fresh, join(folder, 'issued note.rev-A.pdf'));
    writeFileSync(join(folder, 'foreign.rev-B.pdf'), '%PDF-1.7\ncut');
    const diff = repository.run('diff');
    expect(diff).toContain('\n-  line_lead: 1 m\n+  line_lead: 3 m\n');
    expect(diff).toMatch(/\n-\s+terminal_voltage: 53 kV\n/);
    expect(diff).toContain('\n-The file is not a PDF.\n');
    expect(repository.run('check-attr', 'diff', 'text', '--', 'x.pdf')).toBe(
      'x.pdf: diff: surgenote\nx.pdf: text: unset\n',
    );
  });

  test('the text moves no cursor, and a PDF that cannot be read is an error', async () => {
    const hostile = join(root, 'escape.pdf');
    await replaceAttachment(old, hostile, '001.md', (text) => `${text}\u001b[2J\n`);
    const { status, out } = await run(['text', hostile]);
    expect(status).toBe(0);
    expect(out).toContain('\\u001b[2J');
    expect(out).not.toContain('\u001b');
    // The page is as long as a note, in one line.
    expect(out).toMatch(/\n==== 001\.page\.json\n\d+ bytes, SHA-256 [0-9a-f]{64}(?:\n|$)/);
    expect((await run(['text', join(root, 'none.pdf')])).status).toBe(3);
  });
});
