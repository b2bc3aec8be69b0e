import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import {
  NAMESPACE,
  type SshSignature,
  verifySshSignature,
} from '../../../src/review/sign-off/ssh-signature.ts';
import { describeWithTools } from '../../support/outside-tools.ts';
import { arm, field, signOnToken, sshsig, TOKEN_KEYS, unarm } from '../../support/ssh-token.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';

const TEXT = 'form: surgenote sign-off 1\nname: Ilse Brandreth\nremark: "µ, 12 kV"\n';

const KINDS = [
  ['ed25519', []],
  ['ecdsa', ['-b', '256']],
  ['ecdsa', ['-b', '384']],
  ['ecdsa', ['-b', '521']],
  ['rsa', ['-b', '2048']],
] as const;

describeWithTools(['ssh-keygen'], 'signatures that ssh-keygen makes', () => {
  const root = temporaryFolder();

  function makeSignature(key: string, namespace = NAMESPACE, ...options: string[]): string {
    return execFileSync(
      'ssh-keygen',
      ['-q', '-Y', 'sign', '-f', key, '-n', namespace, ...options.flatMap((one) => ['-O', one])],
      { input: TEXT, stdio: ['pipe', 'pipe', 'ignore'] },
    ).toString();
  }

  describe.each(KINDS)('%s %j', (type, size) => {
    const key = join(root, `${type}${size.at(-1) ?? ''}`);
    let armoured = '';

    beforeAll(() => {
      execFileSync('ssh-keygen', ['-q', '-t', type, ...size, '-N', '', '-C', '', '-f', key]);
      armoured = makeSignature(key);
    });

    test('holds; key and fingerprint are those that ssh-keygen tells', () => {
      const found = verifySshSignature(TEXT, armoured) as SshSignature;
      const told = execFileSync('ssh-keygen', ['-l', '-f', `${key}.pub`]).toString();
      expect(told.split(' ')[1]).toBe(found.fingerprint);
      expect(readFileSync(`${key}.pub`, 'utf8').split(' ')[1]).toBe(found.key.toString('base64'));
    });

    test('holds with either hash', () => {
      expect(verifySshSignature(TEXT, makeSignature(key, NAMESPACE, 'hashalg=sha256'))).toBeTypeOf('object');
    });

    test('one byte of the text changed', () => {
      for (const changed of [TEXT.replace('12', '13'), `${TEXT}\n`, TEXT.slice(0, -1), '']) {
        expect(verifySshSignature(changed, armoured)).toBe('it does not fit what was signed');
      }
    });

    test('made in another namespace', () => {
      expect(verifySshSignature(TEXT, makeSignature(key, 'file'))).toBe(
        "it was made for 'file' and not for 'sign-off@surgenote'",
      );
    });

    test('what is longer than any signature is not looked into, and what is quoted of one is cut', () => {
      const long = armoured.replace('-----\n', `-----\n${`${'A'.repeat(70)}\n`.repeat(1500)}`);
      expect(verifySshSignature(TEXT, long)).toBe(
        `it has ${long.length} characters, and no SSH signature has more than 100000`,
      );
      const found = verifySshSignature(TEXT, makeSignature(key, 'n'.repeat(5000)));
      expect(found).toMatch(/^it was made for 'n{200,300} \.\.\.$/);
    });

    test('a damaged armour', () => {
      for (const damaged of [
        '',
        armoured.replace('BEGIN SSH', 'BEGIN PGP'),
        armoured.replace(/-----END.*/, ''),
        armoured.replace(/\n\w/, '\n*'),
        `note\n${armoured}`,
      ]) {
        expect(verifySshSignature(TEXT, damaged)).toBe('it is no SSH signature');
      }
    });

    test('cut off after any of its bytes, or with bytes behind it', () => {
      const blob = unarm(armoured);
      for (let length = 0; length < blob.length; length += 1) {
        expect(verifySshSignature(TEXT, arm(blob.subarray(0, length)))).toBeTypeOf('string');
      }
      expect(verifySshSignature(TEXT, arm(Buffer.concat([blob, Buffer.of(0)])))).toBe(
        'the signature is damaged',
      );
      expect(verifySshSignature(TEXT, arm(blob))).toBeTypeOf('object');
    });

    test('a bit changed in any byte', () => {
      const blob = unarm(armoured);
      for (let at = 0; at < blob.length; at += 1) {
        const changed = Buffer.from(blob);
        changed[at] = changed[at]! ^ 1;
        expect(verifySshSignature(TEXT, arm(changed)), `byte ${at}`).toBeTypeOf('string');
      }
    });
  });

  test('a key of another kind than the signature, and the signature of another person', () => {
    const [one, two] = ['one', 'two'].map((name) => {
      const key = join(root, name);
      execFileSync('ssh-keygen', ['-q', '-t', 'ed25519', '-N', '', '-f', key]);
      return makeSignature(key);
    });
    const other = unarm(makeSignature(join(root, 'rsa2048')));
    const keyOf = (blob: Buffer): Buffer => blob.subarray(14, 14 + blob.readUInt32BE(10));
    const swap = (blob: Buffer, key: Buffer): string =>
      arm(Buffer.concat([blob.subarray(0, 10), field(key), blob.subarray(14 + blob.readUInt32BE(10))]));
    expect(verifySshSignature(TEXT, swap(unarm(one!), keyOf(unarm(two!))))).toBe(
      'it does not fit what was signed',
    );
    expect(verifySshSignature(TEXT, swap(unarm(one!), keyOf(other)))).toBe(
      "signatures of the kind 'ssh-ed25519' are not accepted",
    );
    expect(verifySshSignature(TEXT, swap(other, keyOf(unarm(one!))))).toBe(
      'the key and the signature are of different kinds',
    );
  });

  // NIST SP 800-131A: RSA keys below 2048 bits are not acceptable for signatures.
  test('an RSA key that is too short', () => {
    const key = join(root, 'short');
    execFileSync('ssh-keygen', ['-q', '-t', 'rsa', '-b', '1024', '-N', '', '-f', key]);
    expect(verifySshSignature(TEXT, makeSignature(key))).toBe('its key of 1024 bits is too short');
  });

  // The token of the tests below is ours; that its signature has the right form is for ssh-keygen to say.
  test.each(['ed25519', 'ecdsa'] as const)('a signature of our token, %s, is one for ssh-keygen', (curve) => {
    const { armoured, key } = signOnToken(curve, TEXT);
    const [signers, file] = [join(root, 'signers'), join(root, 'signature')];
    writeFileSync(signers, `brandreth ${TOKEN_KEYS[curve]} ${key.toString('base64')}\n`);
    writeFileSync(file, armoured);
    const verify = ['-Y', 'verify', '-f', signers, '-I', 'brandreth', '-n', NAMESPACE, '-s', file];
    expect(execFileSync('ssh-keygen', verify, { input: TEXT }).toString()).toContain('Good');
  });
});

describe.each(['ed25519', 'ecdsa'] as const)('a signature of a token, built by PROTOCOL.u2f: %s', (curve) => {
  test('holds', () => {
    const { armoured, key } = signOnToken(curve, TEXT);
    const found = verifySshSignature(TEXT, armoured) as SshSignature;
    expect(found.key.equals(key)).toBe(true);
    expect(found.fingerprint).toMatch(/^SHA256:[A-Za-z0-9+/]{43}$/);
  });

  test.each([
    ['another text', {}, `${TEXT}.`, 'it does not fit what was signed'],
    ['not touched', { flags: 0 }, TEXT, 'the token signed without being touched'],
    ['verified, but not touched', { flags: 4 }, TEXT, 'the token signed without being touched'],
    [
      'another counter than that which was signed',
      { counterTold: 8 },
      TEXT,
      'it does not fit what was signed',
    ],
    ['another application', { application: 'ssh:elsewhere' }, TEXT, 'it does not fit what was signed'],
  ])('%s', (_, made, text, reason) => {
    expect(verifySshSignature(text, signOnToken(curve, TEXT, made).armoured)).toBe(reason);
  });
});

test('versions, hashes and keys that are not known are refused', () => {
  const { blob } = signOnToken('ed25519', TEXT);
  const version = Buffer.from(blob);
  version[9] = 2;
  expect(verifySshSignature(TEXT, arm(version))).toBe('it is no SSH signature of a known version');
  expect(verifySshSignature(TEXT, signOnToken('ed25519', TEXT, { hash: 'sha1' }).armoured)).toBe(
    "its hash 'sha1' is not known",
  );
  const ofKind = (kind: string): string => {
    const parts = [
      [field(kind), field('x')],
      [field(NAMESPACE)],
      [field('')],
      [field('sha512')],
      [field('y')],
    ];
    return arm(sshsig(parts.map((part) => Buffer.concat(part))));
  };
  expect(verifySshSignature(TEXT, ofKind('ssh-dss'))).toBe("keys of the kind 'ssh-dss' are not known");
  // What no font of a page has is spelt.
  expect(verifySshSignature(TEXT, ofKind('ssh-\u2066d\u{1f512}'))).toBe(
    "keys of the kind 'ssh-\\u{2066}d\\u{1f512}' are not known",
  );
});
