import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { chmodSync, cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { findBrowser } from '../../src/print/find-browser.ts';
import { boardSchedule } from '../support/board-schedule.ts';
import { signAll, writeFormalProject } from '../support/formal-project.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, noteWith, PROJECT, writeProject } from '../support/write-project.ts';
import {
  type FaultOptions,
  type FaultRun,
  FaultTable,
  listAll,
  ownTemporary,
  runFaulty,
} from './fault-trial.ts';

// What happens around the built program (`npm run build` first): devices that are full, folders that cannot be written, processes that are killed, browsers that are none. Whatever
// it is, it is said, the exit status is the documented one, files are whole, and all of a group or none are there.

/** How many moments a run is killed at; the table is written with 50. */
const MOMENTS = Number(process.env.ENDURANCE_MOMENTS ?? (process.env.ENDURANCE_TABLE ? 50 : 4));

const root = temporaryFolder();
const table = new FaultTable();
const NOTE = noteWith(
  'arrangement: common-earth\nline_lead: 0.6 m\nearth_lead: 0.8 m\nresidual_voltage: 33 kV\nsteepness: 10 kA/us\nimpulse_withstand: 75 kV',
);
/** What compiling adds to a project of one note. */
const WHOLE = ['001.pdf', '001.print.yaml', '001.results.yaml'];
const SOURCES = ['001.md', 'project.yaml'];

let made = 0;
let usual = 0;
let reference: Buffer;

/** A project of one note, in a folder of its own beside one for temporary files. */
function project(files: Record<string, string> = {}): { folder: string; tmp: string } {
  const home = join(root, `p${++made}`);
  const folder = join(home, 'project');
  writeProject(folder, { '001.md': NOTE, ...files });
  return { folder, tmp: ownTemporary(home) };
}

/** What a run left beside the sources, in words; more than that in the temporary folder. */
function leftIn({ folder, tmp }: { folder: string; tmp: string }): string {
  const files = listAll(folder).filter((path) => !SOURCES.includes(path));
  const temporary = listAll(tmp).filter((path) => !path.includes('/'));
  const own = files.length === 0 ? 'nothing' : files.join(', ');
  return temporary.length === 0 ? own : `${own}; in TMPDIR: ${temporary.join(', ')}`;
}

/** What was said of the failure, or else of the work: cautions of the note and their hints stand before it. */
function firstLine({ err, out }: FaultRun): string {
  const lines = (text: string): string[] =>
    text.split('\n').filter((one) => one.trim() !== '' && !/^\s|: caution: /.test(one));
  const line = lines(err)[0] ?? lines(out)[0] ?? 'nothing was said';
  return line
    .replaceAll(/\/\S*\/(?=[^/\s]+)/g, '')
    .replaceAll(/\.surgenote-\w+/g, '.surgenote-...')
    .slice(0, 240);
}

/** Runs, enters in the table, and gives what to hold. */
async function trial(
  done: string,
  args: readonly string[],
  place: { folder: string; tmp: string },
  options: Partial<FaultOptions> = {},
): Promise<FaultRun & { readonly left: string }> {
  const env = { TMPDIR: place.tmp, ...options.env };
  const run = await runFaulty(args, { cwd: place.folder, ...options, env });
  const left = leftIn(place);
  table.add(done, firstLine(run), String(run.status ?? run.signal), left);
  expect(run.err, done).not.toMatch(/a bug in surgenote|\n\s+at /);
  return { ...run, left };
}

beforeAll(async () => {
  const place = project();
  // The first run unpacks the browser.
  await runFaulty(['compile', '.'], { cwd: place.folder });
  const { status, took } = await runFaulty(['compile', '.'], { cwd: place.folder });
  expect(status).toBe(0);
  usual = took;
  reference = readFileSync(join(place.folder, '001.pdf'));
});
afterAll(() => {
  if (process.env.ENDURANCE_TABLE) writeFileSync('test/hostile/tables/faults.md', table.text());
});

describe('a device that is full', () => {
  test('the folder of the project', async () => {
    const place = project();
    // Of files of more than 8 kB nothing more is written, as on a disk with no more room.
    const run = await trial(
      'compile, no file may grow beyond 8 kB',
      ['compile', '.', '--html', '--no-pdf'],
      place,
      {
        shell: "trap '' XFSZ; ulimit -f 8; $SURGENOTE",
      },
    );
    expect([run.status, run.left]).toEqual([3, 'nothing']);
    expect(run.err).toContain('001.html cannot be written: it is larger than a file may be here');
  });

  test('a small file system of its own', async () => {
    const place = project();
    const small = join(place.folder, '..', 'small');
    mkdirSync(small);
    try {
      execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=64k', 'none', small], { stdio: 'ignore' });
    } catch {
      // Not root, or a container that may not: the limit above stands for it.
      table.add('compile --out into a file system of 64 kB', 'not tried: may not be mounted here', '-', '-');
      return;
    }
    try {
      cpSync(place.folder, small, { recursive: true });
      const there = { folder: small, tmp: place.tmp };
      const run = await trial('compile in a file system of 64 kB', ['compile', '.'], there);
      expect([run.status, run.left]).toEqual([3, 'nothing']);
      expect(run.err).toMatch(/no space|full/i);
    } finally {
      execFileSync('umount', [small]);
    }
  });

  test.each([
    ['evaluate > /dev/full', ['evaluate', '.'], '$SURGENOTE > /dev/full', 3],
    ['evaluate --json | head -1', ['evaluate', '.', '--json'], 'set -o pipefail; $SURGENOTE | head -1', 0],
    ['describe --schema | head -1', ['describe', '--schema'], 'set -o pipefail; $SURGENOTE | head -1', 0],
    ['evaluate, standard output closed', ['evaluate', '.'], '$SURGENOTE >&-', 0],
    ['evaluate, standard output and error closed', ['evaluate', '.'], '$SURGENOTE >&- 2>&-', 0],
    [
      'compile --html --no-pdf > /dev/full',
      ['compile', '.', '--html', '--no-pdf'],
      '$SURGENOTE > /dev/full',
      3,
    ],
  ])('%s', async (name, args, shell, status) => {
    const run = await trial(name, args, project(), { shell });
    expect(run.status).toBe(status);
  });
});

describe('what is named as a file and is none', () => {
  test.each([
    [
      'verify of a pipe that nobody writes into',
      ['verify', 'pipe'],
      'mkfifo pipe; $SURGENOTE; s=$?; rm pipe; exit $s',
      3,
    ],
    ['verify /dev/zero', ['verify', '/dev/zero'], '$SURGENOTE', 3],
    ['verify /dev/stdin < /dev/zero', ['verify', '/dev/stdin'], '$SURGENOTE < /dev/zero', 3],
    ['text of what the shell hands over', ['text', '/dev/fd/7'], '$SURGENOTE 7< <(cat 001.md)', 0],
    ['evaluate of a file that is named by an empty word', ['evaluate', ''], '$SURGENOTE', 2],
  ])('%s', async (name, args, shell, status) => {
    const run = await trial(name, args, project(), { shell });
    expect([run.status, run.left]).toEqual([status, 'nothing']);
  });
});

describe('folders', () => {
  test('a project that this user may only read', async () => {
    // The temporary folder of the tests is for one user alone.
    const home = mkdtempSync('/tmp/surgenote-test-');
    try {
      const place = { folder: join(home, 'project'), tmp: ownTemporary(home) };
      writeProject(place.folder, { '001.md': NOTE });
      chmodSync(home, 0o755);
      chmodSync(place.tmp, 0o777);
      chmodSync(place.folder, 0o555);
      const own = join(home, 'home');
      mkdirSync(own);
      chmodSync(own, 0o777);
      // Root may write everywhere.
      const someone = { env: { HOME: own }, ...(process.getuid?.() === 0 ? { uid: 65_534 } : {}) };
      const compile = ['compile', '.', '--html', '--no-pdf'];
      const run = await trial('compile of a project that the user may only read', compile, place, someone);
      expect([run.status, run.left]).toEqual([3, 'nothing']);
      const out = [...compile, '--out', join(place.tmp, 'out')];
      const elsewhere = await trial('the same with --out elsewhere', out, place, someone);
      expect(elsewhere.status).toBe(0);
      const read = await trial(
        'evaluate of a project that the user may only read',
        ['evaluate', '.'],
        place,
        someone,
      );
      expect(read.status).toBe(0);
    } finally {
      chmodSync(join(home, 'project'), 0o755);
      rmSync(home, { recursive: true });
    }
  });

  test('something else in the place', async () => {
    const place = project({ '001.html/file': 'x', out: 'a file' });
    const html = await trial(
      'compile, a folder in the place of a file',
      ['compile', '.', '--html', '--no-pdf'],
      place,
    );
    expect([html.status, html.left]).toEqual([3, '001.html, 001.html/file, out']);
    const out = await trial(
      'compile --out, a file in the place of the folder',
      ['compile', '.', '--html', '--no-pdf', '--out', 'out'],
      place,
    );
    expect([out.status, out.left]).toEqual([3, '001.html, 001.html/file, out']);
  });

  test.each<[string, Record<string, string | undefined>]>([
    ['no HOME', { HOME: undefined, XDG_CACHE_HOME: undefined }],
    ['HOME=/proc', { HOME: '/proc', XDG_CACHE_HOME: undefined }],
    ['HOME is not there', { HOME: join(root, 'no-home'), XDG_CACHE_HOME: undefined }],
    ['caches that are empty', { XDG_CACHE_HOME: join(root, 'no-cache') }],
    ['no TMPDIR', { TMPDIR: undefined }],
  ])('compile, %s', async (name, env) => {
    const place = project();
    const run = await trial(`compile, ${name}`, ['compile', '.'], place, { env });
    expect([run.status, run.left]).toEqual([0, WHOLE.join(', ')]);
    // The other was printed with all that earlier runs had left in caches.
    expect(readFileSync(join(place.folder, '001.pdf')).equals(reference)).toBe(true);
  });

  test.each([
    ['TMPDIR is not there', () => join(root, 'no-tmp')],
    ['TMPDIR is a file', () => resolve('package.json')],
  ])('compile, %s', async (name, make) => {
    const run = await trial(`compile, ${name}`, ['compile', '.'], project(), { env: { TMPDIR: make() } });
    expect([run.status, run.left]).toEqual([3, 'nothing']);
  });
});

/** So many things are tried at once. */
async function inPairs<T>(items: readonly T[], work: (item: T) => Promise<void>): Promise<void> {
  const waiting = [...items];
  const next = async (): Promise<void> => {
    for (let item = waiting.shift(); item !== undefined; item = waiting.shift()) await work(item);
  };
  await Promise.all([next(), next()]);
}

const moments = (longest: number): number[] =>
  Array.from({ length: MOMENTS }, (_, i) => Math.round(((i + 1) * longest * 1.15) / MOMENTS));

describe('processes', () => {
  test('compile is killed, and run again', async () => {
    const after = new Map<string, number>();
    await inPairs(moments(usual), async (killAfter) => {
      const place = project();
      const env = { TMPDIR: place.tmp };
      const killed = await runFaulty(['compile', '.'], { cwd: place.folder, env, killAfter });
      const files = listAll(place.folder).filter((path) => /^001\.(?:pdf|print|results)/.test(path));
      const words =
        killed.signal === null
          ? 'it was done'
          : files.length === 0
            ? 'no file yet'
            : `${files.length} files of ${WHOLE.length}, each whole`;
      after.set(words, (after.get(words) ?? 0) + 1);
      if (files.includes('001.pdf'))
        expect(readFileSync(join(place.folder, '001.pdf')).equals(reference)).toBe(true);
      const again = await runFaulty(['compile', '.'], { cwd: place.folder, env });
      expect(`${killAfter}: ${again.status} ${again.err}`).toMatch(/: 0 /);
      expect(`${killAfter}: ${leftIn(place)}`).toBe(`${killAfter}: ${WHOLE.join(', ')}`);
      expect(readFileSync(join(place.folder, '001.pdf')).equals(reference)).toBe(true);
    });
    const counts = [...after].sort().map(([words, count]) => `${words}: ${count}`);
    table.add(
      `compile, killed at ${MOMENTS} moments spread over a run, and run again`,
      `after the kill ${counts.join(', ')}; the next run has the same PDF, byte for byte`,
      'SIGKILL, then 0',
      `after the next run ${WHOLE.join(', ')}, and nothing of the killed one`,
    );
  });

  test('two compiles at once', async () => {
    const place = project();
    const env = { TMPDIR: place.tmp };
    const both = await Promise.all([1, 2].map(() => runFaulty(['compile', '.'], { cwd: place.folder, env })));
    for (const run of both) expect(`${run.status} ${run.err}`).toMatch(/^(?:0 |3 .*changed meanwhile)/);
    expect(both.some(({ status }) => status === 0)).toBe(true);
    expect(leftIn(place)).toBe(WHOLE.join(', '));
    expect(readFileSync(join(place.folder, '001.pdf')).equals(reference)).toBe(true);
    table.add(
      'two compiles of one note at once',
      'each waits for the other where it writes',
      both.map(({ status }) => status).join(' and '),
      WHOLE.join(', '),
    );
  });

  describe('issue', () => {
    const formal = join(root, 'formal', 'project');
    const issue = ['issue', '1.md', '--date', '2031-05-21'];
    let long = 0;

    beforeAll(async () => {
      mkdirSync(formal, { recursive: true });
      const repository = await writeFormalProject(formal, 1);
      await signAll(formal, '1.md');
      repository.commitAll('Signed');
      const copy = copyOf('first');
      long = (await runFaulty(issue, { cwd: copy.folder })).took;
    });

    function copyOf(name: string): { folder: string; tmp: string } {
      const home = join(root, `issue-${name}`);
      cpSync(formal, join(home, 'project'), { recursive: true });
      return { folder: join(home, 'project'), tmp: ownTemporary(home) };
    }

    /** One entry, and the PDF that it names; nothing else beside what was there. */
    function holdIssued({ folder, tmp }: { folder: string; tmp: string }): void {
      const register = readFileSync(join(folder, 'issues.yaml'), 'utf8');
      const digest = createHash('sha256')
        .update(readFileSync(join(folder, '1.rev-A.pdf')))
        .digest('hex');
      expect(register.match(/^- number:/gm)).toHaveLength(1);
      expect(register).toContain(`unsigned_pdf_sha256: ${digest}`);
      const before = listAll(formal);
      expect(listAll(folder).filter((path) => !before.includes(path))).toEqual([
        '1.rev-A.pdf',
        'issues.yaml',
      ]);
      expect(listAll(tmp)).toEqual([]);
    }

    test('is killed, and run again', async () => {
      let done = 0;
      await inPairs(moments(long), async (killAfter) => {
        const place = copyOf(`killed-${killAfter}`);
        const env = { TMPDIR: place.tmp };
        const killed = await runFaulty(issue, { cwd: place.folder, env, killAfter });
        const again = await runFaulty(issue, { cwd: place.folder, env });
        // The one that was killed may have been done; then there is nothing more to issue, and that is said.
        expect(`${killAfter}: ${again.status} ${again.err}`).toMatch(
          /: 0 |: [13] [\s\S]*(?:already|was issued|is issued)/,
        );
        if (again.status !== 0) done += 1;
        if (killed.status === 0) expect(again.status).not.toBe(0);
        holdIssued(place);
        rmSync(place.folder, { recursive: true });
      });
      table.add(
        `issue, killed at ${MOMENTS} moments spread over a run, and run again`,
        `${MOMENTS - done} times nothing had been issued, and the next run does it; ${done} times it was done, and the next run says so`,
        'SIGKILL, then 0, or 1 or 3 where it was done',
        'one entry in issues.yaml and the PDF of its digest, each time',
      );
    });

    test('two at once', async () => {
      const place = copyOf('twice');
      const env = { TMPDIR: place.tmp };
      const both = await Promise.all([1, 2].map(() => runFaulty(issue, { cwd: place.folder, env })));
      expect(both.map(({ status }) => status).sort()).toEqual([0, expect.toBeOneOf([1, 3])]);
      holdIssued(place);
      const refused = both.find(({ status }) => status !== 0)!;
      table.add(
        'two issues of one note at once',
        `one issues; the other: ${firstLine(refused)}`,
        both
          .map(({ status }) => status)
          .sort()
          .join(' and '),
        '1.rev-A.pdf, issues.yaml with one entry',
      );
    });
  });
});

describe('files that change while a note is printed', () => {
  const rows = (lead: string): string => `board,lead [m]\nDB-1,${lead}\n`;
  const NOTE_OF_ROWS = `${FRONT_MATTER}\n## Trial\n\n${boardSchedule('rows.csv', 'lead')}
`;

  test.each([
    ['the note', '001.md', `${NOTE_OF_ROWS}\nA word more.\n`],
    ['project.yaml', 'project.yaml', PROJECT.replace('Nowhere', 'Elsewhere')],
    ['a table', 'rows.csv', rows('0.4')],
  ])('%s', async (name, path, text) => {
    const place = project({ '001.md': NOTE_OF_ROWS, 'rows.csv': rows('0.2') });
    const progress = (words: string): void => {
      if (words.startsWith('printing ')) writeFileSync(join(place.folder, path), text);
    };
    const run = await runInProcess(['compile', '.'], { cwd: place.folder, progress });
    expect(run.status).toBe(0);
    expect(run.err).toContain(`${path}:1:1: caution: the file was changed after it was read`);
    const results = readFileSync(join(place.folder, '001.boards.results.csv'), 'utf8');
    expect(results).toContain(',0.2,');
    const said = run.err.split('\n').find((one) => one.includes('changed after it was read'))!;
    table.add(`compile, ${name} changed during the print`, said, String(run.status), leftIn(place));
  });
});

describe('browsers', () => {
  const script = (name: string, text: string): string => {
    const path = join(root, name);
    writeFileSync(path, `#!/bin/sh\n${text}\n`, { mode: 0o755 });
    return path;
  };

  test.each([
    ['that is not there', () => join(root, 'no-browser')],
    ['that ends at once', () => script('ends', 'exit 7')],
    ['that floods its pipe', () => script('floods', 'exec cat /dev/zero >&4')],
    ['that talks without end', () => script('talks', 'exec yes >&4')],
    ['that is no program', () => resolve('package.json')],
    ['that never answers', () => script('sleeps', 'exec sleep 1000')],
  ])('a browser %s', async (name, make) => {
    const run = await trial(
      `compile --browser, one ${name}`,
      ['compile', '.', '--browser', make()],
      project(),
      { env: { SURGENOTE_BROWSER_START: '12' } },
    );
    expect([run.status, run.left]).toEqual([3, 'nothing']);
    if (name === 'that never answers')
      expect(run.err).toMatch(
        /has not answered for 10 s; it is waited for up to 12 s[\s\S]*did not answer within 12 s/,
      );
  });

  test.each(['0', '3601', '5 s', '-1', '1e2'])('a wait of %j is none', async (seconds) => {
    const env = { SURGENOTE_BROWSER_START: seconds };
    const run = await runFaulty(['compile', '.'], { cwd: project().folder, env });
    expect([run.status, run.err]).toEqual([
      3,
      expect.stringContaining(`SURGENOTE_BROWSER_START is '${seconds}'`),
    ]);
  });

  test('a browser that is killed while it prints', async () => {
    const { executable, libraryFolder = '', release } = await findBrowser({ environment: process.env });
    const statuses = new Set<number | null>();
    for (const seconds of [0.3, 0.6, 1, 1.5]) {
      const dying = script(
        `dies-${seconds}`,
        `(sleep ${seconds}; kill -9 $$) >/dev/null 2>&1 3>&- 4>&- &\nLD_LIBRARY_PATH="${libraryFolder}" exec "${executable}" "$@"`,
      );
      const place = project();
      const run = await trial(
        'compile, the browser killed at four moments',
        ['compile', '.', '--browser', dying],
        place,
      );
      statuses.add(run.status);
      expect(run.status === 0 ? WHOLE.join(', ') : 'nothing').toBe(run.left);
      expect([0, 3]).toContain(run.status);
    }
    await release();
    expect(statuses.has(3)).toBe(true);
  });
});
