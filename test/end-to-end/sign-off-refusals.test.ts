import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { PDFDocument } from '@cantoo/pdf-lib';
import { beforeAll, describe, expect, test } from 'vitest';
import { spread } from '../support/at-length.ts';
import { GitRepository } from '../support/git-repository.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import type { Outcome } from '../support/run-command.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { writeKey } from '../support/write-key.ts';
import { FRONT_MATTER, noteWith, PROJECT, writeProject } from '../support/write-project.ts';

const GIVEN =
  'arrangement: common-earth\nline_lead: 1 m\nearth_lead: 1 m\nresidual_voltage: 33 kV\nsteepness: 10 kA/us';
const PEOPLE = `company: { name: An office }
people:
  adams: { name: A. Adams }
  brown: { name: B. Brown }
  clark: { name: C. Clark }
`;
const FORMAL = `prepared: adams
checked: brown
approved: clark
sources_open: the texts are on order
revisions:
  - { revision: A, date: 2030-01-01, reason: first issue }
---
`;
const NOTE = noteWith(GIVEN).replace(FRONT_MATTER, FRONT_MATTER.replace(/---\n$/, FORMAL));
const HOLD = `
\`\`\`yaml holds
- id: H1
  missing: length of the earth lead
  effect: the voltage at the terminals
  owner: A. Adams
  due: 2030-02-16
\`\`\`
`;
const CHECK = ['--method', 'line-by-line', '--extent', 'everything'];

const root = temporaryFolder();
const keys = join(root, 'keys');
const sound = join(root, 'sound');
let made = 0;

/** A copy of the sound project, with what a test changes in it. */
function project(change: (folder: string) => void = () => {}): string {
  const folder = join(root, `p${++made}`);
  cpSync(sound, folder, { recursive: true });
  change(folder);
  return folder;
}

/** Every file of a folder but git's own, with its digest. */
function listing(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && !entry.parentPath.includes('.git'))
    .map((entry) => {
      const path = join(entry.parentPath, entry.name);
      return `${path} ${createHash('sha256').update(readFileSync(path)).digest('hex')}`;
    })
    .sort();
}

/** Runs a command that must refuse, and must leave everything as it was. */
async function refuse(folder: string, ...args: string[]): Promise<Outcome> {
  const before = listing(root);
  const outcome = await runInProcess(args, { cwd: folder });
  expect(listing(root)).toEqual(before);
  expect(outcome.out).not.toContain('wrote');
  expect(outcome.err).not.toMatch(/\n {4}at |internal|report it/);
  return outcome;
}

const edit =
  (name: string, change: (text: string) => string) =>
  (folder: string): void => {
    const text = readFileSync(join(folder, name), 'utf8');
    const changed = change(text);
    expect(changed).not.toBe(text);
    writeFileSync(join(folder, name), changed);
  };

function commit(folder: string): void {
  execFileSync('git', ['-c', 'user.name=A', '-c', 'user.email=a@a.example', 'commit', '-q', '-am', 'More'], {
    cwd: folder,
  });
}

const sign = (role: string, day = '2031-05-14', ...options: string[]): string[] => [
  ...['sign', '001.md', '--as', role, '--date', day],
  ...(role === 'checked' ? CHECK : []),
  ...options,
];

async function succeed(folder: string, ...args: string[]): Promise<string> {
  const { status, out, err } = await runInProcess(args, { cwd: folder });
  expect(`${status}: ${err}`).toMatch(/^0: /);
  return out;
}

describeWithTools(['git', 'ssh-keygen'], 'sign and issue refuse, and write nothing', () => {
  let signed = '';

  beforeAll(async () => {
    mkdirSync(keys);
    mkdirSync(sound);
    for (const name of ['adams', 'stranger']) {
      writeKey(join(keys, name), '');
    }
    writeFileSync(join(keys, 'damaged'), 'no key\n');
    writeProject(sound, {
      'project.yaml': `${PROJECT}${PEOPLE}`,
      '001.md': NOTE,
      allowed_signers: `adams ${readFileSync(join(keys, 'adams.pub'), 'utf8')}`,
    });
    await succeed(sound, 'compile', '001.md', '--no-pdf', '--html');
    rmSync(join(sound, '001.html'));
    new GitRepository(sound).commitAll('First');
    signed = project();
    for (const role of ['prepared', 'checked', 'approved']) await succeed(signed, ...sign(role));
    execFileSync('git', ['add', '-A'], { cwd: signed });
    commit(signed);
  });

  const notSigned: readonly [
    string,
    { args: () => string[]; change?: (folder: string) => void; status?: number; says: string | RegExp },
  ][] = [
    [
      'a role that is not known',
      { args: () => sign('reviewed'), status: 2, says: /prepared.*checked.*approved/ },
    ],
    [
      'a key that is not there',
      {
        args: () => sign('prepared', '2031-05-14', '--key', join(keys, 'none')),
        status: 3,
        says: 'none cannot be read',
      },
    ],
    [
      'a folder for a key',
      { args: () => sign('prepared', '2031-05-14', '--key', keys), status: 3, says: 'cannot be read' },
    ],
    [
      'a file that is no key',
      {
        args: () => sign('prepared', '2031-05-14', '--key', join(keys, 'damaged')),
        status: 3,
        says: 'ssh-keygen did not sign',
      },
    ],
    [
      'the key of a stranger',
      {
        args: () => sign('prepared', '2031-05-14', '--key', join(keys, 'stranger')),
        status: 3,
        says: 'the signer is not allowed: the key is none of those that allowed_signers names',
      },
    ],
    [
      'no list of signers',
      {
        args: () => sign('prepared', '2031-05-14', '--key', join(keys, 'adams')),
        change: (folder) => rmSync(join(folder, 'allowed_signers')),
        status: 3,
        says: 'the project has no allowed_signers',
      },
    ],
    [
      'a line at fault in the list of signers',
      {
        args: () => sign('prepared'),
        change: edit('allowed_signers', (text) => `adams\n${text}`),
        says: /allowed_signers:1:1: error: .*a public key is missing/,
      },
    ],
    ['checked before prepared', { args: () => sign('checked'), says: "the sign-off 'prepared' is missing" }],
    ['approved before checked', { args: () => sign('approved'), says: "the sign-off 'prepared' is missing" }],
    [
      'a check without its method',
      { args: () => ['sign', '001.md', '--as', 'checked'], says: 'the method of checking is missing' },
    ],
    [
      'a method of one who prepared',
      { args: () => sign('prepared', '2031-05-14', ...CHECK), says: 'belong to a checker' },
    ],
    [
      'another person than the note names',
      {
        args: () => sign('prepared', '2031-05-14', '--by', 'brown'),
        says: "the note names 'adams' as 'prepared', not 'brown'",
      },
    ],
    [
      'one person in two roles',
      {
        args: () => sign('prepared'),
        change: (folder) => {
          edit('001.md', (text) => text.replace('checked: brown', 'checked: adams'))(folder);
        },
        says: "'adams' is 'checked' of this note too",
      },
    ],
    [
      'nobody named',
      {
        args: () => sign('prepared'),
        change: edit('001.md', (text) => text.replace('prepared: adams\n', '')),
        says: "the note names nobody as 'prepared'",
      },
    ],
    [
      'a person who is not known',
      {
        args: () => sign('prepared', '2031-05-14', '--by', 'zeno'),
        says: "'zeno' is no person of project.yaml",
      },
    ],
    [
      'a day that there is not',
      { args: () => sign('prepared', '2031-02-30'), status: 2, says: 'there is no such day' },
    ],
    [
      'a note that git does not have as it is',
      {
        args: () => sign('prepared'),
        change: edit('project.yaml', (text) => `${text}# more\n`),
        says: /project\.yaml:1:1: error: git does not have this file as it is now/,
      },
    ],
    [
      'results that git does not have',
      {
        args: () => sign('prepared'),
        change: (folder) => {
          execFileSync('git', ['rm', '-q', '--cached', '001.results.yaml'], { cwd: folder });
          const who = ['-c', 'user.name=A', '-c', 'user.email=a@a.example'];
          execFileSync('git', [...who, 'commit', '-q', '-m', 'Without'], { cwd: folder });
        },
        says: /001\.results\.yaml:1:1: error: git does not have/,
      },
    ],
    [
      'results that are not recorded',
      {
        args: () => sign('prepared'),
        change: (folder) => rmSync(join(folder, '001.results.yaml')),
        says: /001\.results\.yaml:1:1: error: /,
      },
    ],
    [
      'results that are other than computed',
      {
        args: () => sign('prepared'),
        change: edit('001.results.yaml', (text) =>
          text.replace('complies', 'does not comply').replace('1 m', '2 m'),
        ),
        says: 'the recorded results are not those that are computed now',
      },
    ],
    [
      'marks of a merge in the results',
      {
        args: () => sign('prepared'),
        change: edit('001.results.yaml', (text) => `<<<<<<< HEAD\n=======\n${text}>>>>>>> other\n`),
        says: /001\.results\.yaml:1:1: error: /,
      },
    ],
    [
      'marks of a merge in the sign-offs',
      {
        args: () => sign('prepared'),
        change: (folder) =>
          writeFileSync(join(folder, '001.signoff.yaml'), '# ours\n<<<<<<< HEAD\n=======\n>>>>>>> other\n'),
        says: /001\.signoff\.yaml:2:1: error: /,
      },
    ],
    [
      'marks of a merge in the register',
      {
        args: () => sign('prepared'),
        change: (folder) =>
          writeFileSync(join(folder, 'issues.yaml'), '<<<<<<< HEAD\n=======\n>>>>>>> other\n'),
        says: /issues\.yaml:1:1: error: /,
      },
    ],
    [
      'a folder without git',
      {
        args: () => sign('prepared'),
        change: (folder) => rmSync(join(folder, '.git'), { recursive: true }),
        status: 3,
        says: 'is not under git',
      },
    ],
    [
      'a fault of the source',
      {
        args: () => sign('prepared'),
        change: edit('001.md', (text) => text.replace('1 m', '1 kV')),
        says: /001\.md:\d+:\d+: error: 'line_lead' is a length/,
      },
    ],
    [
      'a project for a note',
      { args: () => ['sign', '.', '--as', 'prepared'], status: 2, says: 'is not a note' },
    ],
    [
      'a record of the checker that is not there',
      {
        args: () => [...sign('checked'), '--record', 'none.yaml'],
        status: 3,
        says: 'none.yaml cannot be read',
      },
    ],
    [
      'issue without sign-offs',
      { args: () => ['issue', '001.md'], says: "the sign-off 'prepared' is missing" },
    ],
  ];

  test.each(spread(notSigned, 8))('%s', async (_, { args, change, status = 1, says }) => {
    const outcome = await refuse(project(change), ...args());
    expect(outcome.err).toMatch(typeof says === 'string' ? new RegExp(says.replace(/[.()]/g, '\\$&')) : says);
    expect(outcome.status).toBe(status);
  });

  test.each([
    ['every formula, 電圧', 'U+96FB'],
    ['all inputs \u202e sllec', 'U+202E'],
  ])('the extent %j, which the page could not show, does not come into a record', async (extent, code) => {
    const folder = project();
    await succeed(folder, ...sign('prepared'));
    const check = ['--method', 'line-by-line', '--extent', extent];
    const { status, err } = await refuse(folder, ...sign('checked'), ...check);
    expect(err).toContain(code);
    expect(status).toBe(1);
  });

  test('a day to come is told, and so is a key that may sign no more today', async () => {
    const { err } = await runInProcess(sign('prepared', '9999-12-31'), { cwd: project() });
    expect(err).toMatch(/caution: 9999-12-31 is written as the day, which is after today, \d{4}-/);
    const key = join(root, 'expired');
    writeKey(key, '');
    const folder = project((at) => {
      const publicKey = readFileSync(`${key}.pub`, 'utf8').trim();
      writeFileSync(join(at, 'allowed_signers'), `adams valid-before="20240301" ${publicKey}\n`);
      execFileSync('git', ['add', 'allowed_signers'], { cwd: at });
      commit(at);
    });
    const back = await runInProcess([...sign('prepared', '2024-02-20'), '--key', key], { cwd: folder });
    expect(back.status).toBe(0);
    expect(back.err).toMatch(
      /caution: on 2024-02-20 the key may sign, and today, \d{4}-\d\d-\d\d, it may not/,
    );
    expect(back.err).not.toContain('is after today');
  });

  test('a key that was revoked, a key of nobody, and a list of revoked keys that is none', async () => {
    const key = join(root, 'lost');
    writeKey(key, '');
    const publicKey = readFileSync(`${key}.pub`, 'utf8');
    const withLists = (revoked: string) =>
      project((at) => {
        writeFileSync(join(at, 'allowed_signers'), `adams ${publicKey}`);
        writeFileSync(join(at, 'revoked_keys'), revoked);
        execFileSync('git', ['add', 'allowed_signers', 'revoked_keys'], { cwd: at });
        commit(at);
      });
    const signing = [...sign('prepared'), '--key', key];
    const revoked = await refuse(withLists(publicKey), ...signing);
    expect(revoked.err).toMatch(/would be void: its key was revoked\n {2}sign with another key/);
    expect(revoked.status).toBe(3);
    const none = await refuse(withLists('none yet\n'), ...signing);
    expect(none.err).toMatch(
      /revoked_keys:1:1: error: this is no list of revoked keys: line 1 is no public key/,
    );
    expect(none.status).toBe(1);
    await succeed(withLists('# nothing yet\n'), ...signing);
    const uncommitted = withLists('# nothing yet\n');
    writeFileSync(join(uncommitted, 'revoked_keys'), '# nothing at all\n');
    const { err } = await refuse(uncommitted, ...signing);
    expect(err).toMatch(/revoked_keys:1:1: error: git does not have this file as it is now/);
  });

  // Whoever runs as root may read every file: a folder cannot be read as a key by anybody.
  test('a key that cannot be read', async () => {
    const { status, err } = await refuse(sound, ...sign('prepared', '2031-05-14', '--key', keys));
    expect(err).toContain('cannot be read');
    expect(status).toBe(3);
  });

  test('one who has prepared does not check, though the note names nobody', async () => {
    const folder = project(edit('001.md', (text) => text.replace(/checked: brown\n/, '')));
    await succeed(folder, 'compile', '001.md', '--no-pdf', '--html');
    rmSync(join(folder, '001.html'));
    commit(folder);
    await succeed(folder, ...sign('prepared'));
    const { err, status } = await refuse(folder, ...sign('checked'), '--by', 'adams');
    expect(err).toContain("'adams' is 'prepared' of this note too");
    expect(status).toBe(1);
    const text = readFileSync(join(folder, '001.signoff.yaml'), 'utf8');
    await succeed(folder, ...sign('checked'), '--by', 'brown');
    expect(readFileSync(join(folder, '001.signoff.yaml'), 'utf8').startsWith(text)).toBe(true);
  });

  describe('where all have signed', () => {
    const copy = (change: (folder: string) => void = () => {}): string => {
      const folder = join(root, `s${++made}`);
      cpSync(signed, folder, { recursive: true });
      change(folder);
      return folder;
    };
    const REGISTER = (revision: string, day = '2031-05-15'): string =>
      [
        `- number: "1"\n  revision: ${revision}\n  date: ${day}\n  status: for-review\n  reason: first issue`,
        '  prepared: A\n  checked: B\n  approved: C\n  file: x.pdf\n  source_sha256: "00"',
        '  results_sha256: "00"\n  software: surgenote 0\n',
      ].join('\n');
    const write = (name: string, text: string) => (folder: string) => writeFileSync(join(folder, name), text);

    test('a record edited by hand: evaluate says void and why, issue refuses', async () => {
      const folder = copy(
        edit('001.signoff.yaml', (text) => text.replace('name: B. Brown', 'name: B. Braun')),
      );
      const { out } = await runInProcess(['evaluate', '001.md'], { cwd: folder });
      expect(out).toMatch(/prepared: valid/);
      expect(out).toMatch(/checked: void \(the record was changed by hand\): B\. Braun/);
      expect(out).toMatch(/approved: void \(a record before it was changed or removed\)/);
      const { err, status } = await refuse(folder, 'issue', '001.md', '--date', '2031-05-15');
      expect(err).toContain("the sign-off 'checked' is void: the record was changed by hand");
      expect(status).toBe(1);
    });

    test('a sign-off that is there and valid is not given again', async () => {
      const { err, status } = await refuse(copy(), ...sign('approved', '2031-05-16'));
      expect(err).toContain("the sign-off 'approved' is there, and valid");
      expect(status).toBe(1);
    });

    test.each<[string, (folder: string) => void, string, string]>([
      [
        'marks of a merge in the register',
        write('issues.yaml', '<<<<<<< a\n=======\n>>>>>>> b\n'),
        '2031-05-15',
        'issues.yaml:1:1: error: ',
      ],
      [
        'a register that is at fault',
        write('issues.yaml', '- number: "1"\n'),
        '2031-05-15',
        'issues.yaml:1:',
      ],
      [
        'a revision that has been issued',
        write('issues.yaml', REGISTER('A')),
        '2031-05-16',
        'revision A has been issued',
      ],
      [
        'a revision that the history does not have',
        write('issues.yaml', REGISTER('C')),
        '2031-05-16',
        'revision A does not follow revision C',
      ],
      [
        'a day before the last issue',
        write('issues.yaml', REGISTER('0', '2031-06-01')),
        '2031-05-16',
        '2031-05-16 lies before the last issue',
      ],
      [
        'a day before the sign-offs',
        () => {},
        '2031-05-13',
        "the sign-off 'prepared' is dated 2031-05-14, after the issue",
      ],
    ])('issue refuses %s', async (_, change, day, says) => {
      const { err, status } = await refuse(copy(change), 'issue', '001.md', '--date', day);
      expect(err).toContain(says);
      expect(status).toBe(1);
    });

    test('records that git does not have', async () => {
      const folder = copy(edit('001.signoff.yaml', (text) => `${text}# kept nowhere\n`));
      const { err, status } = await refuse(folder, 'issue', '001.md', '--date', '2031-05-15');
      expect(err).toMatch(/001\.signoff\.yaml:1:1: error: git does not have this file as it is now/);
      expect(status).toBe(1);
    });

    test('a PDF that lies there already is not replaced', async () => {
      const folder = copy(write('001.rev-A.pdf', 'yesterday'));
      const { err, status } = await refuse(folder, 'issue', '001.md', '--date', '2031-05-15');
      expect(err).toContain('001.rev-A.pdf is there already');
      expect(status).toBe(3);
    });

    test('an open hold stands against issue, at its place', async () => {
      const folder = project(edit('001.md', (text) => `${text}${HOLD}`));
      await succeed(folder, 'compile', '001.md', '--no-pdf', '--html');
      rmSync(join(folder, '001.html'));
      commit(folder);
      for (const role of ['prepared', 'checked', 'approved']) await succeed(folder, ...sign(role));
      const { err, status } = await refuse(folder, 'issue', '001.md', '--date', '2031-05-15');
      expect(err).toMatch(/001\.md:\d\d:\d+: error: the hold H1 is open: length of the earth lead/);
      expect(status).toBe(1);
    });
  });
});

describe('verify refuses what it cannot verify', () => {
  test.each<[string, () => Promise<Uint8Array> | Uint8Array, string]>([
    ['no PDF', () => Buffer.from('hello\n'), 'PDF'],
    ['nothing', () => Buffer.alloc(0), 'PDF'],
    ['a damaged PDF', async () => (await foreign('surgenote 0.0.0')).subarray(0, 200), 'PDF'],
    ['a PDF of another program', () => foreign('Another program 1'), 'was not made by surgenote'],
    ['a PDF without its source', () => foreign('surgenote 0.0.0'), 'does not carry its source'],
  ])('%s', async (name, bytes, says) => {
    const folder = join(root, name.replaceAll(' ', '-'));
    mkdirSync(folder);
    writeFileSync(join(folder, 'x.pdf'), await bytes());
    const { err, out, status } = await refuse(folder, 'verify', 'x.pdf');
    expect(err).toContain('x.pdf');
    expect(err).toContain(says);
    expect(out).toBe('');
    expect(status).toBe(3);
  });

  test('a PDF that is not there', async () => {
    expect(await refuse(root, 'verify', 'none.pdf')).toMatchObject({ status: 3, out: '' });
  });
});

async function foreign(creator: string): Promise<Uint8Array> {
  const pdf = await PDFDocument.create();
  pdf.addPage();
  pdf.setCreator(creator);
  return pdf.save();
}

test('compile tells what a formal document needs; a new project lacks nothing', async () => {
  const folder = join(root, 'formal');
  mkdirSync(folder);
  writeProject(folder, { '001.md': noteWith(GIVEN) });
  const { status, err } = await runInProcess(['compile', '001.md', '--no-pdf', '--html'], { cwd: folder });
  expect(status).toBe(0);
  expect(err.match(/^001\.md:1:1: caution: .*$/gm)).toEqual([
    "001.md:1:1: caution: nobody is named as 'approved'",
    "001.md:1:1: caution: nobody is named as 'checked'",
    "001.md:1:1: caution: nobody is named as 'prepared'",
    '001.md:1:1: caution: the legal owner of the document is not named',
    '001.md:1:1: caution: the revision history has no row for revision A',
  ]);
  await succeed(root, 'new', join(root, 'fresh'));
  const fresh = await runInProcess(['compile', join(root, 'fresh'), '--no-pdf', '--html']);
  expect(fresh).toMatchObject({ status: 0, err: '' });
});
