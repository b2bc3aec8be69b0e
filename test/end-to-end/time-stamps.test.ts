import { execFileSync, spawnSync } from 'node:child_process';
import { copyFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { AT_LENGTH } from '../support/at-length.ts';
import { signAs, succeed, writeFormalProject } from '../support/formal-project.ts';
import type { GitRepository } from '../support/git-repository.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { replaceAttachment } from '../support/replace-attachment.ts';
import { RevocationLists } from '../support/revocation-lists.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { PASSWORD, SigningKeys } from '../support/signing-keys.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { type Served, serveAnswers, TimeStampAuthority } from '../support/time-stamp-authority.ts';
import { writeKey } from '../support/write-key.ts';

const root = temporaryFolder();
const folder = join(root, 'project');
const PEOPLE = { prepared: 'adams', checked: 'brown', approved: 'clark' } as const;
const ROLES = ['prepared', 'checked', 'approved'] as const;

interface Report {
  readonly verdict: string;
  readonly findings: readonly { readonly about: string; readonly state: string; readonly text: string }[];
}

describeWithTools(
  ['git', 'ssh-keygen', 'openssl', 'pdfsig', 'pdftotext', 'pdfdetach'],
  'a project whose signatures are time-stamped',
  () => {
    let authority: TimeStampAuthority;
    let served: Served;
    let repository: GitRepository;
    let keys: SigningKeys;
    /** The time of the authority's clock; a status where it answers none. */
    let clock: string | number = '2031-05-14T10:00:00Z';
    const path = (name: string): string => join(folder, name);
    const read = (name: string): string => readFileSync(path(name), 'utf8');
    const signer = (role: (typeof ROLES)[number]): string[] => ['--key', join(root, PEOPLE[role])];

    async function verify(pdf: string, ...options: string[]): Promise<Report> {
      const { out, err } = await runInProcess(
        [
          ...['verify', pdf, '--json', '--no-print', '--allowed-signers', path('allowed_signers')],
          ...['--register', path('issues.yaml'), '--date', '2031-06-01', ...options],
        ],
        { cwd: root },
      );
      expect(out, err).toMatch(/^\{/);
      return JSON.parse(out) as Report;
    }
    const told = ({ findings }: Report, about: string): string => {
      const found = findings.find((finding) => finding.about === about);
      return found === undefined ? 'none' : `${found.state}: ${found.text}`;
    };
    const trust = (): string[] => ['--time-stamp-trust', authority.path('stamps.pem')];

    beforeAll(async () => {
      for (const name of ['project', 'stamps', 'certificates']) mkdirSync(join(root, name));
      authority = new TimeStampAuthority(join(root, 'stamps'));
      served = await serveAnswers((request) =>
        typeof clock === 'number' ? clock : authority.answerAt(request, clock),
      );
      repository = await writeFormalProject(folder, 1);
      const lines = Object.values(PEOPLE).map((person) => `${person} ${writeKey(join(root, person))}\n`);
      writeFileSync(path('allowed_signers'), lines.join(''));
      copyFileSync(authority.path('stamps.pem'), path('time-authority.pem'));
      writeFileSync(
        path('project.yaml'),
        `${read('project.yaml')}time_stamps: { server: "${served.url}", certificates: time-authority.pem }\nrevocation: fetch\n`,
      );
      repository.commitAll('Signers and time stamps');
      keys = new SigningKeys(join(root, 'certificates'));
      keys.add('adams', 'A. Adams');
      writeFileSync(join(root, 'password'), PASSWORD);
    });
    afterAll(() => served.close());

    test('where no stamp can be had, nothing is written', async () => {
      const sign = [...signAs('1.md', 'prepared'), ...signer('prepared')];
      const refuse = async (message: RegExp, ...more: string[]): Promise<void> => {
        const { status, err } = await runInProcess([...sign, ...more], { cwd: folder });
        expect(status).toBe(3);
        expect(err).toMatch(message);
        expect(existsSync(path('1.signoff.yaml'))).toBe(false);
      };
      clock = 503;
      await refuse(/the server for time stamps, http:\/\/127\.0\.0\.1:\d+\/, answered with status 503/);
      clock = '2031-05-20T10:00:00Z';
      await refuse(/it would say 2031-05-14, and its time stamp is of 2031-05-20T10:00:00Z/);
      clock = '2031-05-14T10:00:00Z';
      await refuse(
        /is a time stamp of somebody else/,
        '--time-stamp-trust',
        join(root, 'certificates/authority.pem'),
      );
      await refuse(
        /is a time stamp of somebody else|cannot be used/,
        '--time-stamp-trust',
        keys.path('adams.pem'),
      );
    });

    test('sign and issue: records and the entry of the register hold stamps', async () => {
      for (const role of ROLES) {
        const { err } = await runInProcess([...signAs('1.md', role), ...signer(role)], { cwd: folder });
        expect(err).toMatch(/^asks http:\/\/127\.0\.0\.1:\d+\/ for a time stamp$/m);
      }
      expect(read('1.signoff.yaml').match(/^ {2}time_stamp: \|$/gm)).toHaveLength(3);
      expect(await succeed(folder, 'evaluate', '1.md')).toMatch(/approved: valid/);
      repository.commitAll('Signed');
      const issue = ['issue', '1.md', '--date', '2031-05-15', ...signer('approved')];
      clock = 500;
      const failed = await runInProcess(issue, { cwd: folder });
      expect(failed.status).toBe(3);
      expect([existsSync(path('issues.yaml')), existsSync(path('1.rev-A.pdf'))]).toEqual([false, false]);
      clock = '2031-05-15T11:00:00Z';
      await succeed(folder, ...issue);
      expect(read('issues.yaml').match(/^ {2}time_stamp: \|$/gm)).toHaveLength(1);
      copyFileSync(path('1.rev-A.pdf'), join(root, 'issued.pdf'));
    });

    test('verify says by whom each time is proven, and compares it with the day that is stated', async () => {
      const report = await verify('issued.pdf', ...trust());
      for (const role of ROLES) {
        expect(told(report, `time of sign-off ${role}`)).toMatch(
          /^proven: the sign-off existed at 2031-05-14T10:00:00Z, says Heron Weir Clock \(issued by CN=Heron Weir Time\)/,
        );
      }
      expect(told(report, 'time of issue')).toMatch(
        /^proven: the entry in the register existed at 2031-05-15T11:00:00Z/,
      );
      const without = await verify('issued.pdf');
      expect(told(without, 'time of sign-off checked')).toMatch(/^not proven: .*--time-stamp-trust FILE/);
      expect(without.verdict).toBe('proven');
      const early = await verify('issued.pdf', ...trust(), '--date', '2031-05-01');
      expect(told(early, 'time of sign-off checked')).toMatch(
        /^not proven: .*after the day of this verification/,
      );
    });

    test('the page that says how to verify it, followed to the letter', () => {
      const client = join(root, 'client');
      mkdirSync(join(client, 'source'), { recursive: true });
      copyFileSync(join(root, 'issued.pdf'), join(client, '1.rev-A.pdf'));
      copyFileSync(path('allowed_signers'), join(client, 'signers'));
      copyFileSync(authority.path('stamps.pem'), join(client, 'authorities.pem'));
      const page = execFileSync('pdftotext', ['-layout', '1.rev-A.pdf', '-'], { cwd: client }).toString();
      const commands = page
        .split('\n')
        .map((line) => line.trim())
        .filter((line) => /^(?:part\(?|s\{|ssh-keygen|openssl)/.test(line));
      expect(commands).toHaveLength(7);
      const bash = (script: string) => spawnSync('bash', ['-c', script], { cwd: client });
      expect(bash('pdfdetach -saveall -o source 1.rev-A.pdf').status).toBe(0);
      Object.values(PEOPLE).forEach((principal, i) => {
        const script = commands
          .join('\n')
          .replaceAll(/part 1/g, `part ${i + 1}`)
          .replace('PRINCIPAL', principal);
        const { stdout, stderr } = bash(script);
        expect(stdout.toString(), stderr.toString()).toMatch(
          new RegExp(
            `^Good "sign-off@surgenote" signature for ${principal}[^\\n]*\\nVerification: OK\\nTime stamp: May 14 10:00:00 2031 GMT`,
          ),
        );
      });
    });

    test('a stamp of another record, and none where there was one', async () => {
      const [first, second] = [...read('1.signoff.yaml').matchAll(/ {2}time_stamp: \|\n(?: {4}.*\n)+/g)].map(
        ([text]) => text,
      );
      const target = join(root, 'attack.pdf');
      await replaceAttachment(join(root, 'issued.pdf'), target, '1.signoff.yaml', (text) =>
        text.replace(second!, first!),
      );
      expect(told(await verify(target, ...trust()), 'time of sign-off checked')).toBe(
        'contradicted: the time stamp of the sign-off is not sound: it was made over something else',
      );
      await replaceAttachment(join(root, 'issued.pdf'), target, '1.signoff.yaml', (text) =>
        text.replace(second!, ''),
      );
      expect(told(await verify(target, ...trust()), 'time of sign-off checked')).toMatch(
        /^not proven: .*has no time stamp/,
      );
    });

    test('sign-pdf asks the same server, and withdraw too', async () => {
      clock = '2031-05-16T12:00:00Z';
      const key = ['--p12', keys.path('adams.p12'), '--password-file', join(root, 'password')];
      const lists = new RevocationLists(keys.folder);
      const list = join(root, 'revoked.crl');
      writeFileSync(
        list,
        lists.list('20310510000000Z', '20310610000000Z', [{ file: 'adams.pem', on: '310511000000Z' }]),
      );
      const sign = [
        'sign-pdf',
        '1.rev-A.pdf',
        '--as',
        'prepared',
        ...key,
        '--date',
        '2031-05-16',
        '--revocation',
        list,
      ];
      const before = readFileSync(path('1.rev-A.pdf'));
      const refused = await runInProcess(sign, { cwd: folder });
      expect(refused.status).toBe(3);
      expect(refused.err).toMatch(
        /nothing was signed: the certificate of A\. Adams was revoked as from 2031-05-11/,
      );
      expect(readFileSync(path('1.rev-A.pdf')).equals(before)).toBe(true);
      writeFileSync(list, lists.list('20310510000000Z', '20310610000000Z', []));
      const signed = await succeed(folder, ...sign, '--document-time-stamp');
      expect(signed).toMatch(/^time stamp: 2031-05-16T12:00:00Z, of Heron Weir Clock$/m);
      const report = await verify(path('1.rev-A.pdf'), ...trust(), '--trust', keys.path('authority.pem'));
      expect(told(report, 'time of signature prepared')).toMatch(
        /^proven: the signature existed at 2031-05-16T12:00:00Z/,
      );
      expect(told(report, 'signature prepared')).toMatch(
        /^proven: .*not revoked, says a list of revoked certificates of 2031-05-10/,
      );
      expect(told(report, 'time stamp time-stamp-1')).toMatch(
        /^proven: the document up to this stamp existed at 2031-05-16T12:00:00Z/,
      );
      expect(report.verdict).toBe('proven');
      const said = execFileSync('pdfsig', ['-nocert', path('1.rev-A.pdf')], {
        encoding: 'utf8',
        stdio: 'pipe',
      });
      expect(said).toContain('Signature is Valid');
      await succeed(
        folder,
        'withdraw',
        '1.md',
        '--reason',
        'another arrester',
        ...signer('approved'),
        '--date',
        '2031-05-16',
      );
      expect(read('issues.yaml').match(/^ {2}time_stamp: \|$/gm)).toHaveLength(2);
    });

    test('openssl alone verifies the signature in the PDF, and its time stamp', () => {
      const pdf = readFileSync(path('1.rev-A.pdf'));
      const text = pdf.toString('latin1');
      const range = /\/ByteRange \[(\d+) (\d+) (\d+) (\d+) *\]/.exec(text)!.slice(1).map(Number);
      const [start, length, next, rest] = range as [number, number, number, number];
      const write = (name: string, content: Uint8Array): void => writeFileSync(join(root, name), content);
      write('signed', Buffer.concat([pdf.subarray(start, start + length), pdf.subarray(next, next + rest)]));
      write('cms.der', Buffer.from(text.slice(length + 1, next - 1), 'hex'));
      const openssl = (...args: string[]) => spawnSync('openssl', args, { cwd: root, encoding: 'utf8' });
      const signature = openssl(
        ...['cms', '-verify', '-cades', '-binary', '-inform', 'DER', '-in', 'cms.der', '-content', 'signed'],
        ...['-CAfile', keys.path('authority.pem'), '-purpose', 'any', '-out', 'out'],
      );
      expect(signature.stderr).toMatch(/verification successful/i);
      const lines = openssl('asn1parse', '-inform', 'DER', '-in', 'cms.der').stdout.split('\n');
      const at = lines.findIndex((line) => line.includes('id-smime-aa-timeStampToken'));
      const [, offset, head, size] = /^ *(\d+):d=\d+ +hl=(\d+) +l= *(\d+) cons: SEQUENCE/
        .exec(lines[at + 2]!)!
        .map(Number);
      write('token.der', readFileSync(join(root, 'cms.der')).subarray(offset!, offset! + head! + size!));
      const [, value] = /OCTET STRING +\[HEX DUMP\]:([0-9A-F]+)/.exec(
        lines.slice(0, at).findLast((line) => line.includes('OCTET STRING'))!,
      )!;
      write('value', Buffer.from(value!, 'hex'));
      const stamp = openssl(
        ...['ts', '-verify', '-token_in', '-in', 'token.der', '-data', 'value'],
        ...['-CAfile', authority.path('stamps.pem')],
      );
      expect(stamp.stdout).toContain('Verification: OK');
    });

    // The suite holds the rules of days without keys (`judge-dates.test.ts`).
    if (AT_LENGTH) {
      test('days that no stamp supports are refused or told', async () => {
        const key = ['--p12', keys.path('adams.p12'), '--password-file', join(root, 'password')];
        copyFileSync(join(root, 'issued.pdf'), path('again.pdf'));
        const sign = (...more: string[]) =>
          runInProcess(['sign-pdf', 'again.pdf', '--as', 'prepared', ...key, ...more], { cwd: folder });
        const other = await sign('--date', '2031-05-25');
        expect(other.status).toBe(3);
        expect(other.err).toMatch(/it would say 2031-05-25, and its time stamp is of 2031-05-16T12:00:00Z/);
        const early = await sign('--date', '2031-05-02');
        expect(early.err).toMatch(/was not signed: it was issued on 2031-05-15, after 2031-05-02/);
        expect(readFileSync(path('again.pdf')).equals(readFileSync(join(root, 'issued.pdf')))).toBe(true);
        // The certificate names no address, so that the project's wish to ask cannot be met.
        const silent = await sign('--date', '2031-05-17', '--no-time-stamp');
        expect(silent.status).toBe(3);
        expect(silent.err).toMatch(
          /nothing was signed: whether the certificate of A\. Adams was revoked is not known/,
        );
        const none = await sign('--date', '2031-05-17', '--no-time-stamp', '--no-fetch-revocation');
        expect(none.status).toBe(0);
        expect(none.err).toMatch(/the signature says 2031-05-17, and the clock of this machine 20/);
      });
    }
  },
);
