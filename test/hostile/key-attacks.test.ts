import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { NAMESPACE } from '../../src/review/sign-off/ssh-signature.ts';
import { signAs, succeed, writeFormalProject } from '../support/formal-project.ts';
import type { GitRepository } from '../support/git-repository.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { replaceAttachment } from '../support/replace-attachment.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { field, signOnToken, TOKEN_KEYS } from '../support/ssh-token.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { writeKey } from '../support/write-key.ts';

// What a forger can do with keys, sign-off records, lists and the register, and what verification then says; and what must alarm
// nobody: keys that were replaced, somebody who left, a clone with other line ends.

const root = temporaryFolder();
const folder = join(root, 'project');
const keys = join(root, 'keys');
const PEOPLE = ['adams', 'brown', 'clark'] as const;
const path = (name: string): string => join(root, name);
const sha256 = (text: string): string => createHash('sha256').update(text).digest('hex');

interface Finding {
  readonly about: string;
  readonly state: string;
  readonly text: string;
  readonly detail: string | null;
}

/** Rows of the table: what was tried, what verify said, and why. */
const rows: string[] = [];

const signOne = (text: string, key: string, namespace = NAMESPACE): string =>
  execFileSync('ssh-keygen', ['-q', '-Y', 'sign', '-f', join(keys, key), '-n', namespace], {
    input: text,
    stdio: ['pipe', 'pipe', 'ignore'],
  }).toString();

const publicKey = (key: string): string =>
  readFileSync(join(keys, `${key}.pub`), 'utf8')
    .split(' ')
    .slice(0, 2)
    .join(' ')
    .trim();

const listOf = (lines: Readonly<Record<string, string>>): string =>
  Object.entries(lines)
    .map(([principal, line]) => `${principal} ${line}\n`)
    .join('');

/** A key of a kind that nobody knows here. */
const UNKNOWN = Buffer.concat([field('mldsa-65@office.example'), field('x')]).toString('base64');

/** The client's own list. */
const honest = (): Record<string, string> =>
  Object.fromEntries(PEOPLE.map((person) => [person, publicKey(person)]));

interface Asked {
  readonly pdf?: string;
  /** Of the client: principal -> options and key. */
  readonly signers?: Readonly<Record<string, string>> | string;
  readonly revoked?: string | Uint8Array;
  readonly register?: string;
  readonly date?: string;
}

async function ask({
  pdf = 'issued.pdf',
  signers = honest(),
  revoked,
  register,
  date,
}: Asked): Promise<readonly Finding[]> {
  writeFileSync(path('signers'), typeof signers === 'string' ? signers : listOf(signers));
  const options = ['--allowed-signers', path('signers'), '--date', date ?? '2031-06-01'];
  if (revoked !== undefined) {
    writeFileSync(path('revoked'), revoked);
    options.push('--revoked-keys', path('revoked'));
  }
  if (register !== undefined) {
    writeFileSync(path('register'), register);
    options.push('--register', path('register'));
  }
  const { out, err } = await runInProcess(['verify', pdf, '--no-print', '--json', ...options], { cwd: root });
  expect(out, err).toMatch(/^\{/);
  return (JSON.parse(out) as { findings: readonly Finding[] }).findings;
}

/** What verify says of one thing, entered in the table. */
async function judge(tried: string, about: string, asked: Asked): Promise<string> {
  const finding = (await ask(asked)).find((one) => one.about === about)!;
  const why = [finding.text, ...(finding.detail ?? '').split('\n').slice(0, 1)].filter(Boolean).join(' ');
  const masked = why
    .replaceAll(/[0-9a-f]{64}/g, 'SHA-256')
    .replaceAll(/SHA256:[\w+/]{43}/g, 'SHA256:KEY')
    .replaceAll(`${root}/`, '')
    .replaceAll(/register:\d+:\d+/g, 'register:LINE');
  rows.push(
    `| ${[tried, about, finding.state, masked].map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`,
  );
  return `${finding.state}: ${why}`;
}

/** The statements of the records, as they were signed, and the file up to the last record. */
function readRecords(file: string) {
  const at = file.lastIndexOf('- statement: |');
  const statement = file
    .slice(at)
    .split('\n')
    .slice(1)
    .filter((line) => line.startsWith('    '));
  const text = statement
    .slice(
      0,
      statement.findIndex((line) => line.includes('-----BEGIN')),
    )
    .map((line) => `${line.slice(4)}\n`)
    .join('');
  return { before: file.slice(0, at), text };
}

const indent = (text: string): string => text.trimEnd().replace(/^/gm, '    ');

/** A PDF in whose last record, the approval, the statement is another, signed by whoever the forger is. */
async function forgeApproval(
  change: (text: string) => string,
  sign: (text: string) => string | undefined,
): Promise<string> {
  await replaceAttachment(path('issued.pdf'), path('attack.pdf'), '1.signoff.yaml', (file) => {
    const { before, text } = readRecords(file);
    const changed = change(text);
    const signature = sign(changed);
    const block = signature === undefined ? '' : `  signature: |\n${indent(signature)}\n`;
    return `${before}- statement: |\n${indent(changed)}\n  sha256: ${sha256(changed)}\n${block}`;
  });
  return 'attack.pdf';
}

const unchanged = (text: string): string => text;
const BY_CLARK = (text: string): string => signOne(text, 'clark');

/** Certifies the key of clark. */
function certify(
  name: string,
  options: readonly string[],
  authority = 'authority',
): (text: string) => string {
  for (const suffix of ['', '.pub'])
    copyFileSync(join(keys, `clark${suffix}`), join(keys, `${name}${suffix}`));
  execFileSync('ssh-keygen', ['-q', '-s', authority, '-I', name, ...options, `${name}.pub`], {
    cwd: keys,
    stdio: 'pipe',
  });
  return (text) => signOne(text, `${name}-cert.pub`);
}

const byAuthority = (): Record<string, string> => ({
  ...honest(),
  clark: `cert-authority ${publicKey('authority')}`,
});

/** The entries of the register, the head left out. */
const entriesOf = (register: string): string[] => register.split(/^(?=- number)/m).slice(1);
const headOf = (register: string): string => register.slice(0, register.indexOf('- number'));

/** Entries with their chain made to fit. */
function chain(head: string, entries: readonly string[], sign?: (text: string) => string): string {
  return entries.reduce((before, entry) => {
    const [text, rest] = entry.split(/(?= {2}signature:)/);
    const chained = text!.replace(/follows: .*/, `follows: ${sha256(before)}`);
    const signature = sign ? `  signature: |\n${indent(sign(chained))}\n` : (rest ?? '');
    return before + chained + signature;
  }, head);
}

describeWithTools(['git', 'ssh-keygen'], 'keys, records and registers in the hands of a forger', () => {
  let repository: GitRepository;
  let register = '';

  beforeAll(async () => {
    mkdirSync(folder);
    mkdirSync(keys);
    for (const key of [...PEOPLE, 'stranger', 'second', 'authority', 'usurper']) {
      writeKey(join(keys, key));
    }
    repository = await writeFormalProject(folder, 2);
    writeFileSync(join(folder, 'allowed_signers'), listOf(honest()));
    repository.commitAll('Signers');
    for (const note of ['1.md', '2.md']) {
      for (const [i, role] of (['prepared', 'checked', 'approved'] as const).entries()) {
        await succeed(folder, ...signAs(note, role), '--key', join(keys, PEOPLE[i]!));
      }
    }
    repository.commitAll('Signed');
    for (const [note, day] of [
      ['2.md', '2031-05-15'],
      ['1.md', '2031-05-16'],
    ]) {
      await succeed(folder, 'issue', note!, '--date', day!, '--key', join(keys, 'clark'));
    }
    copyFileSync(join(folder, '1.rev-A.pdf'), path('issued.pdf'));
    register = readFileSync(join(folder, 'issues.yaml'), 'utf8');
  });

  test('untouched, all of it is proven', async () => {
    const findings = await ask({ register });
    const open = findings.filter(({ state }) => state !== 'proven').map(({ about }) => about);
    expect(open).toEqual(['pages']);
  });

  describe('a sign-off', () => {
    test.each<[string, () => Promise<Asked>, string]>([
      [
        'by a stranger in the name of another',
        async () => ({ pdf: await forgeApproval(unchanged, (text) => signOne(text, 'stranger')) }),
        "contradicted: void (the signer is not allowed: the key is none of those that allowed_signers names for 'clark')",
      ],
      [
        'with the signature of another record',
        async () => ({ pdf: await forgeApproval(unchanged, () => signOne('form: another\n', 'clark')) }),
        'contradicted: void (its signature does not hold: it does not fit what was signed)',
      ],
      [
        'with a signature for files',
        async () => ({ pdf: await forgeApproval(unchanged, (text) => signOne(text, 'clark', 'file')) }),
        "contradicted: void (its signature does not hold: it was made for 'file' and not for 'sign-off@surgenote')",
      ],
      [
        'with a signature for the register',
        async () => ({
          pdf: await forgeApproval(unchanged, (text) => signOne(text, 'clark', 'issue@surgenote')),
        }),
        "contradicted: void (its signature does not hold: it was made for 'issue@surgenote'",
      ],
      [
        'whose signature was taken away',
        async () => ({ pdf: await forgeApproval(unchanged, () => undefined) }),
        'contradicted: void (its signature was taken away)',
      ],
      [
        'whose signature was taken away, with the word of it',
        async () => ({
          pdf: await forgeApproval(
            (text) => text.replace('signature: ssh\n', ''),
            () => undefined,
          ),
        }),
        'contradicted: stated without a signature',
      ],
      [
        'of a person with another designation',
        async () => ({
          pdf: await forgeApproval(
            (text) => text.replace('principal:', 'designation: Chief engineer\nprincipal:'),
            () => BY_CLARK('something else\n'),
          ),
        }),
        'contradicted: void (its signature does not hold',
      ],
      [
        'in an earlier form, signed anew',
        async () => ({
          pdf: await forgeApproval((text) => text.replace('sign-off 3', 'sign-off 2'), BY_CLARK),
        }),
        'contradicted: void (the note or what it uses was changed since)',
      ],
      [
        'in the first form, signed anew',
        async () => ({
          pdf: await forgeApproval((text) => text.replace('sign-off 3', 'sign-off 1'), BY_CLARK),
        }),
        'contradicted: void (it was given in the first form of sign-offs',
      ],
      [
        'that says another name for lists of signers',
        async () => ({
          pdf: await forgeApproval(
            (text) => text.replace('principal: clark', 'principal: stranger'),
            (text) => signOne(text, 'stranger'),
          ),
          signers: { ...honest(), stranger: publicKey('stranger') },
        }),
        "contradicted: void (project.yaml calls the signer 'clark' now, while the statement says 'stranger')",
      ],
      [
        'under a name that reads like that of who prepared',
        async () => ({
          pdf: await forgeApproval((text) => text.replace('name: C. Clark', 'name: А. Аdams'), BY_CLARK),
        }),
        "contradicted: void (the name А. Аdams reads like that of 'prepared', A. Adams",
      ],
      [
        'by a key that serves two people',
        async () => ({
          pdf: await forgeApproval(unchanged, (text) => signOne(text, 'brown')),
          signers: { ...honest(), clark: publicKey('brown') },
        }),
        "contradicted: void (the key has signed 'checked' too)",
      ],
      [
        'dated before the others',
        async () => ({
          pdf: await forgeApproval((text) => text.replace('2031-05-14', '2031-05-13'), BY_CLARK),
        }),
        "contradicted: void (it is dated before the sign-off 'prepared')",
      ],
      [
        'by a key that was stolen',
        async () => ({ revoked: `# stolen on the train\n${publicKey('clark')}\n` }),
        'contradicted: void (its key was revoked)',
      ],
      [
        'by a key that a list of ssh-keygen revokes by its digest',
        async () => {
          writeFileSync(join(keys, 'specification'), `sha256: ${publicKey('clark')}\n`);
          execFileSync('ssh-keygen', ['-q', '-k', '-f', 'list', 'specification'], { cwd: keys });
          return { revoked: readFileSync(join(keys, 'list')) };
        },
        'contradicted: void (its key was revoked)',
      ],
      [
        'on a day when the key was valid no more',
        async () => ({ signers: { ...honest(), clark: `valid-before="20310501" ${publicKey('clark')}` } }),
        "contradicted: void (the signer is not allowed: the key of 'clark' is not allowed for sign-off@surgenote on 2031-05-14)",
      ],
      [
        'by a key that may sign files alone',
        async () => ({ signers: { ...honest(), clark: `namespaces="file" ${publicKey('clark')}` } }),
        "contradicted: void (the signer is not allowed: the key of 'clark' is not allowed",
      ],
      [
        'by a key that stands in the list as an authority',
        async () => ({ signers: { ...honest(), clark: `cert-authority ${publicKey('clark')}` } }),
        'contradicted: void (the signer is not allowed: the key is none of those',
      ],
      [
        'with a certificate for somebody else',
        async () => ({
          pdf: await forgeApproval(unchanged, certify('others', ['-n', 'brown'])),
          signers: byAuthority(),
        }),
        "contradicted: void (the signer is not allowed: its certificate is not for 'clark')",
      ],
      [
        'with a certificate for everybody',
        async () => ({ pdf: await forgeApproval(unchanged, certify('all', [])), signers: byAuthority() }),
        "contradicted: void (the signer is not allowed: its certificate is not for 'clark')",
      ],
      [
        'with a certificate that was over',
        async () => ({
          pdf: await forgeApproval(unchanged, certify('over', ['-n', 'clark', '-V', '20310101:20310401'])),
          signers: byAuthority(),
        }),
        'contradicted: void (the signer is not allowed: its certificate was not valid on 2031-05-14)',
      ],
      [
        'with a certificate of an authority that nobody listed',
        async () => ({
          pdf: await forgeApproval(unchanged, certify('usurped', ['-n', 'clark'], 'usurper')),
          signers: byAuthority(),
        }),
        'contradicted: void (the signer is not allowed: the authority of its certificate is none of those',
      ],
      [
        'with a certificate that was revoked by its number',
        async () => {
          const sign = certify('numbered', ['-n', 'clark', '-z', '77']);
          writeFileSync(join(keys, 'specification'), 'serial: 70-80\n');
          execFileSync('ssh-keygen', ['-q', '-k', '-f', 'list', '-s', 'authority.pub', 'specification'], {
            cwd: keys,
          });
          const revoked = readFileSync(join(keys, 'list'));
          return { pdf: await forgeApproval(unchanged, sign), signers: byAuthority(), revoked };
        },
        'contradicted: void (its key was revoked)',
      ],
    ])('%s', async (tried, make, says) => {
      expect(await judge(`a sign-off ${tried}`, 'sign-off approved', await make())).toContain(says);
    });

    test.each(['ed25519', 'ecdsa'] as const)(
      'by a token that nobody touched, and one that was: %s',
      async (curve) => {
        let key: Buffer = Buffer.alloc(0);
        const onToken = (flags: number) => (text: string) => {
          const made = signOnToken(curve, text, { flags });
          key = made.key;
          return made.armoured;
        };
        const listed = (): Record<string, string> => ({
          ...honest(),
          clark: `${TOKEN_KEYS[curve]} ${key.toString('base64')}`,
        });
        const untouched = { pdf: await forgeApproval(unchanged, onToken(0)), signers: listed() };
        expect(
          await judge(`a sign-off on a token, untouched (${curve})`, 'sign-off approved', untouched),
        ).toContain(
          'contradicted: void (its signature does not hold: the token signed without being touched)',
        );
        const touched = { pdf: await forgeApproval(unchanged, onToken(1)), signers: listed() };
        expect(
          await judge(`a sign-off on a token, touched (${curve})`, 'sign-off approved', touched),
        ).toMatch(/^proven: valid: C\. Clark/);
      },
    );

    test('with a certificate of the authority that the client lists', async () => {
      const asked = {
        pdf: await forgeApproval(unchanged, certify('good', ['-n', 'clark', '-V', '20310101:20320101'])),
        signers: byAuthority(),
      };
      expect(await judge('a sign-off with a good certificate', 'sign-off approved', asked)).toMatch(
        /^proven: valid: C\. Clark/,
      );
    });
  });

  describe('dates', () => {
    test.each<[string, (text: string) => string, string | undefined, string]>([
      [
        'of an approval after the issue',
        (text) => text.replace('2031-05-14', '2031-05-20'),
        undefined,
        "contradicted: the issue is dated 2031-05-16, before the sign-off 'approved', 2031-05-20",
      ],
      [
        'of the year 9999',
        (text) => text.replace('2031-05-14', '9999-12-31'),
        undefined,
        'contradicted: the issue is dated',
      ],
      [
        'that lie ahead of who verifies',
        (text) => text.replace('remark: x\n', ''),
        '2031-05-15',
        'not proven: prepared 2031-05-14, checked 2031-05-14, approved 2031-05-14, issued 2031-05-16: after 2031-05-15, the day of this verification, lies what was issued',
      ],
    ])('%s', async (tried, change, date, says) => {
      const pdf = date === undefined ? await forgeApproval(change, BY_CLARK) : 'issued.pdf';
      expect(await judge(`dates ${tried}`, 'order of dates', { pdf, ...(date ? { date } : {}) })).toContain(
        says,
      );
    });
  });

  describe('a register', () => {
    const withdrawal = (text: string): string =>
      `- number: "1"\n  revision: A\n  date: "2031-05-20"\n  withdrawn: it never was\n  software: s\n${text}  follows: x\n`;

    test.each<[string, () => Asked, string]>([
      [
        'with an entry taken out',
        () => ({ register: headOf(register) + entriesOf(register)[1]! }),
        'contradicted: ',
      ],
      [
        'with two entries exchanged',
        () => ({ register: headOf(register) + entriesOf(register).reverse().join('') }),
        'contradicted: ',
      ],
      [
        'with an entry changed',
        () => ({ register: register.replace('status: for-review', 'status: as-built') }),
        'contradicted: ',
      ],
      [
        'with an entry taken out, and its chain made to fit',
        () => ({ register: chain(headOf(register), entriesOf(register).slice(1)) }),
        'does not fit what was signed',
      ],
      [
        'with its last entry changed',
        () => ({ register: register.replace(/reason: first issue(?![\s\S]*reason)/, 'reason: other') }),
        'does not fit what was signed',
      ],
      [
        'whose last signature was taken away',
        () => ({ register: register.replace(/ {2}signature: \|\n(?: {4}.*\n)+$/, '') }),
        'contradicted: ',
      ],
      [
        'with another suitability behind the signature',
        () => ({ register: `${register}  suitability: A9\n` }),
        'contradicted: ',
      ],
      [
        'signed anew by a stranger',
        () => ({
          register: chain(headOf(register), entriesOf(register), (text) =>
            signOne(text, 'stranger', 'issue@surgenote'),
          ),
        }),
        'contradicted: ',
      ],
      [
        'signed with a signature for sign-offs',
        () => ({ register: chain(headOf(register), entriesOf(register), (text) => signOne(text, 'clark')) }),
        "it was made for 'sign-off@surgenote'",
      ],
      [
        'signed by a key for sign-offs alone',
        () => ({
          register,
          signers: { ...honest(), clark: `namespaces="sign-off@surgenote" ${publicKey('clark')}` },
        }),
        'contradicted: ',
      ],
      [
        'signed by a key that was revoked',
        () => ({ register, revoked: `${publicKey('clark')}\n` }),
        'its key was revoked',
      ],
      [
        'with an entry that names another issuer than its key',
        () => ({ register: register.replaceAll('principal: clark', 'principal: brown') }),
        'contradicted: ',
      ],
      [
        'with the entries of another project',
        () => ({ register: register + entriesOf(register)[0]!.replace('number: "2"', 'number: "9"') }),
        'contradicted: ',
      ],
      [
        'with a withdrawal that nobody signed',
        () => ({ register: chain(headOf(register), [...entriesOf(register), withdrawal('')]) }),
        'not proven: register: nobody signed the entry of 1, revision A, 2031-05-20',
      ],
      [
        'with a withdrawal that says it is signed',
        () => ({
          register: chain(headOf(register), [...entriesOf(register), withdrawal('  signed: ssh\n')]),
        }),
        'contradicted: ',
      ],
      [
        'with an issue dated back',
        () => ({
          register: chain(headOf(register), [
            ...entriesOf(register),
            entriesOf(register)[1]!.replace('revision: A', 'revision: B').replace('2031-05-16', '2031-05-01'),
          ]),
        }),
        'contradicted: ',
      ],
      ['without an entry', () => ({ register: headOf(register) }), 'not proven: register: it has no entry'],
    ])('%s', async (tried, asked, says) => {
      const said = await judge(`a register ${tried}`, 'register', asked());
      expect(said).toContain(says.replace('register:', `${path('register')}:`));
      expect(said).not.toMatch(/^proven/);
    });

    test('whose last entries were taken off: it proves no more than it knows, and says how far that goes', async () => {
      writeFileSync(join(folder, '1.md'), `${readFileSync(join(folder, '1.md'), 'utf8')}\nWorked on.\n`);
      const withdraw = ['withdraw', '1.md', '--reason', 'wrong board', '--date', '2031-05-30'];
      await succeed(folder, ...withdraw, '--key', join(keys, 'clark'));
      const whole = readFileSync(join(folder, 'issues.yaml'), 'utf8');
      expect(await judge('an issue that was withdrawn', 'issue', { register: whole })).toMatch(
        /^contradicted: issued on 2031-05-16 .* withdrawn on 2031-05-30 \(wrong board\)/,
      );
      expect((await ask({ register: whole })).find(({ about }) => about === 'register')!.state).toBe(
        'proven',
      );
      expect(await judge('a register from which the withdrawal was cut off', 'issue', { register })).toMatch(
        /^proven: issued on 2031-05-16 \(for review\), current as far as .* knows, whose last entry is of 2031-05-16$/,
      );
      writeFileSync(join(folder, 'issues.yaml'), register);
    });
  });

  test('the register is verified without surgenote, as README says', () => {
    const readme = readFileSync(resolve(import.meta.dirname, '../../README.md'), 'utf8');
    const commands = readme
      .split('\n')
      .filter((line) => /^ {4}.*(?:issues\.yaml|issue@surgenote)/.test(line));
    expect(commands).toHaveLength(3);
    const place = path('by-hand');
    mkdirSync(place);
    writeFileSync(join(place, 'issues.yaml'), register);
    writeFileSync(join(place, 'allowed_signers'), listOf(honest()));
    for (const entry of [1, 2]) {
      const script = commands.join('\n').replaceAll('n==1', `n==${entry}`).replace('tallis', 'clark');
      const told = execFileSync('bash', ['-c', script], { cwd: place }).toString();
      expect(told).toMatch(/^Good "issue@surgenote" signature for clark/);
    }
  });

  describe('what must alarm nobody', () => {
    const contradicted = (findings: readonly Finding[]): string[] =>
      findings.filter(({ state }) => state === 'contradicted').map(({ about, text }) => `${about}: ${text}`);

    test.each<[string, () => Asked, readonly string[]]>([
      [
        'a key that was replaced, its line kept with its end',
        () => ({
          signers: `${listOf({ ...honest(), clark: `valid-before="20310601" ${publicKey('clark')}` })}clark valid-after="20310601" ${publicKey('second')}\n`,
        }),
        [],
      ],
      [
        'a key that was replaced, its line taken out',
        () => ({ signers: { ...honest(), clark: `valid-after="20310601" ${publicKey('second')}` } }),
        ['sign-off approved', 'register'],
      ],
      [
        'somebody who left, the line kept with its end',
        () => ({ signers: { ...honest(), adams: `valid-before="20310520" ${publicKey('adams')}` } }),
        [],
      ],
      [
        'somebody who left, the line taken out',
        () => ({ signers: { brown: publicKey('brown'), clark: publicKey('clark') } }),
        ['sign-off prepared', 'sign-off checked', 'sign-off approved'],
      ],
      [
        'a list with comments, other keys and kinds that are not known',
        () => ({
          signers: `# ours\n${listOf(honest())}okonkwo mldsa-65@office.example ${UNKNOWN}\ntallis ${publicKey('second')}\n`,
        }),
        [],
      ],
      [
        'other people’s keys that were revoked',
        () => ({ revoked: `${publicKey('stranger')}\n${publicKey('usurper')}\n` }),
        [],
      ],
      ['a register with other line ends', () => ({ register: register.replaceAll('\n', '\r\n') }), []],
      [
        'a register in which nobody signed',
        () => ({
          register: chain(
            headOf(register),
            entriesOf(register).map((entry) =>
              entry.replace(/ {2}signature:[\s\S]*/, '').replace('  signed: ssh\n', ''),
            ),
          ),
        }),
        ['register'],
      ],
    ])('%s', async (tried, asked, open) => {
      const findings = await ask({ register, ...asked() });
      expect(contradicted(findings)).toEqual([]);
      const unproven = findings.filter(({ state }) => state !== 'proven').map(({ about }) => about);
      expect(unproven).toEqual(['pages', ...open]);
      rows.push(`| ${tried} | all | ${open.length === 0 ? 'proven' : 'not proven'} | ${open.join(', ')} |`);
    });

    test('a clone that git checks out with other line ends: its sign-offs hold, and its register is read', async () => {
      repository.run('checkout', '-q', '--', '.');
      repository.commitAll('Issued');
      const clone = path('clone');
      execFileSync('git', ['clone', '-q', '-c', 'core.autocrlf=true', folder, clone]);
      expect(readFileSync(join(clone, '1.signoff.yaml'), 'utf8')).toContain('\r\n');
      expect(readFileSync(join(clone, 'issues.yaml'), 'utf8')).toContain('\r\n');
      const { out } = await runInProcess(['evaluate', '1.md', '--json'], { cwd: clone });
      const [note] = (JSON.parse(out) as { notes: { mark: string; sign_offs: { state: string }[] }[] }).notes;
      expect(note!.mark).toBe('none');
      expect(note!.sign_offs.map(({ state }) => state)).toEqual(['valid', 'valid', 'valid']);
    });

    test('somebody who became something else, and was given another registration: nothing is void', async () => {
      const project = join(folder, 'project.yaml');
      const before = readFileSync(project, 'utf8');
      writeFileSync(
        project,
        before.replace('name: B. Brown', 'name: B. Brown, designation: Director, registration: Z-9'),
      );
      const { out } = await runInProcess(['evaluate', '1.md', '--json'], { cwd: folder });
      const [note] = (JSON.parse(out) as { notes: { mark: string }[] }).notes;
      expect(note!.mark).toBe('none');
      writeFileSync(project, before);
    });
  });

  test('the table of what was tried', async () => {
    const table = [
      '# Attacks on keys, records and registers',
      '',
      'Written by the test of the same name.',
      '',
      '| tried | finding | verify | because |',
      '| --- | --- | --- | --- |',
      ...rows,
      '',
    ].join('\n');
    await expect(table).toMatchFileSnapshot('tables/key-attacks.md');
  });
});
