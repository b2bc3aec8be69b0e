import { execFileSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { readSignedData } from '../../src/cms/read-signed-data.ts';
import type { TimeStampServer } from '../../src/files/request-time-stamp.ts';
import { type Signer, signData } from '../../src/files/sign-data.ts';
import { verifyCms } from '../../src/files/verify-cms.ts';
import { verifyTimeStamp } from '../../src/files/verify-time-stamp.ts';
import { spread } from '../support/at-length.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { PASSWORD, SigningKeys } from '../support/signing-keys.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { type Served, serveAnswers, TimeStampAuthority } from '../support/time-stamp-authority.ts';

const DATA = Buffer.from('Leads of the arresters at Heron Weir: 1.5 m');
const TODAY = new Date().toISOString().slice(0, 10);

describeWithTools(['openssl'], 'signData', () => {
  const keys = { current: undefined as SigningKeys | undefined };
  const at = (name: string): string => keys.current!.path(name);
  const fromFile = (path: string, password = { variable: 'HERON_PASSWORD' }): Signer => ({
    kind: 'key-file',
    path,
    password,
  });
  const byShell = (script: string, patience = 20): Signer => ({
    kind: 'command',
    argv: ['sh', '-c', `cd "$1" && ${script}`, 'sh', keys.current!.folder],
    patience,
  });
  const SIGN = 'openssl cms -sign -binary -signer otto.pem -inkey otto.key -outform';

  beforeAll(() => {
    keys.current = new SigningKeys(temporaryFolder());
    keys.current.add('ilse', 'Ilse Brandreth');
    keys.current.add('otto', 'Otto Fenwick', 'rsa');
  });
  beforeEach(() => {
    vi.stubEnv('HERON_PASSWORD', PASSWORD);
    return () => vi.unstubAllEnvs();
  });

  it('signs with a key file; who trusts the authority trusts the signature', async () => {
    const { cms, signer } = await signData(DATA, fromFile(at('ilse.p12')), TODAY);
    expect(signer).toMatchObject({
      name: 'Ilse Brandreth',
      subject: 'CN=Ilse Brandreth, O=Quillfeather',
      issuer: 'CN=Heron Weir Test Authority',
    });
    for (const trust of ['authority.pem', 'ilse.pem']) {
      expect(await verifyCms(cms, DATA, { trust: [at(trust)] })).toEqual({
        intact: true,
        trust: 'trusted',
        reason: null,
        coversCertificate: true,
        signer,
      });
    }
  });

  it('takes the password from a file, and files of older programs', async () => {
    keys.current!.openssl(
      ...['pkcs12', '-export', '-legacy', '-inkey', 'otto.key', '-in', 'otto.pem', '-out', 'older.p12'],
      ...['-passout', `pass:${PASSWORD}`],
    );
    writeFileSync(at('password'), `${PASSWORD}\n`);
    const older: Signer = { kind: 'key-file', path: at('older.p12'), password: { file: at('password') } };
    expect((await signData(DATA, older, TODAY)).signer.name).toBe('Otto Fenwick');
  });

  it('shows the password to nobody, writes the key nowhere, and leaves nothing behind', async () => {
    const [programs, temporary] = [at('programs'), at('temporary')];
    for (const folder of [programs, temporary]) mkdirSync(folder);
    // In the place of openssl: writes down how it is called, the rights of the folders, and what lies in them that may be a key.
    writeFileSync(
      join(programs, 'openssl'),
      `#!/bin/sh
echo "$@" >> ${at('calls')}
stat -c '%A %F' ${temporary}/* 2>/dev/null >> ${at('rights')}
grep -rl 'PRIVATE KEY' ${temporary} >> ${at('rights')}
PATH=\${PATH#*:} exec openssl "$@"
`,
      { mode: 0o755 },
    );
    vi.stubEnv('TMPDIR', temporary);
    vi.stubEnv('PATH', `${programs}:${process.env.PATH}`);
    await signData(DATA, fromFile(at('ilse.p12')), TODAY);
    const calls = readFileSync(at('calls'), 'utf8');
    expect(calls).toMatch(/^pkcs12 .*\ncms -verify /);
    expect(calls).toContain('-passin env:HERON_PASSWORD');
    expect(calls).not.toContain(PASSWORD);
    expect([...new Set(readFileSync(at('rights'), 'utf8').trim().split('\n'))]).toEqual([
      'drwx------ directory',
    ]);
    expect(readdirSync(temporary)).toEqual([]);
  });

  /** What openssl says of a signature, attribute by attribute. */
  const printCms = (cms: Uint8Array): string => {
    writeFileSync(at('printed.der'), cms);
    return execFileSync('openssl', ['cms', '-cmsout', '-print', '-inform', 'DER', '-in', at('printed.der')], {
      encoding: 'utf8',
    });
  };

  it('signs content type, digest and certificate, and no time of signing', async () => {
    // EN 319 142-1, level B-B: the time stands in the signature dictionary (recalled).
    const { cms, signingTime } = await signData(DATA, fromFile(at('ilse.p12')), TODAY);
    const printed = printCms(cms);
    const [, signed = ''] = /signedAttrs:\n([\s\S]*?)\n\s+signatureAlgorithm:/.exec(printed) ?? [];
    expect(signed.match(/object: \S+/g)).toEqual([
      'object: contentType',
      'object: messageDigest',
      'object: id-smime-aa-signingCertificateV2',
    ]);
    expect(printed).not.toContain('signingTime');
    expect(signingTime).toBeUndefined();
    expect(printed).toMatch(/unsignedAttrs:\s*<ABSENT>/);
  });

  it('signs by a command that knows of bare signatures alone', async () => {
    writeFileSync(
      at('otto-chain.pem'),
      ['otto.pem', 'authority.pem'].map((name) => readFileSync(at(name))).join(''),
    );
    const by = (argv: readonly string[], certificates = 'otto-chain.pem'): Signer => ({
      kind: 'command-key',
      argv,
      certificates: at(certificates),
    });
    const digest = ['openssl', 'dgst', '-sha256', '-sign'];
    for (const [key, certificates] of [
      ['otto', 'otto-chain.pem'],
      ['ilse', 'ilse.pem'],
    ] as const) {
      const { cms, signer } = await signData(DATA, by([...digest, at(`${key}.key`)], certificates), TODAY);
      expect(await verifyCms(cms, DATA, { trust: [at('authority.pem')] })).toMatchObject({
        trust: 'trusted',
        coversCertificate: true,
        signer: { name: signer.name },
      });
    }
    await expect(signData(DATA, by([...digest, at('ilse.key')]), TODAY)).rejects.toMatchObject({
      code: 'signing-output',
      message: expect.stringContaining('it was not made with the key of its certificate'),
    });
    await expect(signData(DATA, by(['true']), TODAY)).rejects.toThrow('it wrote nothing');
    await expect(signData(DATA, by(['true'], 'nobody.pem'), TODAY)).rejects.toMatchObject({
      code: 'certificates-unreadable',
    });
  });

  it.each([
    ['RSA-PSS', ['rsa-pss', '-pkeyopt', 'rsa_keygen_bits:2048'], true],
    ['a curve of 384 bits', ['ec', '-pkeyopt', 'ec_paramgen_curve:P-384'], true],
    ['Ed25519', ['ed25519'], false],
  ] as const)('signs with other kinds of keys where openssl verifies them: %s', async (_, kind, possible) => {
    keys.current!.openssl(
      ...['req', '-x509', '-newkey', ...kind, '-nodes', '-keyout', 'kind.key', '-out', 'kind.pem'],
      ...['-subj', '/CN=Edda Marsh'],
    );
    keys.current!.openssl(
      ...['pkcs12', '-export', '-inkey', 'kind.key', '-in', 'kind.pem', '-out', 'kind.p12'],
      ...['-passout', `pass:${PASSWORD}`],
    );
    const signing = signData(DATA, fromFile(at('kind.p12')), TODAY);
    if (possible) expect((await signing).signer.name).toBe('Edda Marsh');
    else await expect(signing).rejects.toThrow("no documents are signed with keys of the kind 'ed25519'");
  });

  describe('with a time stamp', () => {
    let authority: TimeStampAuthority;
    let served: Served | undefined;
    const serve = async (answer: (request: Buffer) => Uint8Array): Promise<TimeStampServer> => {
      served = await serveAnswers(answer);
      return { url: served.url, certificates: [authority.path('stamps.pem')] };
    };
    beforeAll(() => {
      mkdirSync(at('stamps'));
      authority = new TimeStampAuthority(at('stamps'));
    });
    afterEach(() => served?.close());

    it('holds it beside what is signed, for anybody to verify', async () => {
      const server = await serve((request) => authority.answer(request));
      const { cms, timeStamp } = await signData(DATA, fromFile(at('ilse.p12')), TODAY, server);
      expect(timeStamp).toMatchObject({ sound: true, trust: 'trusted' });
      expect(printCms(cms)).toContain('id-smime-aa-timeStampToken');
      const { timeStamps, signatureValue } = readSignedData(cms);
      expect(await verifyTimeStamp(timeStamps[0]!, signatureValue)).toMatchObject({ sound: true });
      expect(await verifyCms(cms, DATA, { trust: [at('authority.pem')] })).toMatchObject({
        trust: 'trusted',
      });
    });

    it('is not made where the certificate is no longer valid at the time of the stamp', async () => {
      const server = await serve((request) => authority.answerAt(request, '2044-05-16T09:30:00Z'));
      await expect(signData(DATA, fromFile(at('ilse.p12')), TODAY, server)).rejects.toMatchObject({
        code: 'certificate-expired',
        message: expect.stringMatching(/the date of signing is 2044-05-16T09:30:00Z$/),
      });
    });

    it('is added to the signature of a command, unless it holds one', async () => {
      const server = await serve((request) => authority.answer(request));
      const { cms, signingTime } = await signData(DATA, byShell(`${SIGN} DER -cades`), TODAY, server);
      expect(signingTime).toMatch(/^20\d\d-/);
      expect(readSignedData(cms).timeStamps).toHaveLength(1);
      writeFileSync(at('stamped.der'), cms);
      const again = signData(DATA, byShell('cat stamped.der'), TODAY, server);
      await expect(again).rejects.toThrow('takes no time stamp: it has unsigned attributes already');
    });
  });

  it('signs with a command', async () => {
    const { cms, signer } = await signData(DATA, byShell(`${SIGN} DER -cades`), TODAY);
    expect(signer.name).toBe('Otto Fenwick');
    expect(await verifyCms(cms, DATA)).toMatchObject({ trust: 'not-judged', coversCertificate: true });
    const plain = await signData(DATA, byShell(`${SIGN} DER`), TODAY);
    expect(await verifyCms(plain.cms, DATA)).toMatchObject({ intact: true, coversCertificate: false });
  });

  it('refuses a date at which the certificate is not valid', async () => {
    await expect(signData(DATA, fromFile(at('ilse.p12')), '2131-05-04')).rejects.toMatchObject({
      code: 'certificate-expired',
      message: expect.stringMatching(
        /^the certificate of Ilse Brandreth was valid until 20\d\d-\S+Z, and the date of signing is 2131-05-04$/,
      ),
    });
    await expect(signData(DATA, byShell(`${SIGN} DER`), '2001-05-04T09:30:00Z')).rejects.toMatchObject({
      code: 'certificate-not-yet-valid',
    });
  });

  it.each(
    spread<[string, () => Signer, string, RegExp]>(
      [
        ['no file', () => fromFile(at('nobody.p12')), 'signing-key', /cannot be read: it does not exist/],
        ['a folder', () => fromFile(keys.current!.folder), 'signing-key', /cannot be read: it is a folder/],
        ['another file', () => fromFile(at('ilse.pem')), 'signing-key', /it is no PKCS#12 file/],
        [
          'no variable',
          () => fromFile(at('ilse.p12'), { variable: 'NO_SUCH' }),
          'signing-password',
          /NO_SUCH, .* is not set/,
        ],
        [
          'a wrong password',
          () => fromFile(at('ilse.p12'), { variable: 'HOME' }),
          'signing-password',
          /does not open the key/,
        ],
        [
          'no file with the password',
          () => ({ kind: 'key-file', path: at('ilse.p12'), password: { file: at('nothing') } }),
          'signing-password',
          /cannot be read: it does not exist/,
        ],
        ['no command', () => ({ kind: 'command', argv: [] }), 'signing-command', /no command .* is named/],
        [
          'a command that is not there',
          () => ({ kind: 'command', argv: ['/no/such'] }),
          'signing-command',
          /cannot be started/,
        ],
        [
          'one that fails',
          () => byShell('echo no token >&2; exit 4'),
          'signing-command',
          /status 4: no token$/,
        ],
        [
          'one that hangs',
          () => byShell('exec sleep 30', 0.2),
          'signing-command',
          /did not end within 0.2 s/,
        ],
        [
          'one whose child hangs',
          () => byShell('sleep 100; true', 0.2),
          'signing-command',
          /did not end within/,
        ],
        ['one that says nothing', () => byShell('true'), 'signing-output', /it wrote nothing/],
        ['one that repeats', () => byShell('cat'), 'signing-output', /it wrote something else/],
        [
          'one that does not end writing',
          () => byShell('exec yes'),
          'signing-output',
          /more than 1000000 bytes/,
        ],
        ['PEM', () => byShell(`${SIGN} PEM`), 'signing-output', /it wrote PEM, not DER/],
        [
          'other data',
          () => byShell(`head -c 5 | ${SIGN} DER`),
          'signing-output',
          /not those that were signed/,
        ],
        [
          'no certificate',
          () => byShell(`${SIGN} DER -nocerts`),
          'signing-output',
          /does not hold the certificate of its key/,
        ],
        ['SHA-1', () => byShell(`${SIGN} DER -md sha1`), 'signing-output', /rests on sha1/],
        [
          'two signers',
          () => byShell(`${SIGN} DER -signer ilse.pem -inkey ilse.key`),
          'signing-output',
          /signatures of 2 signers/,
        ],
      ],
      5,
    ),
  )('says what is wrong: %s', async (_, signer, code, message) => {
    await expect(signData(DATA, signer(), TODAY)).rejects.toMatchObject({
      name: 'OutsideFailure',
      code,
      message: expect.stringMatching(message),
    });
  });

  it('refuses a key file without the certificate of its key, and one without a key', async () => {
    const exported = (out: string, ...args: readonly string[]): void =>
      keys.current!.openssl('pkcs12', '-export', '-out', out, '-passout', `pass:${PASSWORD}`, ...args);
    exported('only-certificate.p12', '-nokeys', '-in', 'ilse.pem');
    exported('only-key.p12', '-nocerts', '-inkey', 'ilse.key');
    const sign = (name: string) => signData(DATA, fromFile(at(name)), TODAY);
    await expect(sign('only-certificate.p12')).rejects.toThrow('it holds no key');
    await expect(sign('only-key.p12')).rejects.toThrow('it holds no certificate of the key');
  });

  it('says that openssl is missing', async () => {
    vi.stubEnv('PATH', '');
    await expect(signData(DATA, fromFile(at('ilse.p12')), TODAY)).rejects.toMatchObject({
      code: 'openssl-missing',
    });
  });

  it('tells a changed text, a changed signature, an unknown authority and an expired certificate apart', async () => {
    const { cms } = await signData(DATA, fromFile(at('ilse.p12')), TODAY);
    const changed = Buffer.from(DATA.toString().replace('1.5', '7.5'));
    expect(await verifyCms(cms, changed, { trust: [at('authority.pem')] })).toMatchObject({
      intact: false,
      reason: 'the signed bytes are not those that were signed',
    });
    const spoilt = Uint8Array.from(cms);
    spoilt[spoilt.length - 1]! ^= 1; // The last byte is one of the signature itself.
    expect(await verifyCms(spoilt, DATA)).toMatchObject({
      intact: false,
      reason: 'it was not made with the key of its certificate',
    });
    expect(await verifyCms(Buffer.from('no signature'), DATA)).toMatchObject({
      intact: false,
      reason: expect.stringContaining('cannot be read as a signature'),
    });
    const judge = (trust: string, date?: string) =>
      verifyCms(cms, DATA, { trust: [at(trust)], ...(date ? { date } : {}) });
    // The certificate was made today, after midnight.
    expect(await judge('authority.pem', `${TODAY}T00:00:00Z`)).toMatchObject({ trust: 'trusted' });
    expect(await judge('authority.pem', `${TODAY}T00:00:01Z`)).toMatchObject({
      trust: 'not-trusted',
      reason: 'certificate is not yet valid',
    });
    expect(await judge('otto.pem')).toMatchObject({ intact: true, trust: 'not-trusted' });
    expect(await judge('authority.pem', '2131-05-04T00:00:00Z')).toMatchObject({
      intact: true,
      trust: 'not-trusted',
      reason: 'certificate has expired',
    });
  });

  it('says what is wrong with certificates that should be trusted', async () => {
    const { cms } = await signData(DATA, fromFile(at('ilse.p12')), TODAY);
    writeFileSync(at('damaged.pem'), '-----BEGIN CERTIFICATE-----\nAAAA\n-----END CERTIFICATE-----\n');
    for (const [name, reason] of [
      ['nobody.pem', 'it does not exist'],
      ['ilse.key', 'it holds no certificate in PEM form'],
      ['damaged.pem', 'a certificate in it is damaged'],
    ] as const) {
      await expect(verifyCms(cms, DATA, { trust: [join(keys.current!.folder, name)] })).rejects.toMatchObject(
        {
          code: 'certificates-unreadable',
          message: expect.stringContaining(reason),
        },
      );
    }
  });
});
