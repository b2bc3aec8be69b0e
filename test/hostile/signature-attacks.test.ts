import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { PDFArray, PDFDict, type PDFDocument, PDFName, PDFString } from '@cantoo/pdf-lib';
import { Constructed, OctetString } from 'asn1js';
import { beforeAll, describe, expect, test } from 'vitest';
import { makeSignedPdf, type Signing } from '../../src/cli/make-signed-pdf.ts';
import { addSignatureTimeStamp } from '../../src/cms/build-signed-data.ts';
import { decode, encode, partsOf } from '../../src/cms/der.ts';
import { readSignedData } from '../../src/cms/read-signed-data.ts';
import { openKeyFile } from '../../src/files/open-key-file.ts';
import { signWithKey } from '../../src/files/signing-key.ts';
import { openForAppending, saveAppended } from '../../src/pdf/append-revision.ts';
import { insertSignature, readSignedBytes } from '../../src/pdf/insert-signature.ts';
import { listSignatures } from '../../src/pdf/list-signatures.ts';
import { prepareDocumentTimeStamp, prepareSignature } from '../../src/pdf/prepare-signature.ts';
import { signAs, succeed, writeFormalProject } from '../support/formal-project.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { RevocationLists, type Revoked } from '../support/revocation-lists.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { PASSWORD, SigningKeys } from '../support/signing-keys.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { type Served, serveAnswers, TimeStampAuthority } from '../support/time-stamp-authority.ts';

// What a forger, or a careless signer, can do with digital signatures, their time stamps and the data for verifying them, and what
// verification then says. The client has the certificates of both authorities from elsewhere than from the PDF.

const root = temporaryFolder();
const path = (name: string): string => join(root, name);
const DAY = '2031-05-16';
const STAMPED = `${DAY}T09:30:00Z`;
const MAY = ['20310510000000Z', '20310610000000Z'] as const;

/** Rows of the table: what was tried, what verify and common tools said. */
const rows: string[] = [];

interface Report {
  /** How many signatures pdfsig calls valid. */
  readonly byPdfsig: string;
  /** What `qpdf --check` says. */
  readonly byQpdf: string;
  readonly verdict: string;
  readonly findings: readonly { readonly about: string; readonly state: string; readonly text: string }[];
}

/** A CMS signature with a content inside, which its digest is not of. */
function holdContent(cms: Uint8Array, content: Uint8Array): Uint8Array {
  const whole = decode(cms);
  const inner = partsOf(partsOf(partsOf(whole)[1])[0])[2]!;
  const octets = new OctetString({ valueHex: Uint8Array.from(content).buffer });
  partsOf(inner).push(new Constructed({ idBlock: { tagClass: 3, tagNumber: 0 }, value: [octets] }));
  return encode(whole);
}

/** A CMS signature with its time stamp so many times more. */
function repeatStamp(cms: Uint8Array, times: number): Uint8Array {
  const whole = decode(cms);
  const signer = partsOf(partsOf(partsOf(partsOf(whole)[1])[0]).at(-1))[0];
  const attributes = partsOf(partsOf(signer).at(-1));
  for (let i = 0; i < times; i += 1) attributes.push(attributes[0]!);
  return encode(whole);
}

describeWithTools(['git', 'openssl', 'pdfsig', 'qpdf'], 'digital signatures in the hands of a forger', () => {
  let keys: SigningKeys;
  let authority: TimeStampAuthority;
  let lists: RevocationLists;
  let stampLists: RevocationLists;
  let issued: Uint8Array;

  /** Signs without looking at what is signed: by Adams, on the day, stamped by the authority that the client trusts. */
  async function sign(
    change: Partial<Signing['request']> & {
      readonly pdf?: Uint8Array;
      readonly key?: string;
      readonly stampedAt?: string | null;
      readonly revocation?: readonly string[];
      readonly documentTimeStamp?: boolean;
    } = {},
  ): Promise<Uint8Array> {
    const {
      pdf = issued,
      key = 'adams',
      stampedAt = STAMPED,
      revocation = [],
      documentTimeStamp = false,
      ...request
    } = change;
    const served: Served | undefined =
      stampedAt === null ? undefined : await serveAnswers((asked) => authority.answerAt(asked, stampedAt));
    try {
      const { bytes } = await makeSignedPdf(
        pdf,
        {
          request: { field: 'prepared', name: 'A. Adams', reason: 'Prepared by me', date: DAY, ...request },
          signer: { kind: 'key-file', path: keys.path(`${key}.p12`), password: { file: path('password') } },
          server: served && { url: served.url },
          revocation: { revocation },
          documentTimeStamp,
          moment: STAMPED,
        },
        () => {},
      );
      return bytes;
    } finally {
      await served?.close();
    }
  }

  /** A signature whose CMS somebody makes as he likes. */
  async function signAnyhow(
    make: (data: Uint8Array) => Promise<Uint8Array> | Uint8Array,
    { date = DAY, pdf = issued, field = 'prepared' } = {},
  ): Promise<Uint8Array> {
    const prepared = await prepareSignature(pdf, {
      field,
      name: 'A. Adams',
      reason: 'x',
      date,
      room: 32_768,
    });
    return insertSignature(prepared, await make(readSignedBytes(prepared.bytes, prepared.byteRange)));
  }

  const signOurWay = async (data: Uint8Array, key = 'adams'): Promise<Uint8Array> =>
    signWithKey(
      data,
      await openKeyFile({
        kind: 'key-file',
        path: keys.path(`${key}.p12`),
        password: { file: path('password') },
      }),
    );

  function signByOpenssl(data: Uint8Array, key: string, ...options: readonly string[]): Uint8Array {
    return execFileSync(
      'openssl',
      [
        'cms',
        '-sign',
        '-binary',
        '-outform',
        'DER',
        '-signer',
        `${key}.pem`,
        '-inkey',
        `${key}.key`,
        ...options,
      ],
      { cwd: keys.folder, input: data, stdio: ['pipe', 'pipe', 'pipe'] },
    );
  }

  const stampOf = (cms: Uint8Array, ...by: [string, { key?: string; digest?: 'sha1' }?]): Buffer =>
    authority.stamp(readSignedData(cms).signatureValue, ...by);

  /** Certificate of a name beside those of the keys. */
  function certify(key: string, name: string, ...options: readonly string[]): void {
    keys.openssl(
      ...['req', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:P-256', '-nodes', '-keyout', `${key}.key`],
      ...['-out', `${key}.csr`, '-subj', `/CN=${name}`],
    );
    writeFileSync(keys.path('index.txt'), '');
    writeFileSync(
      keys.path('ca.cnf'),
      '[ca]\ndefault_ca=a\n[a]\ndatabase=index.txt\nrand_serial=yes\nnew_certs_dir=.\ndefault_md=sha256\npolicy=p\nunique_subject=no\n[p]\ncommonName=supplied\n',
    );
    const extensions = options.includes('-extfile') ? [] : ['-extfile', 'signing.ext'];
    keys.openssl(
      ...[
        'ca',
        '-batch',
        '-config',
        'ca.cnf',
        '-cert',
        'authority.pem',
        '-keyfile',
        'authority.key',
        '-notext',
      ],
      ...['-in', `${key}.csr`, '-out', `${key}.pem`, ...extensions, ...options],
    );
    keys.openssl(
      ...['pkcs12', '-export', '-inkey', `${key}.key`, '-in', `${key}.pem`, '-certfile', 'authority.pem'],
      ...['-out', `${key}.p12`, '-passout', `pass:${PASSWORD}`],
    );
  }

  function list(revoked: readonly Revoked[] = [], by = lists): string {
    const file = path(`list-${createHash('sha256').update(JSON.stringify(revoked)).digest('hex')}.crl`);
    writeFileSync(file, by.list(...MAY, revoked));
    return file;
  }

  async function append(pdf: Uint8Array, change: (document: PDFDocument) => void): Promise<Uint8Array> {
    const document = await openForAppending(pdf);
    change(document);
    return saveAppended(document, pdf);
  }

  /** What the client is told, who looks on the first of June. */
  async function verify(pdf: Uint8Array, ...options: string[]): Promise<Report> {
    writeFileSync(path('seen.pdf'), pdf);
    const own = ['--trust', keys.path('authority.pem'), '--time-stamp-trust', authority.path('stamps.pem')];
    const date = options.includes('--date') ? [] : ['--date', '2031-06-01'];
    const { out, err } = await runInProcess(
      ['verify', 'seen.pdf', '--json', '--no-print', '--register', 'register', ...own, ...date, ...options],
      { cwd: root },
    );
    expect(out, err).toMatch(/^\{/);
    return { ...(JSON.parse(out) as Report), byPdfsig: askPdfsig(), byQpdf: askQpdf() };
  }

  function askPdfsig(): string {
    const { stdout } = spawnSync('pdfsig', ['-nocert', 'seen.pdf'], { cwd: root, encoding: 'utf8' });
    const [valid, all] = [/Signature is Valid/g, /^Signature #/gm].map((of) => stdout.match(of)?.length ?? 0);
    return `${valid} of ${all}`;
  }

  function askQpdf(): string {
    const { status } = spawnSync('qpdf', ['--check', 'seen.pdf'], { cwd: root, stdio: 'ignore' });
    return { 0: 'no complaint', 2: 'errors', 3: 'warnings' }[String(status)] ?? `status ${status}`;
  }

  /** Enters what verify said of one thing in the table, without what differs from run to run. */
  function enter(about: string, state: string, text: string, { byPdfsig, byQpdf }: Report): void {
    const tried = expect.getState().currentTestName!.split(' > ').slice(1).join(': ');
    const masked = text.replaceAll(new Date().toISOString().slice(0, 10), 'TODAY');
    const cells = [tried, about, state, masked, byPdfsig, byQpdf];
    rows.push(`| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`);
  }

  /** 'state: text' of a finding; 'none' where there is none. */
  const told = (report: Report, about: string): string => {
    const found = report.findings.find((finding) => finding.about === about);
    if (found === undefined) return 'none';
    enter(about, found.state, found.text, report);
    return `${found.state}: ${found.text}`;
  };
  const signature = (report: Report, role = 'prepared') => told(report, `signature ${role}`);
  const time = (report: Report, role = 'prepared') => told(report, `time of signature ${role}`);
  const file = (report: Report) => told(report, 'file');

  beforeAll(async () => {
    const folder = path('project');
    for (const name of ['project', 'certificates', 'stamps']) mkdirSync(path(name));
    const repository = await writeFormalProject(folder, 1);
    for (const role of ['prepared', 'checked', 'approved'] as const)
      await succeed(folder, ...signAs('1.md', role));
    repository.commitAll('Signed');
    await succeed(folder, 'issue', '1.md', '--date', '2031-05-15');
    issued = readFileSync(join(folder, '1.rev-A.pdf'));
    copyFileSync(join(folder, 'issues.yaml'), path('register'));
    writeFileSync(path('password'), PASSWORD);
    keys = new SigningKeys(path('certificates'));
    keys.add('adams', 'A. Adams');
    keys.add('brown', 'B. Brown', 'rsa');
    authority = new TimeStampAuthority(path('stamps'));
    lists = new RevocationLists(keys.folder);
    stampLists = new RevocationLists(authority.folder, 'stamps');
  });

  describe('nothing wrong, and nothing contradicted', () => {
    test('signed and stamped', async () => {
      const report = await verify(await sign());
      expect(signature(report)).toMatch(
        /^proven: intact, signed by A\. Adams .*whether .* was revoked is not known/,
      );
      expect(time(report)).toBe(
        `proven: the signature existed at ${STAMPED}, says Heron Weir Clock (issued by CN=Heron Weir Time), an authority for time stamps that was given as trusted`,
      );
      expect(file(report)).toMatch(/^proven/);
    });

    test('without a time stamp: the time is not proven where the client asks for it', async () => {
      const report = await verify(await sign({ stampedAt: null }));
      expect(signature(report)).toMatch(/^proven/);
      expect(time(report)).toMatch(/^not proven: it has no time stamp/);
    });

    test('with word on revocation, two signatures, and a time stamp of the document; pdfsig and qpdf agree', async () => {
      const first = await sign({ revocation: [list()] });
      const both = await sign({
        pdf: first,
        key: 'brown',
        field: 'checked',
        name: 'B. Brown',
        revocation: [list()],
        documentTimeStamp: true,
      });
      const report = await verify(both, '--revocation', list([], stampLists));
      for (const role of ['prepared', 'checked']) {
        expect(signature(report, role)).toMatch(
          /^proven: .*not revoked, says a list of revoked certificates of 2031-05-10/,
        );
        expect(time(report, role)).toMatch(/^proven: the signature existed/);
      }
      expect(told(report, 'time stamp time-stamp-1')).toMatch(
        /^proven: the document up to this stamp existed at/,
      );
      expect(file(report)).toMatch(/^proven: every byte belongs to the print, or to signatures behind it/);
      const said = execFileSync('pdfsig', ['-nocert', 'seen.pdf'], {
        cwd: root,
        encoding: 'utf8',
        stdio: 'pipe',
      });
      expect(said.match(/Signature is Valid/g)!.length).toBeGreaterThanOrEqual(2);
      execFileSync('qpdf', ['--check', 'seen.pdf'], { cwd: root, stdio: 'pipe' });
    });

    test('revoked after it was stamped, expired after it was stamped', async () => {
      const revoked = list([{ file: 'adams.pem', on: '310520000000Z' }]);
      expect(signature(await verify(await sign(), '--revocation', revoked))).toMatch(
        /^proven: .*revoked as from 2031-05-20T00:00:00Z, later than 2031-05-16/,
      );
      certify('short', 'A. Adams', '-startdate', '20310101000000Z', '-enddate', '20310520000000Z');
      expect(signature(await verify(await sign({ key: 'short' })))).toMatch(/^proven/);
    });
  });

  describe('the signature itself', () => {
    test('over a digest for which other documents can be made', async () => {
      const pdf = await signAnyhow((data) => signByOpenssl(data, 'adams', '-cades', '-md', 'sha1'));
      expect(signature(await verify(pdf))).toMatch(/^contradicted: .*rests on sha1/);
    });

    test('without the certificate among what is signed', async () => {
      const pdf = await signAnyhow((data) => signByOpenssl(data, 'adams', '-noattr'));
      expect(signature(await verify(pdf))).toMatch(/^not proven: .*does not cover its own certificate/);
    });

    test('with a content of its own within the signature', async () => {
      const pdf = await signAnyhow((data) => {
        const cms = signByOpenssl(data, 'adams', '-cades');
        return holdContent(cms, Buffer.from('complies'));
      });
      expect(signature(await verify(pdf))).toMatch(/^contradicted: .*content of its own/);
    });

    test('with more time stamps than anybody needs', async () => {
      const pdf = await signAnyhow(async (data) => {
        const cms = await signOurWay(data);
        const token = stampOf(cms, STAMPED);
        return repeatStamp(addSignatureTimeStamp(cms, token), 11);
      });
      expect(time(await verify(pdf))).toMatch(/^contradicted: .*more than the 10th/);
    });

    test('by a certificate that signs itself under the same names', async () => {
      keys.openssl(
        ...['req', '-x509', '-newkey', 'rsa:2048', '-nodes', '-keyout', 'own.key', '-out', 'own.pem'],
        ...['-subj', '/CN=A. Adams', '-days', '3650'],
      );
      const pdf = await signAnyhow((data) => signByOpenssl(data, 'own', '-cades'));
      expect(signature(await verify(pdf))).toMatch(/^contradicted: .*certificate is not trusted/);
    });

    test('by a certificate with a critical extension that nobody knows', async () => {
      writeFileSync(
        keys.path('strange.ext'),
        'keyUsage = critical, digitalSignature\n1.3.6.1.4.1.99999.7 = critical, ASN1:NULL\n',
      );
      certify('strange', 'A. Adams', '-extfile', 'strange.ext', '-days', '3000');
      expect(signature(await verify(await sign({ key: 'strange' })))).toMatch(
        /^contradicted: .*not trusted: unhandled critical extension/,
      );
    });

    test('by a key of 1024 bits', async () => {
      keys.openssl(
        ...[
          'req',
          '-newkey',
          'rsa:1024',
          '-nodes',
          '-keyout',
          'weak.key',
          '-out',
          'weak.csr',
          '-subj',
          '/CN=A. Adams',
        ],
      );
      keys.openssl(
        ...[
          'x509',
          '-req',
          '-in',
          'weak.csr',
          '-CA',
          'authority.pem',
          '-CAkey',
          'authority.key',
          '-days',
          '3650',
        ],
        ...['-CAcreateserial', '-extfile', 'signing.ext', '-out', 'weak.pem'],
      );
      const pdf = await signAnyhow((data) => signByOpenssl(data, 'weak', '-cades'));
      expect(signature(await verify(pdf))).toMatch(/^contradicted: .*key too weak/);
    });

    test('of another format than a detached CMS', async () => {
      const signed = Buffer.from(await sign());
      for (const format of ['adbe.x509.rsa_sha1', 'adbe.pkcs7.sha1']) {
        const other = Buffer.from(
          signed.toString('latin1').replace('/ETSI.CAdES.detached', `/${format}`.padEnd(20)),
          'latin1',
        );
        expect(signature(await verify(other))).toMatch(
          /^contradicted: it is of a format that is not verified/,
        );
      }
    });

    // Of two entries of one name, some readers take the first and some the last.
    test.each([
      ['/Filter /Adobe.PPKLite', '/Contents <00>'],
      ['/Filter /Adobe.PPKLite', '/Con#74ents <00>'],
      ['/Filter /Adobe.PPKLite', '/ByteRange [0 9]'],
      ['/Reason', '/Contents <00>'],
    ])('twice in its dictionary: in the place of %s %s', async (place, twice) => {
      const prepared = await prepareSignature(issued, {
        field: 'prepared',
        name: 'A. Adams',
        reason: 'y'.repeat(40),
        date: DAY,
      });
      const text = Buffer.from(prepared.bytes).toString('latin1');
      const at = text.lastIndexOf(place);
      const end = place === '/Reason' ? text.indexOf('>', at) + 1 : at + place.length;
      const changed = `${text.slice(0, at)}${twice.padEnd(end - at)}${text.slice(end)}`;
      expect(changed.length).toBe(text.length);
      const bytes = Buffer.from(changed, 'latin1');
      const cms = await signOurWay(readSignedBytes(bytes, prepared.byteRange));
      const pdf = insertSignature({ ...prepared, bytes }, cms);
      expect(signature(await verify(pdf))).toMatch(
        place === '/Reason'
          ? /^contradicted: it leaves out more of the file/
          : /^contradicted: its dictionary says in two ways/,
      );
    });

    test('with bytes hidden behind it, in the room that was kept for it', async () => {
      const pdf = Buffer.from(await sign());
      const { signatures } = await listSignatures(pdf);
      const [, , end] = signatures[0]!.byteRange;
      pdf.write('4869', end - 101, 'latin1');
      expect(signature(await verify(pdf))).toMatch(/^contradicted: bytes are hidden behind its end/);
    });

    test('whose range leaves out a second stretch of the file', async () => {
      const pdf = Buffer.from(await sign());
      const text = pdf.toString('latin1');
      const [whole, numbers] = /\/ByteRange \[([\d ]+)\]/.exec(text)!;
      const [start, length, next, rest] = numbers!.trim().split(/ +/).map(Number) as [
        number,
        number,
        number,
        number,
      ];
      const wider = `/ByteRange [${start} ${length} ${next + 40} ${rest - 40}`.padEnd(whole.length - 1);
      pdf.write(`${wider}]`, text.indexOf(whole), 'latin1');
      expect(signature(await verify(pdf))).toMatch(
        /^contradicted: it leaves out more of the file than itself/,
      );
    });

    test('of four numbers and two more', async () => {
      const text = Buffer.from(await sign()).toString('latin1');
      const more = text.replace(/(\/ByteRange \[[\d ]+)\] {5}/, '$1 9 9] ');
      expect(more).not.toBe(text);
      const pdf = Buffer.from(more, 'latin1');
      expect(signature(await verify(pdf))).toMatch(/^contradicted: it does not say which bytes it covers/);
    });
  });

  describe('times', () => {
    test('dated back: the stamp is of a fortnight later', async () => {
      const pdf = await signAnyhow(async (data) => {
        const cms = await signOurWay(data);
        return addSignatureTimeStamp(cms, stampOf(cms, '2031-05-30T09:30:00Z'));
      });
      const report = await verify(pdf);
      expect(signature(report)).toMatch(
        /^not proven: .*made on 2031-05-16 is not proven: its time stamp is of 2031-05-30/,
      );
      expect(time(report)).toMatch(/^proven: the signature existed at 2031-05-30T09:30:00Z/);
    });

    test('dated forward: the stamp is older', async () => {
      const pdf = await signAnyhow(
        async (data) => {
          const cms = await signOurWay(data);
          return addSignatureTimeStamp(cms, stampOf(cms, STAMPED));
        },
        { date: '2031-05-28' },
      );
      expect(signature(await verify(pdf))).toMatch(
        /^contradicted: .*made on 2031-05-28, and existed on 2031-05-16 already/,
      );
    });

    test('dated, or stamped, before the document was issued', async () => {
      const early = await signAnyhow((data) => signOurWay(data), { date: '2031-05-02' });
      expect(signature(await verify(early))).toMatch(/^contradicted: .*before the issue of 2031-05-15/);
      const stamped = await signAnyhow(async (data) => {
        const cms = await signOurWay(data);
        return addSignatureTimeStamp(cms, stampOf(cms, '2031-05-09T09:30:00Z'));
      });
      expect(signature(await verify(stamped))).toMatch(
        /^contradicted: .*existed on 2031-05-09 already, before the issue/,
      );
    });

    test('another time of signing within the signature', async () => {
      // openssl writes the time of this machine.
      const pdf = await signAnyhow((data) => signByOpenssl(data, 'adams', '-cades'));
      expect(signature(await verify(pdf))).toMatch(
        /^contradicted: .*states two times of signing, 2031-05-16 and 20\d\d-/,
      );
    });

    test('of the year 9999, and of a day that has not come', async () => {
      for (const date of ['9999-12-31', '2031-06-04']) {
        const pdf = await signAnyhow((data) => signOurWay(data), { date });
        expect(signature(await verify(pdf))).toMatch(
          /^not proven: .*which is after the day of this verification/,
        );
      }
    });

    test('an old day on a certificate that has expired', async () => {
      certify('expired', 'A. Adams', '-startdate', '20310101000000Z', '-enddate', '20310520000000Z');
      const pdf = await sign({ key: 'expired', stampedAt: null });
      expect(signature(await verify(pdf))).toMatch(
        /^not proven: .*has expired.*no time stamp proves that it was made then/,
      );
      expect(signature(await verify(pdf, '--date', '2031-05-18'))).toMatch(/^proven/);
    });

    test('a stamp of a day that has not come', async () => {
      const report = await verify(await sign(), '--date', '2031-05-10');
      expect(time(report)).toMatch(
        /^not proven: its time stamp is of 2031-05-16T09:30:00Z, which is after the day/,
      );
      expect(signature(report)).toMatch(/^not proven: .*which is after the day of this verification/);
    });

    test('a stamp made when the certificate had expired', async () => {
      certify('late', 'A. Adams', '-startdate', '20310101000000Z', '-enddate', '20310515120000Z');
      const pdf = await signAnyhow(async (data) => {
        const cms = await signOurWay(data, 'late');
        return addSignatureTimeStamp(cms, stampOf(cms, STAMPED));
      });
      expect(signature(await verify(pdf))).toMatch(/^contradicted: .*not trusted: certificate has expired/);
    });
  });

  describe('time stamps', () => {
    const stamped = (make: (cms: Uint8Array) => Uint8Array): Promise<Uint8Array> =>
      signAnyhow(async (data) => {
        const cms = await signOurWay(data);
        return addSignatureTimeStamp(cms, make(cms));
      });

    test('of other bytes', async () => {
      const report = await verify(await stamped(() => authority.stamp(Buffer.from('other'), STAMPED)));
      expect(time(report)).toBe(
        'contradicted: a time stamp of the signature is not sound: it was made over something else',
      );
      expect(report.verdict).toBe('contradicted');
    });

    test('of one signature in another', async () => {
      const first = await sign();
      const { signatures } = await listSignatures(first);
      const [token] = readSignedData(signatures[0]!.cms).timeStamps;
      const both = await signAnyhow(
        async (data) => addSignatureTimeStamp(await signOurWay(data, 'brown'), token!),
        { pdf: first, field: 'checked' },
      );
      const report = await verify(both);
      expect(time(report)).toMatch(/^proven/);
      expect(time(report, 'checked')).toMatch(/^contradicted: .*something else/);
    });

    test('by a certificate that is not for time stamps', async () => {
      authority.certify('mailer', { extensions: 'extendedKeyUsage = critical, emailProtection' });
      const report = await verify(await stamped((cms) => stampOf(cms, STAMPED, { key: 'mailer' })));
      expect(time(report)).toMatch(/^contradicted: .*not issued for time stamps alone/);
    });

    test('by the signer himself', async () => {
      for (const kind of ['key', 'pem'])
        copyFileSync(keys.path(`brown.${kind}`), authority.path(`self.${kind}`));
      const report = await verify(await stamped((cms) => stampOf(cms, STAMPED, { key: 'self' })));
      expect(time(report)).toMatch(/^contradicted: .*not issued for time stamps alone/);
    });

    test('over a broken digest', async () => {
      const report = await verify(await stamped((cms) => stampOf(cms, STAMPED, { digest: 'sha1' })));
      expect(time(report)).toMatch(/^contradicted: .*rests on sha1/);
    });

    test('by an authority whom the client does not know', async () => {
      mkdirSync(path('stranger'));
      const stranger = new TimeStampAuthority(path('stranger'));
      const report = await verify(
        await stamped((cms) => stranger.stamp(readSignedData(cms).signatureValue, STAMPED)),
      );
      expect(time(report)).toMatch(/^not proven: .*proves no time: it leads to no authority that is trusted/);
      expect(signature(report)).toMatch(/^proven/);
    });

    test('by an authority that was revoked, even later', async () => {
      for (const on of ['310510000000Z', '310525000000Z']) {
        const revoked = list([{ file: 'stamper.pem', on }], stampLists);
        const report = await verify(await sign(), '--revocation', revoked);
        expect(time(report)).toMatch(
          /^not proven: .*proves no time: the certificate of Heron Weir Clock was revoked/,
        );
      }
    });

    test('whose certificate has expired since proves nothing, unless a later one of the document covers it', async () => {
      authority.certify('brief', { from: '20310101000000Z', until: '20310520000000Z' });
      const pdf = await signAnyhow(async (data) => {
        const cms = await signOurWay(data);
        return addSignatureTimeStamp(cms, stampOf(cms, STAMPED, { key: 'brief' }));
      });
      expect(time(await verify(pdf, '--date', '2031-05-19'))).toMatch(/^proven/);
      expect(time(await verify(pdf))).toMatch(
        /^not proven: .*valid until 2031-05-20.*no later time stamp covers/,
      );
      for (const [at, state] of [
        ['2031-05-18T08:00:00Z', /^proven: the signature existed at 2031-05-16/],
        [
          '2031-05-28T08:00:00Z',
          /^proven: the time stamp 'time-stamp-1' of the document proves that it existed at 2031-05-28/,
        ],
      ] as const) {
        const prepared = await prepareDocumentTimeStamp(pdf, 'time-stamp-1');
        const token = authority.stamp(readSignedBytes(prepared.bytes, prepared.byteRange), at);
        expect(time(await verify(insertSignature(prepared, token)))).toMatch(state);
      }
    });

    test('of the document: over an earlier revision, by nobody for that, and before a change', async () => {
      const before = await prepareDocumentTimeStamp(await sign(), 'time-stamp-1');
      const data = readSignedBytes(before.bytes, before.byteRange);
      const insert = (token: Uint8Array): Uint8Array => insertSignature(before, token);
      expect(told(await verify(insert(authority.stamp(issued, STAMPED))), 'time stamp time-stamp-1')).toMatch(
        /^contradicted: .*made over something else/,
      );
      authority.certify('nobody', { extensions: 'extendedKeyUsage = critical, codeSigning' });
      const wrong = insert(authority.stamp(data, STAMPED, { key: 'nobody' }));
      expect(told(await verify(wrong), 'time stamp time-stamp-1')).toMatch(
        /^contradicted: .*time stamps alone/,
      );
      const sound = insert(authority.stamp(data, '2031-05-17T08:00:00Z'));
      const changed = await append(sound, (document) => document.setTitle('Another note'));
      expect(told(await verify(changed), 'time stamp time-stamp-1')).toMatch(
        /^contradicted: .*changed after it was stamped: the metadata/,
      );
    });

    test('of the document proves the time of a signature that has none of its own', async () => {
      const pdf = await sign({ stampedAt: null });
      const prepared = await prepareDocumentTimeStamp(pdf, 'time-stamp-1');
      const data = readSignedBytes(prepared.bytes, prepared.byteRange);
      const report = await verify(insertSignature(prepared, authority.stamp(data, '2031-05-17T08:00:00Z')));
      expect(time(report)).toBe(
        "proven: the time stamp 'time-stamp-1' of the document proves that it existed at 2031-05-17T08:00:00Z",
      );
      expect(file(report)).toMatch(/^proven/);
    });
  });

  describe('certificates that were revoked', () => {
    test('before the stamp, said by the client’s list or by that in the PDF', async () => {
      const revoked = list([{ file: 'adams.pem', on: '310514000000Z' }]);
      expect(signature(await verify(await sign(), '--revocation', revoked))).toMatch(
        /^contradicted: .*certificate of A\. Adams was revoked as from 2031-05-14/,
      );
      // Who signs is told; a forger puts an old list into the PDF, and the client's newer one outweighs it.
      await expect(sign({ revocation: [revoked] })).rejects.toMatchObject({ code: 'certificate-revoked' });
      const old = await sign({ revocation: [list()] });
      expect(signature(await verify(old))).toMatch(/^proven: .*not revoked/);
      expect(signature(await verify(old, '--revocation', revoked))).toMatch(/^contradicted/);
    });

    test('a list of somebody else says nothing', async () => {
      await expect(sign({ revocation: [list([], stampLists)] })).rejects.toMatchObject({
        code: 'revocation-missing',
      });
      const report = await verify(await sign(), '--revocation', list([], stampLists));
      expect(signature(report)).toMatch(/^not proven: .*do not say whether its certificate was revoked/);
    });
  });

  describe('the data for verifying signatures', () => {
    const store = (document: PDFDocument): PDFDict => document.catalog.lookup(PDFName.of('DSS'), PDFDict);
    let signed: Uint8Array;
    beforeAll(async () => {
      signed = await sign({ revocation: [list()] });
    });

    test.each<[string, (document: PDFDocument) => void]>([
      [
        'a text among the certificates',
        (document) => {
          const list = store(document).lookup(PDFName.of('Certs'), PDFArray);
          const text = document.context.register(document.context.stream('complies'));
          store(document).set(PDFName.of('Certs'), document.context.obj([...list.asArray(), text]));
        },
      ],
      [
        'a list with something behind it',
        (document) => {
          const list = store(document).lookup(PDFName.of('CRLs'), PDFArray);
          const held = document.context.lookup(list.get(0)) as unknown as { contents: Uint8Array };
          const longer = document.context.stream(Buffer.concat([held.contents, Buffer.from('complies')]));
          store(document).set(
            PDFName.of('CRLs'),
            document.context.obj([...list.asArray(), document.context.register(longer)]),
          );
        },
      ],
      ['a key of its own', (document) => store(document).set(PDFName.of('Remark'), PDFString.of('complies'))],
      ['a list taken out', (document) => store(document).delete(PDFName.of('CRLs'))],
      ['all of it taken out', (document) => document.catalog.delete(PDFName.of('DSS'))],
      [
        'an entry for no signature',
        (document) =>
          store(document)
            .lookup(PDFName.of('VRI'), PDFDict)
            .set(PDFName.of('Remark'), document.context.obj({ Cert: [] })),
      ],
      [
        'a page changed in the same breath',
        (document) => {
          const content = document.context.register(document.context.stream('BT ET'));
          document.getPage(0).node.set(PDFName.of('Contents'), content);
          store(document).set(PDFName.of('Type'), PDFName.of('DSS'));
        },
      ],
    ])('%s', async (_, change) => {
      expect(signature(await verify(signed))).toMatch(/^proven/);
      const report = await verify(await append(signed, change));
      expect(signature(report)).toMatch(/^contradicted: the PDF was changed after it was signed: /);
      expect(file(report)).toMatch(/^contradicted/);
    });
  });

  test('the table of what was tried', async () => {
    const table = [
      '# Attacks on digital signatures, their times and the data for verifying them',
      '',
      'Written by the test of the same name. pdfsig: signatures that it calls valid, of all; it does not verify time stamps.',
      '',
      '| tried | finding | verify | because | pdfsig | qpdf --check |',
      '| --- | --- | --- | --- | --- | --- |',
      ...new Set(rows),
      '',
    ].join('\n');
    await expect(table).toMatchFileSnapshot('tables/signature-attacks.md');
  });
});
