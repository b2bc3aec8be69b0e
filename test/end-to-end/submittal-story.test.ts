import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { succeed } from '../support/formal-project.ts';
import { GitRepository } from '../support/git-repository.ts';
import { printEachPageOnce } from '../support/kept-printer.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { replaceAttachment } from '../support/replace-attachment.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { writeProject } from '../support/write-project.ts';

printEachPageOnce();

// Some chapters print.
const PROJECT = `title: Heron Lock
client: Lock board
site: Heron Lock
company: { name: An office }
people:
  adams: { name: A. Adams }
  brown: { name: B. Brown }
  clark: { name: C. Clark }
equipment:
  TX1:
    withstand: { value: 75 kV peak, source: rating plate }
`;

/** An arrester connection, of which the leads decide. */
function note(number: number, lineLead: string, extra = ''): string {
  return `---
number: HL-${number}
title: Arresters of bay ${number - 400}
revision: A
status: for-construction
date: 2025-03-01
prepared: adams
checked: brown
approved: clark
revisions:
  - { revision: A, date: 2025-03-01, reason: first issue }
sources_open: the standards are on order
${extra}---

## Bay

See [the calculation](#bay), [R1] and note ${number === 401 ? 402 : 401}.

\`\`\`yaml calc
id: bay
calculation: arrester-connection
given:
  arrangement: common-earth
  line_lead: { value: ${lineLead}, source: "survey, assumption A1" }
  earth_lead: { value: 0.5 m, source: survey }
  residual_voltage: { value: 33 kV peak, source: test report }
  steepness: { value: 10 kA/us, source: survey }
  impulse_withstand: !ref equipment.TX1.withstand
\`\`\`

## Registers

\`\`\`yaml assumptions
- { id: A1, text: The lead of bay ${number - 400} is as on drawing D-4, state: confirmed, closed_by: survey }
\`\`\`

\`\`\`yaml references
- { id: R1, title: Layout of the bays, designation: D-4, edition: B }
\`\`\`
`;
}

const SUBMITTAL = `number: HL-S1
title: Arresters of both bays
revision: A
status: for-construction
date: 2025-03-05
recipient: The utility
revisions:
  - { revision: A, date: 2025-03-05, reason: for construction }
introduction: |
  The arresters of bay 1 stand {{ 401/bay.terminal_voltage }}, those of bay 2
  {{ 402/bay.terminal_voltage }}.
notes:
  - 402
  - { note: 401-bay.md, heading: The first bay }
`;

const root = temporaryFolder();
const folder = join(root, 'lock');
const path = (name: string): string => join(folder, name);
const read = (name: string): string => readFileSync(path(name), 'utf8');
const write = (name: string, text: string): void => writeFileSync(path(name), text);
const run = (...args: string[]) => runInProcess(args, { cwd: folder });

/** The errors of a command that must fail, line by line. */
async function refused(...args: string[]): Promise<string[]> {
  const { status, err } = await run(...args);
  expect(status).toBe(1);
  return [...err.matchAll(/error: (.*)/g)].map((match) => match[1]!);
}

interface Finding {
  readonly about: string;
  readonly state: string;
  readonly text: string;
}

async function verify(pdf: string, ...options: string[]): Promise<readonly Finding[]> {
  const { out } = await run('verify', pdf, '--json', '--date', '2025-06-01', ...options);
  return (JSON.parse(out) as { findings: readonly Finding[] }).findings;
}

const stateOf = (findings: readonly Finding[], about: string) =>
  findings.find((one) => one.about === about)?.state;

describeWithTools(['git'], 'a submittal of two notes', () => {
  let repository: GitRepository;

  beforeAll(async () => {
    writeProject(folder, {
      'project.yaml': PROJECT,
      '401-bay.md': note(401, '0.4 m'),
      '402-bay.md': note(402, '0.7 m'),
      'submittal.yaml': SUBMITTAL,
    });
    await succeed(folder, 'compile', '.', '--no-pdf', '--html');
    repository = new GitRepository(folder);
    repository.commitAll('First');
  });

  test('its page has every id once, every link leads somewhere, and numbers say of which note they are', () => {
    const html = read('submittal.html');
    const body = html.slice(html.indexOf('<body>'));
    const ids = [...body.matchAll(/<[^>]*\sid="([^"]*)"/g)].map((match) => match[1]!);
    expect(ids.filter((id, i) => ids.indexOf(id) !== i)).toEqual([]);
    const targets = [...body.matchAll(/href="#([^"]*)"/g)].map((match) => match[1]!);
    expect(targets.length).toBeGreaterThan(60);
    expect(targets.filter((target) => !ids.includes(target))).toEqual([]);
    expect(ids).toEqual(expect.arrayContaining(['note-401', 'note-402', 'n401-calc-bay', 'n402-calc-bay']));
    const headings = [...body.matchAll(/<h([1-6])[^>]*>(.*?)<\/h\1>/gs)].map(
      ([, level, text]) => `${level} ${text!.replace(/<[^>]*>/g, '').trim()}`,
    );
    expect(headings).toEqual(
      expect.arrayContaining([
        '1 Note 402 Arresters of bay 2',
        '2 402-1 Bay',
        '3 Calculation 402-1 Connection of a surge arrester',
        '1 Note 401 The first bay',
        '3 Calculation 401-1 Connection of a surge arrester',
      ]),
    );
    expect(headings.indexOf('1 Note 402 Arresters of bay 2')).toBeLessThan(
      headings.indexOf('1 Note 401 The first bay'),
    );
    expect(body).toMatch(/and <a href="#note-402">note 402<\/a>/);
    // 33 kV and 10 kA/us over 1 uH/m of both leads: 33 + 10 (0.4 + 0.5) kV, and 33 + 10 (0.7 + 0.5) kV.
    const introduction = /<h1 id="introduction"[^>]*>.*?<\/section>/s.exec(body)![0].replace(/<[^>]*>/g, '');
    expect(introduction).toMatch(/bay 1 stand 42(?:\.0)?\skV, those of bay 2\s+45(?:\.0)?\skV/);
    // One document of the project that both notes list, and one assumption of each.
    expect(body.match(/<td>D-4<\/td>/g)?.length).toBe(3);
    expect(body).toMatch(/<a href="#n402-reference-R1">402<\/a>, <a href="#n401-reference-R1">401<\/a>/);
  });

  test('is not signed, and is not issued before its notes are', async () => {
    const { status, err } = await run('sign', 'submittal.yaml', '--as', 'prepared');
    expect([status, err]).toEqual([2, expect.stringContaining('a submittal is not signed: its notes are')]);
    const errors = await refused('issue', 'submittal.yaml', '--date', '2025-03-20');
    expect(errors).toEqual(
      expect.arrayContaining([
        "402-bay.md: the sign-off 'prepared' is missing",
        "401-bay.md: the sign-off 'approved' is missing",
      ]),
    );
  });

  test('is issued when all have signed, and verified from its PDF alone', async () => {
    for (const name of ['401-bay.md', '402-bay.md']) {
      const day = ['--date', '2025-03-10'];
      await succeed(folder, 'sign', name, '--as', 'prepared', ...day);
      const check = ['--method', 'line-by-line', '--extent', 'everything'];
      await succeed(folder, 'sign', name, '--as', 'checked', ...check, ...day);
      await succeed(folder, 'sign', name, '--as', 'approved', ...day);
    }
    repository.commitAll('Signed');
    // Of a purpose of its own: refused, whoever has signed.
    write('submittal.yaml', SUBMITTAL.replace('status: for-construction', 'status: for-review'));
    expect(await refused('issue', 'submittal.yaml', '--date', '2025-03-20')).toEqual(
      expect.arrayContaining([
        'the purpose of issue of 402-bay.md is for-construction, that of the submittal for-review',
      ]),
    );
    write('submittal.yaml', SUBMITTAL);
    await succeed(folder, 'issue', 'submittal.yaml', '--date', '2025-03-20');
    expect(read('issues.yaml')).toMatch(
      /- number: HL-S1\n[\s\S]*notes:\n\s+- number: HL-402\n[\s\S]*- number: HL-401\n/,
    );
    const findings = await verify('submittal.rev-A.pdf', '--register', 'issues.yaml');
    const contradicted = findings.filter(({ state }) => state === 'contradicted');
    expect(contradicted).toEqual([]);
    for (const about of [
      'source of 401',
      'results of 402',
      'pages',
      'page of the source',
      'file',
      'issue',
      'notes of the issue',
    ]) {
      expect([about, stateOf(findings, about)]).toEqual([about, 'proven']);
    }
    expect(await refused('issue', 'submittal.yaml', '--date', '2025-03-21')).toEqual(
      expect.arrayContaining(['revision A has been issued']),
    );
  });

  test('one note forged within its PDF contradicts it', async () => {
    const forged = path('forged.pdf');
    await replaceAttachment(path('submittal.rev-A.pdf'), forged, '401-bay.md', (text) =>
      text.replace('line_lead: { value: 0.4 m', 'line_lead: { value: 0.1 m'),
    );
    const findings = await verify(forged, '--no-print', '--register', path('issues.yaml'));
    for (const about of [
      'source of 401',
      'results of 401',
      'sign-off prepared of 401',
      'notes of the issue',
      'issue',
    ]) {
      expect([about, stateOf(findings, about)]).toEqual([about, 'contradicted']);
    }
    expect(stateOf(findings, 'source of 402')).toBe('proven');
  });

  test('a later revision of one note supersedes it, and it can be withdrawn', async () => {
    const register = read('issues.yaml');
    const entry = `- number: HL-402
  revision: B
  date: "2025-04-01"
  status: for-construction
  reason: other leads
  prepared: A. Adams, 2025-03-30
  checked: B. Brown, 2025-03-30
  approved: C. Clark, 2025-03-31
  file: 402-bay.rev-B.pdf
  source_sha256: ${'0'.repeat(64)}
  results_sha256: ${'0'.repeat(64)}
  software: surgenote 0.0.0
  follows: ${digestOf(register)}
`;
    write('later.yaml', `${register}${entry}`);
    const later = await verify('submittal.rev-A.pdf', '--no-print', '--register', path('later.yaml'));
    const notes = later.find(({ about }) => about === 'notes of the issue');
    expect(notes?.state).toBe('contradicted');
    expect(notes?.text).toContain('revision A of HL-402 is superseded by revision B of 2025-04-01');
    await succeed(
      folder,
      'withdraw',
      'submittal.yaml',
      '--reason',
      'bay 2 is rebuilt',
      '--date',
      '2025-05-01',
    );
    const withdrawn = await verify('submittal.rev-A.pdf', '--no-print', '--register', path('issues.yaml'));
    expect(withdrawn.find(({ about }) => about === 'issue')).toMatchObject({
      state: 'contradicted',
      text: expect.stringContaining('withdrawn on 2025-05-01 (bay 2 is rebuilt)'),
    });
    const { out } = await run('evaluate', 'submittal.yaml');
    expect(out).toContain('submittal.yaml: HL-S1 revision A, Arresters of both bays: withdrawn');
  });

  test('is compared with what it holds now: its list, and what changed in each note', async () => {
    write(
      'submittal.yaml',
      SUBMITTAL.replace(/notes:[\s\S]*/, 'notes: [401, 402]\n').replace('The utility', 'The lock board'),
    );
    write('402-bay.md', note(402, '0.8 m'));
    const { status, out } = await run('compare', 'submittal.rev-A.pdf', 'WORK', '--json');
    expect(status).toBe(0);
    const { submittals, notes } = JSON.parse(out) as Record<'submittals' | 'notes', { path: string }[]>;
    expect(submittals).toEqual([
      {
        path: 'submittal.yaml',
        state: 'changed',
        facts: [
          { name: 'recipient', before: 'The utility', after: 'The lock board' },
          { name: 'order of notes', before: '402, 401', after: '401, 402' },
          {
            name: 'note 401',
            before: 'HL-401 revision A, The first bay',
            after: 'HL-401 revision A, Arresters of bay 1',
          },
        ],
      },
    ]);
    expect(notes.map((one) => one.path)).toEqual(['402-bay.md']);
    const words = await run('compare', 'submittal.rev-A.pdf', 'WORK');
    expect(words.out).toMatch(/submittal\.yaml\n {2}recipient: The utility -> The lock board\n/);
    write('submittal.yaml', SUBMITTAL);
    write('402-bay.md', note(402, '0.7 m'));
  });

  test('what keeps notes from being one document is told, all in one run', async () => {
    write('403-bay.md', note(403, '0.9 m', 'locale: en-US\npage_size: Letter\n'));
    write('404-bay.md', note(404, 'much'));
    write(
      'wrong.submittal.yaml',
      SUBMITTAL.replace('HL-S1', 'HL-403')
        .replace('  - 402', '  - 405\n  - 404\n  - 403')
        .replace('{{ 402/', '{{ 406/'),
    );
    write('other.submittal.yaml', SUBMITTAL);
    const errors = await refused('evaluate', 'wrong.submittal.yaml');
    expect(errors).toEqual(
      expect.arrayContaining([
        "the project has no note '405'",
        'the note 404-bay.md has errors, and no document can be made with it',
        '403-bay.md has the number HL-403 too',
        'the page size of 403-bay.md is Letter, that of 404-bay.md A4: one document has one page size',
        'the language of 403-bay.md is en-US, that of 404-bay.md en-GB: one document has one language',
        'the submittal lists no note 406',
      ]),
    );
    expect(await refused('evaluate', 'submittal.yaml')).toEqual([
      'other.submittal.yaml has the number HL-S1 too',
    ]);
  });
});

function digestOf(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
