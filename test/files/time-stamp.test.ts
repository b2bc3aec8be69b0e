import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeAll, expect, it, vi } from 'vitest';
import { readTimeStamp } from '../../src/cms/read-time-stamp.ts';
import { requestTimeStamp } from '../../src/files/request-time-stamp.ts';
import { verifyTimeStamp } from '../../src/files/verify-time-stamp.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import {
  OTHER_POLICY,
  POLICY,
  type Served,
  serveAnswers,
  TimeStampAuthority,
} from '../support/time-stamp-authority.ts';

const DATA = Buffer.from('Earth electrode at Heron Weir: 7.2 ohm');
const MAY = '2031-05-16T09:30:00Z';

describeWithTools(['openssl'], 'a time stamp', () => {
  const root = temporaryFolder();
  const folder = (name: string): string => {
    const path = join(root, name);
    mkdirSync(path);
    return path;
  };
  let authority: TimeStampAuthority;
  let served: Served | undefined;
  const trusted = (): string[] => [authority.path('stamps.pem')];
  const serve = async (...args: Parameters<typeof serveAnswers>): Promise<string> => {
    served = await serveAnswers(...args);
    return served.url;
  };

  beforeAll(() => {
    authority = new TimeStampAuthority(folder('authority'));
  });
  afterEach(async () => {
    await served?.close();
    served = undefined;
    vi.unstubAllEnvs();
  });

  it('is asked for over the network, holds what was asked, and openssl alone verifies it', async () => {
    const url = await serve((request) => authority.answer(request));
    const asked = Math.floor(Date.now() / 1000);
    const { token, verdict } = await requestTimeStamp(DATA, {
      url,
      certificates: trusted(),
      policy: OTHER_POLICY,
    });
    expect(verdict).toMatchObject({ sound: true, trust: 'trusted', reason: null });
    expect(verdict.authority).toMatchObject({ name: 'Heron Weir Clock', issuer: 'CN=Heron Weir Time' });
    const stamped = Date.parse(verdict.time!) / 1000;
    expect(stamped).toBeGreaterThanOrEqual(asked);
    expect(stamped).toBeLessThanOrEqual(Date.now() / 1000);
    expect(readTimeStamp(token)).toMatchObject({ policy: OTHER_POLICY, accuracy: 1 });
    writeFileSync(authority.path('alone.der'), token);
    writeFileSync(authority.path('alone.txt'), DATA);
    const said = execFileSync(
      'openssl',
      ['ts', '-verify', '-data', 'alone.txt', '-in', 'alone.der', '-token_in', '-CAfile', 'stamps.pem'],
      { cwd: authority.folder, encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] },
    );
    expect(said).toContain('Verification: OK');
  });

  it('leads to an authority that is trusted, by its own certificate too, or to none', async () => {
    const token = authority.stamp(DATA, MAY);
    const by = async (...trust: string[]) => (await verifyTimeStamp(token, DATA, trust)).trust;
    expect(await by()).toBe('not-judged');
    expect(await by(authority.path('stamps.pem'))).toBe('trusted');
    expect(await by(authority.path('stamper.pem'))).toBe('trusted');
    const other = new TimeStampAuthority(folder('other'));
    expect(await verifyTimeStamp(token, DATA, [other.path('stamps.pem')])).toMatchObject({
      sound: true,
      trust: 'not-trusted',
      time: MAY,
    });
  });

  it('is judged at its own time: a certificate that expired later does not spoil it, one that had expired does', async () => {
    const span = { from: '20310101000000Z', until: '20310601000000Z' };
    const short = new TimeStampAuthority(folder('short'), span);
    const at = (time: string) => verifyTimeStamp(short.stamp(DATA, time), DATA, [short.path('stamps.pem')]);
    expect(await at('2031-05-31T23:00:00Z')).toMatchObject({ sound: true, trust: 'trusted' });
    expect(await at('2031-06-01T01:00:00Z')).toMatchObject({
      sound: false,
      reason: 'certificate has expired',
    });
    expect(await at('2030-12-31T23:00:00Z')).toMatchObject({
      sound: false,
      reason: 'certificate is not yet valid',
    });
  });

  // RFC 3161, 2.3: the certificate has the extended key usage timeStamping alone, and marks it critical.
  it.each([
    ['no extended usage', 'subjectKeyIdentifier = hash'],
    ['an extended usage that is not critical', 'extendedKeyUsage = timeStamping'],
    ['another usage', 'extendedKeyUsage = critical, emailProtection'],
    ['time stamps beside another usage', 'extendedKeyUsage = critical, timeStamping, codeSigning'],
  ])('is not taken from a certificate with %s', async (_, extensions) => {
    authority.certify('unfit', { extensions });
    const token = authority.stamp(DATA, MAY, { key: 'unfit' });
    expect(await verifyTimeStamp(token, DATA, trusted())).toMatchObject({
      sound: false,
      reason: expect.stringMatching(/not issued for time stamps alone/),
    });
  });

  it('is not taken where its certificate has a critical extension that nobody knows', async () => {
    const extensions = 'extendedKeyUsage = critical, timeStamping\n1.3.6.1.4.1.99999.7 = critical, ASN1:NULL';
    authority.certify('strange', { extensions });
    const token = authority.stamp(DATA, MAY, { key: 'strange' });
    expect(await verifyTimeStamp(token, DATA, trusted())).toMatchObject({
      sound: false,
      reason: 'unhandled critical extension',
    });
  });

  it('is taken by when it was made at the latest, from a clock that is not said to be wrong by minutes', async () => {
    const judge = (time: string, accuracy?: number) =>
      verifyTimeStamp(
        authority.stamp(DATA, time, accuracy === undefined ? {} : { accuracy }),
        DATA,
        trusted(),
      );
    expect(await judge('2031-05-16T09:30:00.250Z')).toMatchObject({
      trust: 'trusted',
      time: '2031-05-16T09:30:01Z',
    });
    expect(await judge(MAY, 1)).toMatchObject({ trust: 'trusted', time: MAY });
    expect(await judge(MAY, 3600)).toMatchObject({
      sound: true,
      trust: 'not-trusted',
      reason: expect.stringContaining('may be wrong by 3600 s'),
    });
  });

  it('is not taken for other data, over a broken digest, spoilt, or where it is something else', async () => {
    const judge = async (token: Uint8Array) => {
      const { sound, reason } = await verifyTimeStamp(token, DATA, trusted());
      expect(sound).toBe(false);
      return reason;
    };
    expect(await judge(authority.stamp(Buffer.from('other'), MAY))).toBe('it was made over something else');
    expect(await judge(authority.stamp(DATA, MAY, { digest: 'sha1' }))).toMatch(/rests on sha1/);
    const spoilt = authority.stamp(DATA, MAY);
    spoilt[spoilt.length - 1]! ^= 1; // The last byte is one of its signature.
    expect(await judge(spoilt)).not.toBeNull();
    expect(await judge(Buffer.from('no stamp'))).toMatch(/cannot be read as a time stamp/);
    expect(await judge(authority.stamp(DATA, MAY).subarray(0, 300))).toMatch(
      /cannot be read as a time stamp/,
    );
  });

  it.each<[string, (request: Buffer) => Uint8Array | number | undefined, RegExp, number?]>([
    ['a page', () => Buffer.from('<html>'), /is no answer of an authority for time stamps/],
    ['nothing', () => Buffer.alloc(0), /is no answer of an authority for time stamps/],
    ['an error', () => 503, /answered with status 503/],
    ['another address', () => 302, /answered with status 302/],
    ['too much', () => Buffer.alloc(17 * 1024 * 1024), /answered with more than 16777216 bytes/],
    ['never', () => undefined, /did not answer within 0.3 s/, 0.3],
    [
      'a refusal',
      (request) =>
        authority.answer(
          Buffer.from(
            request
              .toString('latin1')
              .replace('\x60\x86\x48\x01\x65\x03\x04\x02\x01', '\x60\x86\x48\x01\x65\x03\x04\x02\x02'),
            'latin1',
          ),
        ),
      /says that it gives no time stamp \(status 2: .*badAlg/,
    ],
    [
      'the stamp of another request',
      () => authority.answer(query('other')),
      /holds a time stamp of something else/,
    ],
    [
      'an old stamp of these data',
      () => authority.answer(query(DATA.toString())),
      /does not repeat the number of the request/,
    ],
    [
      'a stamp under another policy',
      (request) => authority.answerAt(request, MAY),
      /holds a time stamp under the policy 1\.3\.6\.1\.4\.1\.99999\.1, not 1\.3\.6\.1\.4\.1\.99999\.2/,
    ],
  ])('is not taken from a server that answers %s', async (_, answer, message, patience = 20) => {
    const url = await serve(answer);
    await expect(
      requestTimeStamp(DATA, { url, policy: OTHER_POLICY, certificates: trusted(), patience }),
    ).rejects.toMatchObject({
      name: 'OutsideFailure',
      code: expect.stringMatching(/^time-stamp-(?:server|answer)$/),
      message: expect.stringMatching(message),
    });
  });

  it('is not taken from an authority beside those that are trusted', async () => {
    const stranger = new TimeStampAuthority(folder('stranger'));
    const url = await serve((request) => stranger.answer(request));
    await expect(requestTimeStamp(DATA, { url, certificates: trusted() })).rejects.toMatchObject({
      code: 'time-stamp-answer',
      message: expect.stringMatching(
        /is a time stamp of somebody else: it leads to no authority that is trusted/,
      ),
    });
    expect((await requestTimeStamp(DATA, { url })).verdict).toMatchObject({ trust: 'not-judged' });
  });

  it('says that nobody listens at an address', async () => {
    const url = await serve(() => 404);
    await served!.close();
    await expect(requestTimeStamp(DATA, { url })).rejects.toThrow('cannot be reached: nothing listens there');
  });

  it.each([
    ['file:///etc/passwd', /begins with neither http/],
    ['stamps', /begins with neither http/],
  ])('says that there is no server: %s', async (url, message) => {
    await expect(requestTimeStamp(DATA, { url })).rejects.toMatchObject({
      code: 'time-stamp-server',
      message: expect.stringMatching(message),
    });
  });

  /** A request of `openssl ts`. */
  function query(text: string): Buffer {
    writeFileSync(authority.path('query.txt'), text);
    return execFileSync(
      'openssl',
      ['ts', '-query', '-data', 'query.txt', '-sha256', '-cert', '-tspolicy', POLICY],
      {
        cwd: authority.folder,
        stdio: ['ignore', 'pipe', 'ignore'],
      },
    );
  }
});
