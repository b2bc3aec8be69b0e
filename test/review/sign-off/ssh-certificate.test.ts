import { execFileSync, spawnSync } from 'node:child_process';
import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { Collector } from '../../../src/diagnostics/collector.ts';
import { readAllowedSigners } from '../../../src/review/sign-off/allowed-signers.ts';
import { judgeSignature } from '../../../src/review/sign-off/judge-signature.ts';
import { type RevokedKeys, readRevokedKeys } from '../../../src/review/sign-off/revoked-keys.ts';
import {
  NAMESPACE,
  type SshSignature,
  verifySshSignature,
} from '../../../src/review/sign-off/ssh-signature.ts';
import { spread } from '../../support/at-length.ts';
import { describeWithTools } from '../../support/outside-tools.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';

// Certificates, and lists of revoked keys, made by ssh-keygen; its own verdict stands beside ours.

const TEXT = 'a statement\n';

describeWithTools(['ssh-keygen'], 'an authority that says whose key it is', () => {
  const root = temporaryFolder();
  const path = (name: string): string => join(root, name);
  const keygen = (...args: string[]): string =>
    execFileSync('ssh-keygen', ['-q', ...args], { cwd: root, stdio: 'pipe', env: UTC }).toString();
  const publicKey = (name: string): string =>
    readFileSync(path(`${name}.pub`), 'utf8')
      .split(' ')
      .slice(0, 2)
      .join(' ')
      .trim();
  const UTC = { ...process.env, TZ: 'UTC' };

  /** A certificate for a copy of the key, `NAME-cert.pub` beside it. */
  function certify(name: string, options: readonly string[], key = 'ed25519', authority = 'authority'): void {
    for (const suffix of ['', '.pub']) copyFileSync(path(key + suffix), path(name + suffix));
    keygen('-s', authority, '-I', `id of ${name}`, ...options, `${name}.pub`);
  }

  const signWith = (name: string): string =>
    execFileSync('ssh-keygen', ['-q', '-Y', 'sign', '-f', path(`${name}-cert.pub`), '-n', NAMESPACE], {
      input: TEXT,
      stdio: ['pipe', 'pipe', 'ignore'],
    }).toString();

  function judge(
    signature: string,
    signers: string,
    revoked: readonly RevokedKeys[] = [],
    day = '2031-05-14',
  ) {
    const allowed = readAllowedSigners('allowed_signers', signers, new Collector());
    const request = { principal: 'brandreth', namespace: NAMESPACE, day };
    return judgeSignature({ text: TEXT, signature }, request, { allowed, revoked });
  }

  /** Whether ssh-keygen takes it at noon of the day. */
  function told(signature: string, signers: string, ...options: string[]): boolean {
    writeFileSync(path('signature'), signature);
    writeFileSync(path('signers'), signers);
    const verify = ['-Y', 'verify', '-f', 'signers', '-I', 'brandreth', '-n', NAMESPACE, '-s', 'signature'];
    const { status } = spawnSync('ssh-keygen', [...verify, '-O', 'verify-time=20310514120000', ...options], {
      ...{ input: TEXT, cwd: root, env: UTC },
    });
    return status === 0;
  }

  beforeAll(() => {
    for (const name of ['authority', 'another', 'ed25519'])
      keygen('-t', 'ed25519', '-N', '', '-C', '', '-f', name);
    keygen('-t', 'ecdsa', '-b', '384', '-N', '', '-C', '', '-f', 'ecdsa');
    keygen('-t', 'rsa', '-b', '2048', '-N', '', '-C', '', '-f', 'rsa');
  });

  const FOR_BRANDRETH = ['-n', 'brandreth,tallis'];
  const line = (options = ''): string => `brandreth cert-authority${options} ${publicKey('authority')}\n`;

  test.each(['ed25519', 'ecdsa', 'rsa'])(
    'a certified %s key signs, and its own fingerprint is told',
    (key) => {
      certify('certified', FOR_BRANDRETH, key);
      const signature = signWith('certified');
      expect(told(signature, line())).toBe(true);
      expect(judge(signature, line())).toEqual({
        held: true,
        fingerprint: keygen('-l', '-f', `${key}.pub`).split(' ')[1],
      });
      const found = verifySshSignature(TEXT, signature) as SshSignature;
      expect(found.certificate).toMatchObject({
        keyId: 'id of certified',
        principals: ['brandreth', 'tallis'],
      });
      expect(found.key.toString('base64')).toBe(publicKey(key).split(' ')[1]);
    },
  );

  test('an authority with an RSA or ECDSA key', () => {
    for (const authority of ['rsa', 'ecdsa']) {
      certify('certified', FOR_BRANDRETH, 'ed25519', authority);
      const signature = signWith('certified');
      const signers = `* cert-authority ${publicKey(authority)}\n`;
      expect(told(signature, signers)).toBe(true);
      expect(judge(signature, signers).held).toBe(true);
    }
  });

  test.each(
    spread<[string, readonly string[], () => string, string]>(
      [
        ['for somebody else', ['-n', 'okonkwo'], line, "its certificate is not for 'brandreth'"],
        [
          'not valid any more',
          [...FOR_BRANDRETH, '-V', '20300101:20310401'],
          line,
          'its certificate was not valid on 2031-05-14',
        ],
        [
          'not valid yet',
          [...FOR_BRANDRETH, '-V', '20310601:20330101'],
          line,
          'its certificate was not valid on 2031-05-14',
        ],
        [
          'of an authority that is not listed',
          FOR_BRANDRETH,
          () => `brandreth cert-authority ${publicKey('another')}\n`,
          'the authority of its certificate is none of those',
        ],
        [
          'of an authority whose line names it as a key',
          FOR_BRANDRETH,
          () => `brandreth ${publicKey('authority')}\n`,
          'the authority of its certificate is none of those',
        ],
        [
          'of an authority for other people',
          FOR_BRANDRETH,
          () => line().replace('brandreth', 'okonkwo'),
          "names no key of 'brandreth'",
        ],
        [
          'of an authority for another purpose',
          FOR_BRANDRETH,
          () => line(',namespaces="file"'),
          'is not allowed for',
        ],
        [
          'of an authority whose time is over',
          FOR_BRANDRETH,
          () => line(',valid-before="20310301"'),
          'is not allowed for',
        ],
        ['of a host', ['-h', ...FOR_BRANDRETH], line, 'its certificate is that of a host'],
      ],
      4,
    ),
  )('a certificate %s is refused, as ssh-keygen does', (_, options, signers, reason) => {
    certify('refused', options);
    const signature = signWith('refused');
    expect(told(signature, signers())).toBe(false);
    const verdict = judge(signature, signers());
    expect(verdict.held).toBe(false);
    expect((verdict as { reason: string }).reason).toContain(reason);
  });

  // ssh-keygen is more generous in these: a certificate for everybody says of nobody that the key is his, and one that is limited
  // to a command was not made for signing.
  test.each([
    ['for everybody', [], "its certificate is not for 'brandreth'"],
    [
      'for one command',
      [...FOR_BRANDRETH, '-O', 'force-command=true'],
      "its certificate is limited by 'force-command'",
    ],
    ['for one address', [...FOR_BRANDRETH, '-O', 'source-address=10.0.0.0/8'], "limited by 'source-address'"],
    [
      'for a token that verifies the person',
      [...FOR_BRANDRETH, '-O', 'verify-required'],
      'it was not made on a token',
    ],
  ])('a certificate %s is refused', (_, options, reason) => {
    certify('refused', options);
    const verdict = judge(signWith('refused'), line());
    expect((verdict as { reason: string }).reason).toContain(reason);
  });

  test('a certificate with any byte changed is refused', () => {
    certify('certified', [...FOR_BRANDRETH, '-V', '20310101:20320101']);
    const armoured = signWith('certified');
    const blob = Buffer.from(armoured.split('\n').slice(1, -2).join(''), 'base64');
    const end = 14 + blob.readUInt32BE(10);
    for (let at = 14; at < end; at += 1) {
      const changed = Buffer.from(blob);
      changed[at] = changed[at]! ^ 1;
      const text = `-----BEGIN SSH SIGNATURE-----\n${changed.toString('base64')}\n-----END SSH SIGNATURE-----\n`;
      expect(verifySshSignature(TEXT, text), `byte ${at}`).toBeTypeOf('string');
    }
  });

  test('the key of a certificate, listed by itself, does not make the certificate good', () => {
    certify('certified', FOR_BRANDRETH);
    const signers = `brandreth ${publicKey('ed25519')}\n`;
    const signature = signWith('certified');
    expect(told(signature, signers)).toBe(false);
    expect(judge(signature, signers).held).toBe(false);
  });

  test.each(
    spread<[string, () => string[], boolean]>(
      [
        ['the key', () => ['ed25519.pub'], true],
        ['the certificate, by its number', () => ['-s', 'authority.pub', 'numbered-cert.pub'], true],
        ['the number', () => ['-s', 'authority.pub', specify('serial: 4711')], true],
        ['a range of numbers', () => ['-s', 'authority.pub', specify('serial: 4700-4720')], true],
        [
          'scattered numbers',
          () => ['-s', 'authority.pub', specify('serial: 4709\nserial: 4711\nserial: 4713\nserial: 4718')],
          true,
        ],
        [
          'far numbers',
          () => ['-s', 'authority.pub', specify('serial: 1\nserial: 4711\nserial: 18446744073709551615')],
          true,
        ],
        [
          'other numbers',
          () => ['-s', 'authority.pub', specify('serial: 4710\nserial: 4712\nserial: 4700-4708')],
          false,
        ],
        ['the number, of another authority', () => ['-s', 'another.pub', specify('serial: 4711')], false],
        ['the name of the certificate', () => ['-s', 'authority.pub', specify('id: id of numbered')], true],
        ['the name, of any authority', () => ['-s', 'none', specify('id: id of numbered')], true],
        ['the key, by its SHA-1', () => [specify(`sha1: ${publicKey('ed25519')}`)], true],
        ['the key, by its SHA-256', () => [specify(`sha256: ${publicKey('ed25519')}`)], true],
        [
          'the key, by its fingerprint',
          () => [specify(`hash: ${keygen('-l', '-f', 'ed25519.pub').split(' ')[1]}`)],
          true,
        ],
        ['the authority', () => ['authority.pub'], true],
        ['another key', () => ['another.pub'], false],
      ],
      3,
    ),
  )('a list of ssh-keygen that revokes %s', (_, revoke, expected) => {
    certify('numbered', [...FOR_BRANDRETH, '-z', '4711']);
    const signature = signWith('numbered');
    keygen('-k', '-f', 'list', ...revoke());
    expect(told(signature, line(), '-r', 'list')).toBe(!expected);
    const revoked = readRevokedKeys(readFileSync(path('list')));
    if (typeof revoked === 'string') throw new Error(revoked);
    const verdict = judge(signature, line(), [revoked]);
    expect(verdict.held).toBe(!expected);
    if (!verdict.held) expect(verdict.reason).toBe('its key was revoked');
  });

  function specify(text: string): string {
    writeFileSync(path('specification'), `${text}\n`);
    return 'specification';
  }

  test.each(
    spread<[string, () => string, boolean]>(
      [
        ['the key', () => `# lost in the train\n${publicKey('ed25519')} of Ilse\n`, true],
        ['the certificate', () => readFileSync(path('plain-cert.pub'), 'utf8'), true],
        ['the authority', () => `\r\n${publicKey('authority')}\r\n`, true],
        ['others', () => `${publicKey('another')}\n${publicKey('rsa')}\n`, false],
        ['nothing', () => '# nothing yet\n', false],
      ],
      2,
    ),
  )('a plain list that names %s', (_, text, expected) => {
    certify('plain', FOR_BRANDRETH);
    const signature = signWith('plain');
    writeFileSync(path('list'), text());
    expect(told(signature, line(), '-r', 'list')).toBe(!expected);
    const revoked = readRevokedKeys(Buffer.from(text()));
    if (typeof revoked === 'string') throw new Error(revoked);
    expect(judge(signature, line(), [revoked]).held).toBe(!expected);
  });

  test('a list that is damaged anywhere revokes nothing in silence: it is refused', () => {
    certify('numbered', [...FOR_BRANDRETH, '-z', '4711']);
    keygen('-k', '-f', 'list', '-s', 'authority.pub', specify('serial: 4711\nserial: 9-12\nid: x'));
    const whole = readFileSync(path('list'));
    expect(readRevokedKeys(whole)).toBeTypeOf('object');
    // The bare header, and the end of the only section, are whole lists too.
    const ends = Array.from({ length: whole.length }, (_, length) => length).filter(
      (length) => typeof readRevokedKeys(whole.subarray(0, length)) === 'object',
    );
    expect(ends.filter((length) => length > 8)).toHaveLength(1);
    const [, header] = [0, ends.find((length) => length > 8)!];
    for (const kind of [6, 42, 254]) {
      const unknown = Buffer.from(whole);
      unknown[header] = kind;
      expect(readRevokedKeys(unknown)).toMatch(/^it holds a section of a kind that is not known/);
    }
    expect(readRevokedKeys(Buffer.from('ssh-ed25519 AAAA\n'))).toBe('line 1 is no public key');
    expect(readRevokedKeys(Buffer.from(`${publicKey('rsa')}\nhello\n`))).toBe('line 2 is no public key');
    const version = Buffer.from(whole);
    version[11] = 2;
    expect(readRevokedKeys(version)).toContain('of a version that is not known');
  });
});
