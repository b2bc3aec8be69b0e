import { X509Certificate } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { afterEach, beforeAll, expect, it } from 'vitest';
import { fetchRevocation } from '../../src/files/fetch-revocation.ts';
import { readRevocationFile } from '../../src/files/read-revocation-file.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { RevocationLists } from '../support/revocation-lists.ts';
import { SigningKeys } from '../support/signing-keys.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { type Served, serveAnswers } from '../support/time-stamp-authority.ts';

describeWithTools(['openssl'], 'word on revoked certificates', () => {
  let keys: SigningKeys;
  let lists: RevocationLists;
  let served: Served | undefined;
  const SPAN = ['20200101000000Z', '20450101000000Z'] as const;
  const read = (name: string): X509Certificate => new X509Certificate(readFileSync(keys.path(name)));

  /** A certificate that names addresses of the server: `a` answers, `l` gives a list. */
  async function certify(
    addresses: string,
    answer: (request: Buffer, path: string) => Uint8Array | number,
  ): Promise<X509Certificate[]> {
    served = await serveAnswers(answer);
    const lines = {
      a: `authorityInfoAccess = OCSP;URI:${served.url}answers`,
      l: `crlDistributionPoints = URI:${served.url}list`,
    };
    writeFileSync(
      keys.path('net.ext'),
      [...addresses].map((one) => lines[one as 'a' | 'l']).join('\n') || 'keyUsage = digitalSignature',
    );
    keys.openssl(
      'req',
      '-newkey',
      'rsa:2048',
      '-nodes',
      '-keyout',
      'net.key',
      '-out',
      'net.csr',
      '-subj',
      '/CN=Edda Marsh',
    );
    keys.openssl(
      ...[
        'x509',
        '-req',
        '-in',
        'net.csr',
        '-CA',
        'authority.pem',
        '-CAkey',
        'authority.key',
        '-CAcreateserial',
      ],
      ...['-days', '300', '-extfile', 'net.ext', '-out', 'net.pem'],
    );
    return [read('net.pem'), read('authority.pem')];
  }

  beforeAll(() => {
    keys = new SigningKeys(temporaryFolder());
    keys.add('otto', 'Otto Fenwick');
    lists = new RevocationLists(keys.folder);
  });
  afterEach(() => served?.close());

  it('is asked for with a question that openssl answers', async () => {
    const asked: string[] = [];
    const certificates = await certify('al', (request) => lists.answerTo(request, 'net.pem', []));
    const found = await fetchRevocation(certificates, (line) => asked.push(line));
    expect(found.map(({ kind }) => kind)).toEqual(['answer']);
    expect(asked).toEqual([`asks ${served!.url}answers for revoked certificates`]);
  });

  it.each<[string, string, (request: Buffer, path: string) => Uint8Array | number]>([
    ['no answer comes', 'al', (_, path) => (path === '/list' ? lists.list(...SPAN, []) : 500)],
    [
      'the answer is a page',
      'al',
      (_, path) => (path === '/list' ? lists.list(...SPAN, []) : Buffer.from('<html>')),
    ],
    [
      'it is of another certificate',
      'al',
      (_, path) => (path === '/list' ? lists.list(...SPAN, []) : lists.answer('otto.pem', [])),
    ],
    ['nobody answers', 'l', () => lists.list(...SPAN, [{ file: 'otto.pem', on: '310501000000Z' }])],
  ])('is taken from a list where %s', async (_, addresses, answer) => {
    const found = await fetchRevocation(await certify(addresses, answer), () => {});
    expect(found.map(({ kind }) => kind)).toEqual(['list']);
  });

  it('is refused where addresses are named and none says anything; without an address there is none', async () => {
    const certificates = await certify('al', () => Buffer.from('<html>'));
    await expect(fetchRevocation(certificates, () => {})).rejects.toMatchObject({
      code: 'revocation-server',
      message: expect.stringMatching(/\/list says nothing of the certificate/),
    });
    await served!.close();
    await expect(fetchRevocation(certificates, () => {})).rejects.toThrow('nothing listens there');
    expect(await fetchRevocation(await certify('', () => 404), () => {})).toEqual([]);
    expect(served!.asked()).toBe(0);
  });

  it('is read from files in DER and PEM, with certificates of those who gave it', async () => {
    const write = (name: string, content: Uint8Array | string): string => {
      writeFileSync(keys.path(name), content);
      return keys.path(name);
    };
    const list = lists.list(...SPAN, []);
    const pem = `${readFileSync(keys.path('authority.pem'))}${readFileSync(keys.path('crl.pem'))}`;
    expect(await readRevocationFile(write('a.crl', list))).toMatchObject({
      certificates: [],
      revocation: [{ kind: 'list' }],
    });
    const both = await readRevocationFile(write('b.pem', pem));
    expect(both.certificates.map(({ subject }) => subject)).toEqual(['CN=Heron Weir Test Authority']);
    expect(both.revocation.map(({ kind }) => kind)).toEqual(['list']);
    expect(await readRevocationFile(write('c.der', lists.answer('otto.pem', [])))).toMatchObject({
      revocation: [{ kind: 'answer' }],
    });
    for (const [name, content] of [
      ['d.txt', 'nothing'],
      ['e.pem', '-----BEGIN X509 CRL-----\nAAAA\n-----END X509 CRL-----'],
      ['f.der', Buffer.concat([list, Buffer.from('x')])],
    ] as const)
      await expect(readRevocationFile(write(name, content))).rejects.toMatchObject({
        code: 'revocation-unreadable',
      });
    await expect(readRevocationFile(keys.path('nowhere'))).rejects.toThrow('it does not exist');
  });
});
