import { execFileSync } from 'node:child_process';
import { X509Certificate } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { beforeAll, expect, it } from 'vitest';
import { judgeRevocation } from '../../src/cms/judge-revocation.ts';
import { readRevocationData } from '../../src/cms/revocation-data.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { RevocationLists } from '../support/revocation-lists.ts';
import { SigningKeys } from '../support/signing-keys.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

// The lists and answers are openssl's, which also verifies them itself; the rules are those of RFC 5280 and RFC 6960 (recalled).
describeWithTools(['openssl'], 'whether a certificate was revoked', () => {
  let keys: SigningKeys;
  let lists: RevocationLists;
  const read = (name: string): X509Certificate => new X509Certificate(readFileSync(keys.path(name)));
  const judge = (at: string, ...data: Buffer[]) =>
    judgeRevocation(read('ilse.pem'), [], [read('authority.pem')], data.map(readRevocationData), at);
  const AT = '2031-05-16T09:30:00Z';
  const now = (): string => `${new Date().toISOString().slice(0, 19)}Z`;
  const MAY = ['20310501000000Z', '20310601000000Z'] as const;

  beforeAll(() => {
    keys = new SigningKeys(temporaryFolder());
    keys.add('ilse', 'Ilse Brandreth');
    keys.add('otto', 'Otto Fenwick');
    lists = new RevocationLists(keys.folder);
    keys.openssl(
      ...['req', '-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:P-256', '-nodes'],
      ...['-keyout', 'stranger.key', '-out', 'stranger.pem', '-subj', '/CN=Heron Weir Test Authority'],
    );
  });

  it('nobody says so', () => {
    expect(judge(AT, lists.list(...MAY, []))).toEqual({
      state: 'good',
      text: 'not revoked, says a list of revoked certificates of 2031-05-01T00:00:00Z',
    });
    expect(judge(AT, lists.list(...MAY, [{ file: 'otto.pem', on: '310502000000Z' }])).state).toBe('good');
  });

  it('before or after the time that counts', () => {
    const on = (day: string, reason?: string) =>
      judge(
        AT,
        lists.list('20310601000000Z', '20310701000000Z', [
          { file: 'ilse.pem', on: day, ...(reason ? { reason } : {}) },
        ]),
      );
    expect(on('310516092959Z')).toEqual({
      state: 'revoked',
      text: 'the certificate of Ilse Brandreth was revoked as from 2031-05-16T09:29:59Z',
    });
    expect(on('310516093001Z')).toMatchObject({ state: 'later' });
    // An authority may learn later that a key was unsafe earlier (invalidity date, RFC 5280, 5.3.2).
    expect(on('310520000000Z', 'keyTime,20310510000000Z')).toMatchObject({
      state: 'revoked',
      text: expect.stringContaining('2031-05-10T00:00:00Z'),
    });
    expect(on('310520000000Z', 'keyTime,20310517000000Z')).toMatchObject({ state: 'later' });
  });

  it('one that says so outweighs one that does not', () => {
    const listed = lists.list(...MAY, [{ file: 'ilse.pem', on: '310502000000Z' }]);
    const silent = lists.list(...MAY, []);
    for (const order of [
      [listed, silent],
      [silent, listed],
    ])
      expect(judge(AT, ...order).state).toBe('revoked');
  });

  it('is not known without data, from old ones, and from those made after the certificate expired', () => {
    expect(judge(AT)).toEqual({
      state: 'unknown',
      text: 'whether the certificate of Ilse Brandreth was revoked is not known',
    });
    const old = lists.list('20310101000000Z', '20310201000000Z', []);
    expect(judge(AT, old)).toMatchObject({
      state: 'unknown',
      text: expect.stringContaining('what is at hand is of 2031-01-01T00:00:00Z'),
    });
    expect(judge(AT, old, lists.list(...MAY, [])).state).toBe('good');
    expect(judge(AT, lists.list('20400101000000Z', '20400201000000Z', [])).state).toBe('unknown');
  });

  it('is not said by lists of others, spoilt ones, those for a part, or those for authorities', () => {
    const by = new RevocationLists(keys.folder, 'stranger');
    expect(judge(AT, by.list(...MAY, [])).state).toBe('unknown');
    const spoilt = lists.list(...MAY, []);
    spoilt[spoilt.length - 1]! ^= 1; // The last byte is one of the signature.
    expect(judge(AT, spoilt).state).toBe('unknown');
    expect(judge(AT, lists.list(...MAY, [], 'part')).state).toBe('unknown');
    expect(judge(AT, lists.list(...MAY, [], 'authorities')).state).toBe('unknown');
  });

  it('is found among twenty thousand others', () => {
    const revoked = [{ file: 'ilse.pem', on: '310502000000Z', reason: 'keyCompromise' }];
    expect(judge(AT, lists.list(...MAY, revoked, undefined, 20_000))).toMatchObject({
      state: 'revoked',
      text: expect.stringContaining('2031-05-02T00:00:00Z'),
    });
    expect(judge(AT, lists.list(...MAY, [], undefined, 20_000)).state).toBe('good');
  });

  it('is answered by the issuer, or by somebody whom it certified for answers', () => {
    const certify = (name: string, usage: string): void => {
      keys.openssl(
        ...['req', '-newkey', 'rsa:2048', '-nodes', '-keyout', `${name}.key`, '-out', `${name}.csr`],
        ...['-subj', `/CN=${name}`],
      );
      writeFileSync(keys.path('answers.ext'), `extendedKeyUsage = ${usage}\n`);
      keys.openssl(
        ...['x509', '-req', '-in', `${name}.csr`, '-CA', 'authority.pem', '-CAkey', 'authority.key'],
        ...['-CAcreateserial', '-days', '300', '-extfile', 'answers.ext', '-out', `${name}.pem`],
      );
    };
    certify('answers', 'OCSPSigning');
    certify('mail', 'emailProtection');
    for (const signer of ['authority', 'answers']) {
      expect(judge(now(), lists.answer('ilse.pem', [], signer))).toMatchObject({
        state: 'good',
        text: expect.stringMatching(/^not revoked, says an answer \(OCSP\) of 20/),
      });
      // openssl accepts the same answer.
      const said = execFileSync(
        'openssl',
        [
          'ocsp',
          '-respin',
          'ocsp.res',
          '-issuer',
          'authority.pem',
          '-cert',
          'ilse.pem',
          '-CAfile',
          'authority.pem',
          '-no_nonce',
        ],
        { cwd: keys.folder, encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] },
      );
      expect(said).toContain('ilse.pem: good');
    }
    for (const signer of ['mail', 'stranger', 'otto'])
      expect(judge(now(), lists.answer('ilse.pem', [], signer)).state).toBe('unknown');
    expect(judge(now(), lists.answer('otto.pem', [])).state).toBe('unknown');
    const revoked = lists.answer('ilse.pem', [
      { file: 'ilse.pem', on: '260102000000Z', reason: 'keyCompromise' },
    ]);
    expect(judge(now(), revoked)).toMatchObject({
      state: 'revoked',
      text: expect.stringContaining('2026-01-02T00:00:00Z'),
    });
    expect(judge('2026-01-01T00:00:00Z', revoked).state).toBe('later');
    expect(judge(AT, lists.answer('ilse.pem', [])).state).toBe('unknown');
  });

  it('reads neither other files nor what somebody put behind them', () => {
    const list = lists.list(...MAY, []);
    for (const bytes of [
      Buffer.from('no list'),
      Buffer.alloc(0),
      Buffer.concat([list, Buffer.from([0])]),
      list.subarray(0, 90),
      read('ilse.pem').raw,
    ])
      expect(() => readRevocationData(bytes)).toThrow();
  });
});
