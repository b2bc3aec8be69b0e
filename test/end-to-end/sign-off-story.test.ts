import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { copyFileSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { GitRepository } from '../support/git-repository.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { replaceAttachment } from '../support/replace-attachment.ts';
import type { Outcome } from '../support/run-command.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { PASSWORD, SigningKeys } from '../support/signing-keys.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { writeKey } from '../support/write-key.ts';

// One story from the first signature to a forged PDF, told with the programs that a checker and a client have.

const PROJECT = `title: Sallow Weir - arresters
client: Sallow Navigation Trust
site: Sallow Weir
company: { name: Thornfield Survey Office }
people:
  marsh: { name: Edda Marsh, initials: EM }
  pell: { name: Ruan Pell, initials: RP }
  quist: { name: Ottoline Quist, initials: OQ }
equipment:
  TX1:
    withstand: { value: 75 kV peak, source: rating plate }
  TX9:
    withstand: { value: 95 kV peak, source: rating plate }
`;

const NOTE = `---
number: SW-001
title: Arresters of the lock house
revision: A
status: for-construction
date: 2032-03-01
prepared: marsh
checked: pell
approved: quist
sources_open: the texts are on order
revisions:
  - { revision: A, date: 2032-03-01, reason: first issue, prepared: marsh, checked: pell, approved: quist }
---

## Connection

\`\`\`yaml calc
id: tx1
calculation: arrester-connection
given:
  arrangement: common-earth
  line_lead: { value: 0.5 m, source: survey }
  earth_lead: { value: 0.7 m, source: survey }
  residual_voltage: { value: 33 kV, source: test report }
  steepness: { value: 10 kA/us, source: survey }
  impulse_withstand: !ref equipment.TX1.withstand
\`\`\`
`;

const CHECK = `method: alternative-calculation
extent: the calculation, and every input against its source
independent:
  - { value: tx1.terminal_voltage, found: 45.1 kV, remark: by hand with 1 uH/m }
comments:
  - { comment: Which lead was measured?, answer: "the one to the lock wall", closed: "2032-03-03" }
`;

const root = temporaryFolder();
const folder = join(root, 'weir');
const keys = join(root, 'keys');
const path = (name: string): string => join(folder, name);
const read = (name: string): string => readFileSync(path(name), 'utf8');
const write = (name: string, text: string): void => writeFileSync(path(name), text);
const change = (name: string, from: string, to: string): void => {
  expect(read(name)).toContain(from);
  write(name, read(name).replace(from, to));
};
const run = (...args: string[]): Promise<Outcome> => runInProcess(args, { cwd: folder });
const succeed = async (...args: string[]): Promise<string> => {
  const { status, out, err } = await run(...args);
  expect(`${status}: ${err}`).toMatch(/^0: /);
  return out;
};
const sha256 = (file: string): string => createHash('sha256').update(readFileSync(file)).digest('hex');

interface Report {
  readonly verdict: string;
  readonly findings: readonly { readonly about: string; readonly state: string; readonly text: string }[];
}

async function verify(pdf: string, ...options: string[]): Promise<Report & { status: number | null }> {
  const { status, out } = await run('verify', pdf, '--json', ...options);
  return { status, ...(JSON.parse(out) as Report) };
}

/** The findings that are contradicted, by what they are about. */
function broken({ findings }: Report): string[] {
  return findings.filter(({ state }) => state === 'contradicted').map(({ about }) => about);
}

async function signAll(day: string, record: string): Promise<void> {
  await succeed('sign', '001.md', '--as', 'prepared', '--key', join(keys, 'marsh'), '--date', day);
  await succeed(
    'sign',
    '001.md',
    '--as',
    'checked',
    '--record',
    record,
    '--key',
    join(keys, 'pell'),
    '--date',
    day,
  );
  await succeed('sign', '001.md', '--as', 'approved', '--key', join(keys, 'quist'), '--date', day);
}

describeWithTools(
  ['git', 'ssh-keygen', 'openssl', 'pdfsig', 'pdfdetach'],
  'from the first signature to a forgery',
  () => {
    const git = (): GitRepository => repository;
    let repository: GitRepository;
    let certificates: SigningKeys;
    const record = join(root, 'check.yaml');

    beforeAll(() => {
      mkdirSync(keys);
      mkdirSync(folder);
      const signers = ['marsh', 'pell', 'quist'].map((person) => {
        const key = writeKey(join(keys, person));
        return `${person} namespaces="${person === 'quist' ? 'sign-off@surgenote,issue@surgenote' : 'sign-off@surgenote'}" ${key}\n`;
      });
      write('project.yaml', PROJECT);
      write('001.md', NOTE);
      write('allowed_signers', signers.join(''));
      writeFileSync(record, CHECK);
      repository = new GitRepository(folder);
      write('.gitignore', '*.pdf\n*.html\n');
      mkdirSync(join(root, 'certificates'));
      certificates = new SigningKeys(join(root, 'certificates'));
      certificates.add('marsh', 'Edda Marsh');
      certificates.add('quist', 'Ottoline Quist', 'rsa');
      writeFileSync(join(root, 'password'), PASSWORD);
    });

    test('prepare, check, approve: each record is appended, and verified by ssh-keygen alone', async () => {
      await succeed('compile', '001.md', '--no-pdf', '--html');
      git().commitAll('First');
      await signAll('2032-03-04', record);
      const file = read('001.signoff.yaml');
      expect(await succeed('evaluate', '001.md')).toMatch(
        /prepared: valid: Edda Marsh, 2032-03-04, SSH key SHA256:\S+ of 'marsh'\n {2}checked: valid: Ruan Pell.*\n {2}approved: valid: Ottoline/,
      );
      // As README says: the lines of a statement and of its signature without their four blanks.
      const records = file.split(/^- statement: \|\n/m).slice(1);
      expect(records).toHaveLength(3);
      records.forEach((one, i) => {
        const [statement, signature] = one
          .split(/^ {2}(?:sha256: .*\n {2})?signature: \|\n/m)
          .map((part) => part.replace(/^ {2}sha256: .*\n/m, '').replace(/^ {4}/gm, ''));
        writeFileSync(join(root, 'signature'), signature!);
        const person = ['marsh', 'pell', 'quist'][i]!;
        const arguments_ = [
          '-Y',
          'verify',
          '-f',
          path('allowed_signers'),
          '-I',
          person,
          '-n',
          'sign-off@surgenote',
        ];
        const verified = (input: string) =>
          spawnSync('ssh-keygen', [...arguments_, '-s', join(root, 'signature')], { input }).status;
        expect(verified(statement!)).toBe(0);
        expect(verified(statement!.replace('role: ', 'role:  '))).not.toBe(0);
      });
    });

    test('a change elsewhere in the project voids nothing', async () => {
      const before = read('project.yaml');
      change('project.yaml', '95 kV', '125 kV');
      expect(await succeed('evaluate', '001.md')).toContain('approved: valid');
      write('project.yaml', before);
    });

    test('issue: the formal PDF without a mark, and a line in the register', async () => {
      git().commitAll('Signed');
      const issue = ['issue', '001.md', '--signature-fields', '--date', '2032-03-05'];
      const refused = await run(...issue, '--by', 'pell', '--key', join(keys, 'pell'));
      expect(refused.status).toBe(3);
      expect(refused.err).toMatch(/nothing was written.*is not allowed for issue@surgenote on 2032-03-05/);
      await succeed(...issue, '--key', join(keys, 'quist'));
      expect(read('issues.yaml')).toContain(`unsigned_pdf_sha256: ${sha256(path('001.rev-A.pdf'))}`);
      const text = execFileSync('pdftotext', ['-layout', path('001.rev-A.pdf'), '-']).toString();
      expect(text).not.toMatch(/DRAFT|VOID/);
      expect(text).toMatch(/Ruan Pell.*4\s+Mar\s+2032.*valid/);
      expect(text).toMatch(/45\.0? kV\s+45\.1 kV/);
      const inOrder = execFileSync('pdftotext', ['-raw', path('001.rev-A.pdf'), '-']).toString();
      expect(inOrder).toMatch(/issued\s+5\s+Mar\s+2032/);
      const listed = execFileSync('pdfdetach', ['-list', path('001.rev-A.pdf')]).toString();
      for (const name of [
        '001.md',
        '001.results.yaml',
        '001.signoff.yaml',
        'allowed_signers',
        'issues.yaml',
        'project.yaml',
      ])
        expect(listed).toContain(name);
      const again = await run('issue', '001.md', '--date', '2032-03-06');
      expect(again.status).toBe(1);
      expect(again.err).toContain('revision A has been issued');
      copyFileSync(path('001.rev-A.pdf'), join(root, 'unsigned.pdf'));
    });

    test('the page that says how to verify the document, followed to the letter', () => {
      const client = join(root, 'client');
      mkdirSync(join(client, 'source'), { recursive: true });
      copyFileSync(path('001.rev-A.pdf'), join(client, '001.rev-A.pdf'));
      copyFileSync(path('allowed_signers'), join(client, 'signers'));
      const lines = execFileSync('pdftotext', ['-layout', path('001.rev-A.pdf'), '-'])
        .toString()
        .split('\n');
      const commands = lines
        .map((line) => line.trim())
        .filter((line) => /^(?:part\(?|s\{|ssh-keygen)/.test(line));
      expect(commands).toHaveLength(4);
      const unpack = /pdfdetach -saveall -o source 001\.rev-A\.pdf/.exec(
        lines.join(' ').replace(/\s+/g, ' '),
      );
      const bash = (script: string) => spawnSync('bash', ['-c', script], { cwd: client });
      expect(bash(unpack![0]).status).toBe(0);
      ['marsh', 'pell', 'quist'].forEach((principal, i) => {
        const script = commands
          .join('\n')
          .replaceAll('part 1', `part ${i + 1}`)
          .replace('PRINCIPAL', principal);
        const told = bash(script);
        expect(told.stdout.toString(), told.stderr.toString()).toMatch(
          new RegExp(`^Good "sign-off@surgenote" signature for ${principal} with ED25519 key SHA256:`),
        );
      });
      const wrong = commands.join('\n').replace('PRINCIPAL', 'quist');
      expect(bash(wrong).status).not.toBe(0);
    });

    test('the PDF verifies, and compiling again gives the same bytes', async () => {
      const own = [
        '--allowed-signers',
        'allowed_signers',
        '--register',
        'issues.yaml',
        '--date',
        '2032-06-01',
      ];
      const report = await verify('001.rev-A.pdf', ...own);
      expect(report.findings.find(({ about }) => about === 'pages')!.text).toMatch(
        /^the page that the PDF carries, printed again by .*: the same bytes$/,
      );
      // The fields on the first page wait for signatures; nobody asked for them.
      const open = report.findings.filter(({ state }) => state !== 'proven').map(({ about }) => about);
      expect(open.sort()).toEqual(['signature approved', 'signature checked', 'signature prepared']);
      expect(report.status).toBe(0);
    });

    test('two digital signatures, both accepted by pdfsig; the first revision stays byte for byte', async () => {
      const key = (person: string) => [
        '--p12',
        certificates.path(`${person}.p12`),
        '--password-file',
        join(root, 'password'),
      ];
      await succeed('sign-pdf', '001.rev-A.pdf', '--as', 'prepared', ...key('marsh'), '--date', '2032-03-05');
      await succeed('sign-pdf', '001.rev-A.pdf', '--as', 'approved', ...key('quist'), '--date', '2032-03-05');
      const signed = readFileSync(path('001.rev-A.pdf'));
      const unsigned = readFileSync(join(root, 'unsigned.pdf'));
      expect(signed.subarray(0, unsigned.length).equals(unsigned)).toBe(true);
      const seen = spawnSync('pdfsig', ['-nocert', path('001.rev-A.pdf')]).stdout.toString();
      expect(seen.match(/Signature is Valid/g)).toHaveLength(2);
      const report = await verify(
        '001.rev-A.pdf',
        '--no-print',
        '--trust',
        certificates.path('authority.pem'),
        '--date',
        '2032-03-06',
      );
      expect(broken(report)).toEqual([]);
      const states = report.findings.filter(({ about }) => about.startsWith('signature'));
      expect(states.map(({ about, state }) => `${about}: ${state}`).sort()).toEqual([
        'signature approved: proven',
        'signature checked: not proven',
        'signature prepared: proven',
      ]);
    });

    test('one given changed: every sign-off is void, in evaluate, on the first page, across every page', async () => {
      change('001.md', 'earth_lead: { value: 0.7 m', 'earth_lead: { value: 7.5 m');
      const report = JSON.parse((await run('evaluate', '001.md', '--json')).out) as {
        notes: { mark: string; sign_offs: { state: string; reason: string }[] }[];
      };
      expect(report.notes[0]!.mark).toBe('void');
      expect(report.notes[0]!.sign_offs.map(({ state }) => state)).toEqual(['void', 'void', 'void']);
      expect(report.notes[0]!.sign_offs[0]!.reason).toBe('the note or what it uses was changed since');
      await succeed('compile', '001.md');
      const text = execFileSync('pdftotext', ['-layout', path('001.pdf'), '-']).toString();
      expect(text).toMatch(/Edda Marsh.*4\s+Mar\s+2032.*void/);
      expect(text.match(/^.*\bVOID\b.*$/gm)!.length).toBeGreaterThan(2);
      expect((await run('issue', '001.md', '--date', '2032-03-08')).err).toContain('is void');
      expect(broken(await verify('001.pdf', '--no-print'))).toEqual([
        'sign-off prepared',
        'sign-off checked',
        'sign-off approved',
      ]);
    });

    test('compare shows the checker what changed between the issue and now', async () => {
      const { out, status } = await run('compare', '001.rev-A.pdf', '001.pdf');
      expect(status).toBe(0);
      expect(out).toMatch(/withstand_margin.*complies.*does not comply/);
      expect(out).toMatch(/earth_lead.*0\.7 m.*7\.5 m/);
    });

    test('revise: revision B is signed and issued; A is superseded; both verify', async () => {
      change('001.md', 'revision: A\nstatus', 'revision: B\nstatus');
      change('001.md', '\ndate: 2032-03-01', '\ndate: 2032-04-01');
      change(
        '001.md',
        '\n---\n\n## Conn',
        '\n  - { revision: B, date: 2032-04-01, reason: lead as built, prepared: marsh }\n---\n\n## Conn',
      );
      const old = read('001.signoff.yaml');
      await succeed('compile', '001.md', '--no-pdf', '--html');
      expect(await succeed('evaluate', '001.md')).toContain('not signed off');
      git().commitAll('Revision B');
      writeFileSync(record, CHECK.replace('45.1 kV', '113 kV'));
      await signAll('2032-04-02', record);
      expect(read('001.signoff.yaml').startsWith(old)).toBe(true);
      git().commitAll('Revision B signed');
      await succeed('issue', '001.md', '--date', '2032-04-03', '--key', join(keys, 'quist'));
      expect(read('issues.yaml')).toMatch(/revision: B\n[\s\S]*supersedes: A\n[\s\S]*name: Ottoline Quist/);
      // The entry is verified without surgenote too: its lines as they stand, up to the signature.
      const last = read('issues.yaml').slice(read('issues.yaml').lastIndexOf('- number:'));
      const [entry, armour] = last.split('  signature: |\n');
      writeFileSync(join(root, 'signature'), armour!.replace(/^ {4}/gm, ''));
      const told = spawnSync(
        'ssh-keygen',
        [
          ...['-Y', 'verify', '-f', path('allowed_signers'), '-I', 'quist', '-n', 'issue@surgenote'],
          ...['-s', join(root, 'signature')],
        ],
        { input: entry! },
      );
      expect(told.status, told.stderr.toString()).toBe(0);
      const text = execFileSync('pdftotext', ['-layout', path('001.rev-B.pdf'), '-']).toString();
      expect(text).toMatch(/superseded by B/);
      const lists = ['--allowed-signers', 'allowed_signers', '--register', 'issues.yaml'];
      const own = ['--no-print', ...lists, '--date', '2032-06-01'];
      expect((await verify('001.rev-B.pdf', ...own)).status).toBe(0);
      // The old one is what it was; the register knows that it is the latest no more.
      const superseded = await verify('001.rev-A.pdf', ...own);
      expect(broken(superseded)).toEqual(['issue']);
      expect(superseded.findings.find(({ about }) => about === 'issue')!.text).toContain(
        'superseded by revision B of 2032-04-03',
      );
      expect(broken(await verify('001.rev-A.pdf', '--no-print'))).toEqual([]);
      // The old revision, taken out of git again, is marked as superseded.
      const newest = read('001.md');
      git().commitAll('Issue B');
      write('001.md', git().run('show', 'HEAD~3:001.md'));
      const { notes } = JSON.parse((await run('evaluate', '001.md', '--json')).out) as {
        notes: { mark: string }[];
      };
      expect(notes[0]!.mark).toBe('superseded');
      write('001.md', newest);
    });

    test('withdraw: the register says so, verification says so, and a later compilation across every page', async () => {
      const before = read('issues.yaml');
      const note = read('001.md');
      const withdraw = ['withdraw', '001.md', '--reason', 'the lead was moved again', '--date', '2032-05-02'];
      for (const [more, says] of [
        [['--revision', 'A'], 'revision A of SW-001 is superseded by revision B'],
        [['--revision', 'Z'], 'revision Z of SW-001 has not been issued'],
        [['--date', '2032-04-01'], '2032-04-01 lies before the issue of 2032-04-03'],
        [['--key', join(keys, 'pell')], "is none of those that allowed_signers names for 'quist'"],
        [['--reason', ' '], 'a withdrawal needs its reason'],
      ] as const) {
        const { status, err } = await run(...withdraw, ...more);
        expect(err).toContain(says);
        expect(status).toBe(3);
        expect(read('issues.yaml')).toBe(before);
      }
      // A fault in what is worked on now does not keep anybody from withdrawing what was issued.
      write('001.md', note.replace('line_lead: { value: 0.5 m', 'line_lead: { value: 0.5 kV'));
      await succeed(...withdraw, '--key', join(keys, 'quist'));
      write('001.md', note);
      expect(read('issues.yaml').startsWith(before)).toBe(true);
      const again = await run(...withdraw);
      expect(again.err).toContain('revision B of SW-001 was withdrawn on 2032-05-02');
      const own = ['--no-print', '--allowed-signers', 'allowed_signers', '--register', 'issues.yaml'];
      const report = await verify('001.rev-B.pdf', ...own);
      expect(broken(report)).toEqual(['issue']);
      expect(report.findings.find(({ about }) => about === 'issue')!.text).toMatch(
        /withdrawn on 2032-05-02 \(the lead was moved again\), says issues\.yaml/,
      );
      const evaluated = JSON.parse((await run('evaluate', '001.md', '--json')).out) as {
        notes: { mark: string }[];
      };
      expect(evaluated.notes[0]!.mark).toBe('withdrawn');
      await succeed('compile', '001.md', '--no-pdf', '--html');
      expect(read('001.html')).toMatch(/issued.*withdrawn 2.May.2032: the lead was moved again/);
      const refused = await run('issue', '001.md', '--date', '2032-05-03');
      expect(refused.err).toContain('revision B has been issued');
      write('issues.yaml', before);
    });

    test('what is forged is caught, and told apart', async () => {
      const forge = async (name: string, from: string, to: string, ...options: string[]) => {
        const change = (text: string) => text.replace(from, to);
        await replaceAttachment(path('001.rev-B.pdf'), path('forged.pdf'), name, change);
        return verify('forged.pdf', ...options);
      };
      // The source alone: it is no longer that of results and sign-offs.
      const source = broken(await forge('001.md', '7.5 m', '0.7 m', '--no-print'));
      expect(source).toEqual([
        'source',
        'results',
        'sign-off prepared',
        'sign-off checked',
        'sign-off approved',
      ]);
      // A result alone. The page is that of the source; no signature covers the numbers that were put in.
      const results = broken(
        await forge('001.results.yaml', 'verdict: does not comply', 'verdict: complies', '--no-print'),
      );
      expect(results).toEqual(['results']);
      // A sign-off alone.
      expect(
        broken(await forge('001.signoff.yaml', 'name: Ruan Pell', 'name: Rowan Pell', '--no-print')),
      ).toContain('sign-off checked');
      // A signature taken away: the statement says that there was one.
      const bare = read('001.signoff.yaml')
        .match(/^ {2}signature: \|\n(?: {4}.*\n)+/gm)!
        .at(-1)!;
      expect(broken(await forge('001.signoff.yaml', bare, '', '--no-print'))).toEqual(['sign-off approved']);
      // Whose key it is: the client's own list names nobody as the one who signed, or another key as his.
      const stranger = join(root, 'strangers');
      const withList = (text: string) => {
        writeFileSync(stranger, text);
        return verify('001.rev-B.pdf', '--no-print', '--allowed-signers', stranger);
      };
      const unlisted = await withList(read('allowed_signers').replace(/^pell/m, 'nobody'));
      expect(broken(unlisted)).toEqual([]);
      expect(unlisted.status).toBe(1);
      const proven = unlisted.findings.filter(({ state }) => state === 'proven').map(({ about }) => about);
      expect(proven.filter((about) => about.startsWith('sign-off'))).toEqual(['sign-off prepared']);
      const exchanged = read('allowed_signers').replace(/^(pell|quist) /gm, (_, name) =>
        name === 'pell' ? 'quist ' : 'pell ',
      );
      expect(broken(await withList(exchanged))).toEqual(['sign-off checked', 'sign-off approved']);
      // Source and results together, consistent with each other: the page and the signatures give it away.
      const other = join(root, 'other');
      mkdirSync(other);
      for (const name of readdirSync(folder).filter((one) => /^(?:001\.md|project\.yaml)$/.test(one))) {
        writeFileSync(join(other, name), read(name).replace('7.5 m', '0.7 m'));
      }
      await succeed('compile', join(other, '001.md'), '--no-pdf', '--html');
      await replaceAttachment(path('001.rev-B.pdf'), path('half.pdf'), '001.md', () =>
        readFileSync(join(other, '001.md'), 'utf8'),
      );
      await replaceAttachment(path('half.pdf'), path('forged.pdf'), '001.results.yaml', () =>
        readFileSync(join(other, '001.results.yaml'), 'utf8'),
      );
      expect(broken(await verify('forged.pdf'))).toEqual([
        'pages',
        'page of the source',
        'sign-off prepared',
        'sign-off checked',
        'sign-off approved',
      ]);
    });

    test('a byte changed in a signed PDF breaks its digital signatures', async () => {
      const bytes = readFileSync(path('001.rev-A.pdf'));
      const damaged = Buffer.from(bytes);
      // In the comment behind the header: the PDF stays as readable as it was.
      const at = bytes.indexOf('\n%') + 2;
      damaged[at] = damaged[at]! ^ 1;
      writeFileSync(path('damaged.pdf'), damaged);
      const report = await verify('damaged.pdf', '--no-print');
      expect(broken(report)).toEqual(expect.arrayContaining(['signature prepared', 'signature approved']));
    });
  },
);
