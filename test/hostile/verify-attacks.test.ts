import { execFileSync } from 'node:child_process';
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { PDFArray, PDFDict, PDFDocument, PDFHexString, PDFName, PDFString } from '@cantoo/pdf-lib';
import { beforeAll, describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { type Signer, signData } from '../../src/files/sign-data.ts';
import { insertSignature, readSignedBytes } from '../../src/pdf/insert-signature.ts';
import { prepareSignature } from '../../src/pdf/prepare-signature.ts';
import { readIssueRegister } from '../../src/review/sign-off/issue-register.ts';
import { appendIssue } from '../../src/review/sign-off/write-register.ts';
import { AT_LENGTH, spread } from '../support/at-length.ts';
import { AttackTable } from '../support/attack-table.ts';
import { signAll, signAs, succeed, writeFormalProject } from '../support/formal-project.ts';
import { type Report, textOf, unproven } from '../support/issued-note.ts';
import { printEachPageOnce } from '../support/kept-printer.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { replaceAttachment } from '../support/replace-attachment.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { PASSWORD, SigningKeys } from '../support/signing-keys.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { writeKey } from '../support/write-key.ts';

printEachPageOnce();

// What a forger can do with a PDF that was issued, and what verification then says. The client has the list of signers and the
// register from elsewhere than from the PDF.

const root = temporaryFolder();
const folder = join(root, 'project');
const keys = join(root, 'keys');
const PEOPLE = ['adams', 'brown', 'clark'] as const;
const path = (name: string): string => join(root, name);
const client = (name: string): string => join(root, `client-${name}`);

async function verify(pdf: string, ...options: string[]): Promise<Report> {
  const { status, out, err } = await runInProcess(['verify', pdf, '--json', ...options], { cwd: root });
  expect(out, err).toMatch(/^\{/);
  const report = { status, ...(JSON.parse(out) as Omit<Report, 'status'>) };
  record(pdf, report);
  return report;
}

const table = new AttackTable();

/** Enters what verify said in the table, under the name of the test. */
function record(pdf: string, said: Report | string): void {
  // The suite tries some of it, which makes no table.
  if (!AT_LENGTH) return;
  const name = expect.getState().currentTestName!.split(' > ').slice(1).join(': ');
  table.add(name, readFileSync(resolve(root, pdf)), said);
}

/** The client's own list and register, and the day on which he looks. */
const own = [
  '--date',
  '2031-06-01',
  '--allowed-signers',
  client('signers'),
  '--register',
  client('register'),
];

async function makeKeys(): Promise<void> {
  mkdirSync(keys);
  const lines = [...PEOPLE, 'stranger'].map((person) => [person, writeKey(join(keys, person))]);
  writeFileSync(client('signers'), lines.map((line) => line.join(' ')).join('\n'));
}

/** Changes a PDF by an incremental update: every byte that was there stays. */
async function append(change: (document: PDFDocument) => void | Promise<void>): Promise<Uint8Array> {
  const bytes = readFileSync(path('issued.pdf'));
  const document = await PDFDocument.load(bytes, { updateMetadata: false, forIncrementalUpdate: true });
  await change(document);
  const changed = await document.save();
  expect(Buffer.from(changed.subarray(0, bytes.length)).equals(bytes)).toBe(true);
  return changed;
}

const withBytes = (change: (bytes: Buffer) => Uint8Array) => async (): Promise<Uint8Array> =>
  change(readFileSync(path('issued.pdf')));

const ATTACKS: readonly (readonly [string, () => Promise<Uint8Array>])[] = [
  ['a page removed', () => append((pdf) => pdf.removePage(1))],
  ['a page added', () => append((pdf) => void pdf.addPage([300, 300]))],
  [
    'two pages exchanged',
    () =>
      append((pdf) => {
        const [first, second] = pdf.getPages();
        const contents = PDFName.of('Contents');
        const held = first!.node.get(contents)!;
        first!.node.set(contents, second!.node.get(contents)!);
        second!.node.set(contents, held);
      }),
  ],
  ['text over a page', () => append((pdf) => pdf.getPage(1).drawText('complies', { x: 90, y: 500 }))],
  [
    'a white rectangle over the results',
    () => append((pdf) => pdf.getPage(2).drawRectangle({ x: 50, y: 300, width: 400, height: 200 })),
  ],
  [
    'a stamp as an annotation',
    () =>
      append((pdf) => {
        const { context } = pdf;
        const stamp = context.register(
          context.obj({
            Type: 'Annot',
            Subtype: 'Stamp',
            Rect: [50, 50, 300, 120],
            Contents: PDFString.of('Approved'),
          }),
        );
        const { node } = pdf.getPage(0);
        const list = node.lookup(PDFName.of('Annots'));
        node.set(
          PDFName.of('Annots'),
          context.obj([...(list instanceof PDFArray ? list.asArray() : []), stamp]),
        );
      }),
  ],
  [
    'a script that runs when the file is opened',
    () =>
      append((pdf) => {
        const script = pdf.context.obj({ S: 'JavaScript', JS: PDFString.of('app.alert(1)') });
        pdf.catalog.set(PDFName.of('OpenAction'), pdf.context.register(script));
      }),
  ],
  ['one file more among those carried', () => append((pdf) => pdf.attach(Buffer.from('x'), 'survey.csv'))],
  [
    'a carried file exchanged',
    () =>
      append((pdf) => {
        for (const [, object] of pdf.context.enumerateIndirectObjects()) {
          if (!(object instanceof PDFDict) || !object.has(PDFName.of('EF'))) continue;
          const content = pdf.context.register(pdf.context.flateStream('other', { Params: { Size: 5 } }));
          object.set(PDFName.of('EF'), pdf.context.obj({ F: content }));
          return;
        }
      }),
  ],
  ['another title', () => append((pdf) => pdf.setTitle('Another note'))],
  [
    'another content of a page',
    () =>
      append((pdf) => {
        const { node } = pdf.getPage(1);
        const content = pdf.context.flateStream('BT ET');
        node.set(PDFName.of('Contents'), pdf.context.register(content));
      }),
  ],
  [
    'a field that shows something',
    () =>
      append((pdf) => {
        const { context } = pdf;
        const field = context.register(
          context.obj({
            Type: 'Annot',
            Subtype: 'Widget',
            FT: 'Tx',
            T: PDFHexString.fromText('verdict'),
            V: PDFHexString.fromText('complies'),
            Rect: [60, 400, 400, 440],
          }),
        );
        pdf.catalog.set(PDFName.of('AcroForm'), context.obj({ Fields: [field] }));
        pdf.getPage(1).node.set(PDFName.of('Annots'), context.obj([field]));
      }),
  ],
  [
    'other bookmarks',
    () => append((pdf) => pdf.catalog.set(PDFName.of('Outlines'), pdf.context.obj({ Type: 'Outlines' }))),
  ],
  ['another language', () => append((pdf) => pdf.catalog.set(PDFName.of('Lang'), PDFString.of('fr-FR')))],
  ['a revision that changes nothing', () => append((pdf) => pdf.setTitle(pdf.getTitle()!))],
  ['bytes behind the end', withBytes((pdf) => Buffer.concat([pdf, Buffer.from('%PDF and more\n%%EOF\n')]))],
  ['a comment and a second end', withBytes((pdf) => Buffer.concat([pdf, Buffer.from('% note\n%%EOF')]))],
  ['the file twice', withBytes((pdf) => Buffer.concat([pdf, pdf]))],
  [
    'a byte changed in the comment behind the header',
    withBytes((pdf) => {
      const at = pdf.indexOf('\n%') + 2;
      pdf[at] = pdf[at]! ^ 1;
      return pdf;
    }),
  ],
];

describeWithTools(
  ['git', 'ssh-keygen', 'openssl', 'qpdf', 'pdfsig', 'pdfdetach'],
  'an issued PDF in the hands of a forger',
  () => {
    let certificates: SigningKeys;

    /** Signs without looking at what is signed, as a forger may. */
    async function signByHand(pdf: string, field: string, key: string): Promise<void> {
      const date = '2031-05-16';
      const prepared = await prepareSignature(readFileSync(path(pdf)), {
        field,
        name: key,
        reason: 'signed',
        date,
      });
      const signer: Signer = {
        kind: 'key-file',
        path: certificates.path(`${key}.p12`),
        password: { file: path('password') },
      };
      const { cms } = await signData(readSignedBytes(prepared.bytes, prepared.byteRange), signer, date);
      writeFileSync(path(pdf), insertSignature(prepared, cms));
    }

    beforeAll(async () => {
      mkdirSync(folder);
      await makeKeys();
      const repository = await writeFormalProject(folder, 1);
      copyFileSync(client('signers'), join(folder, 'allowed_signers'));
      repository.commitAll('Signers');
      for (const [i, role] of (['prepared', 'checked', 'approved'] as const).entries()) {
        await succeed(folder, ...signAs('1.md', role), '--key', join(keys, PEOPLE[i]!));
      }
      repository.commitAll('Signed');
      await succeed(folder, 'issue', '1.md', '--date', '2031-05-15', '--key', join(keys, 'clark'));
      copyFileSync(join(folder, '1.rev-A.pdf'), path('issued.pdf'));
      copyFileSync(join(folder, 'issues.yaml'), client('register'));
      writeFileSync(path('password'), PASSWORD);
      mkdirSync(path('certificates'));
      certificates = new SigningKeys(path('certificates'));
      certificates.add('adams', 'A. Adams');
      certificates.add('other', 'Otto Fenwick');
    });

    test('untouched: everything is proven, and the sentence claims nothing beyond it', async () => {
      const report = await verify('issued.pdf', ...own);
      expect(unproven(report)).toEqual([]);
      expect(report).toMatchObject({ status: 0, verdict: 'proven' });
      expect(report.sentence).toMatch(
        /^proven: source, results, pages, page of the source, file, sign-off prepared, .*issue, register\. Who holds a key/,
      );
    });

    test('without the reader’s own list and register, nothing is proven of signers and issue', async () => {
      const report = await verify('issued.pdf', '--no-print', '--date', '2031-06-01');
      expect(report.status).toBe(1);
      expect(unproven(report)).toEqual([
        'pages: not proven',
        'file: not proven',
        'sign-off prepared: not proven',
        'sign-off checked: not proven',
        'sign-off approved: not proven',
        'issue: not proven',
      ]);
    });

    test.each(spread(ATTACKS, 5))('%s', async (_, make) => {
      writeFileSync(path('attack.pdf'), await make());
      const { status, out, err } = await runInProcess(
        ['verify', 'attack.pdf', '--no-print', '--json', ...own],
        {
          cwd: root,
        },
      );
      if (status === 3) {
        // A file that common readers repair, and this one refuses to read.
        expect(err).toMatch(/attack\.pdf: The PDF (?:is damaged|cannot be used)/);
        record('attack.pdf', err);
        return;
      }
      expect(status).toBe(1);
      const report = JSON.parse(out) as Report;
      record('attack.pdf', report);
      expect(report.verdict).toBe('contradicted');
      expect(report.findings.find(({ about }) => about === 'file' || about === 'source')).toBeDefined();
    });

    test('a changed file that somebody signs stays a changed file', async () => {
      const [, make] = ATTACKS.find(([name]) => name === 'text over a page')!;
      writeFileSync(path('attack.pdf'), await make());
      const refused = await runInProcess(
        [
          'sign-pdf',
          'attack.pdf',
          '--as',
          'prepared',
          '--p12',
          certificates.path('adams.p12'),
          '--password-file',
          path('password'),
        ],
        { cwd: root },
      );
      expect(refused.status).toBe(3);
      expect(refused.err).toMatch(/was not signed: file: changed after it was printed: .*page 2/);
      await signByHand('attack.pdf', 'prepared', 'adams');
      const report = await verify(
        'attack.pdf',
        '--no-print',
        ...own,
        '--trust',
        certificates.path('authority.pem'),
      );
      expect(unproven(report)).toContain('file: contradicted');
      expect(textOf(report, 'file')).toMatch(/changed after it was printed: .*page 2/);
    });

    test('an object that the print names and does not have, defined behind it', async () => {
      const document = await PDFDocument.load(readFileSync(path('issued.pdf')), { updateMetadata: false });
      const missing = document.context.nextRef();
      document.getPage(0).node.set(PDFName.of('Metadata'), missing);
      const waiting = await document.save();
      const later = await PDFDocument.load(waiting, { updateMetadata: false, forIncrementalUpdate: true });
      later.context.snapshot!.markRefForSave(missing);
      later.context.assign(missing, later.context.flateStream('now it is there'));
      writeFileSync(path('attack.pdf'), await later.save());
      const register = readFileSync(client('register'), 'utf8');
      const { createHash } = await import('node:crypto');
      const digest = createHash('sha256').update(waiting).digest('hex');
      writeFileSync(path('register'), register.replace(/^( *unsigned_pdf_sha256: ).*$/m, `$1${digest}`));
      const report = await verify('attack.pdf', '--no-print', '--register', path('register'));
      expect(textOf(report, 'file')).toContain('an object that was named and not there');
    });

    if (AT_LENGTH) {
      test('written anew by another program, the text of every page the same: the same browser prints other bytes', async () => {
        execFileSync('qpdf', [path('issued.pdf'), path('attack.pdf')]);
        const report = await verify('attack.pdf', ...own);
        expect(report.verdict).toBe('contradicted');
        expect(unproven(report)).toEqual(['pages: contradicted', 'file: not proven', 'issue: contradicted']);
        expect(textOf(report, 'pages')).toContain('the text of every page is the same');
      });
    }

    test('made by another version, as the PDF says and its page does not', async () => {
      const document = await PDFDocument.load(readFileSync(path('issued.pdf')), { updateMetadata: false });
      document.setCreator('surgenote 0.0.9');
      document.setProducer('surgenote 0.0.9 with HeadlessChrome/140.0.0.0');
      writeFileSync(path('older.pdf'), await document.save());
      const report = await verify('older.pdf');
      expect(textOf(report, 'results')).toContain('the same results (surgenote 0.0.9 made the PDF)');
      expect(unproven(report)).toContain('pages: contradicted');
      expect(textOf(report, 'pages')).toMatch(
        /^the page that the PDF carries was made by .*, and the PDF by surgenote 0\.0\.9$/,
      );
    });

    describe('the register', () => {
      const withRegister = async (change: (text: string) => string): Promise<Report> => {
        writeFileSync(path('register'), change(readFileSync(client('register'), 'utf8')));
        return verify('issued.pdf', '--no-print', '--register', path('register'));
      };

      test('that knows a later issue', async () => {
        const report = await withRegister((text) => {
          const [first] = readIssueRegister('register', text, new Collector())!.issues;
          return appendIssue(text, { ...first!, revision: 'C' });
        });
        expect(textOf(report, 'issue')).toMatch(/superseded by revision C/);
        expect(unproven(report)).toContain('issue: contradicted');
      });

      test('that knows no such issue', async () => {
        expect(textOf(await withRegister(() => '# nothing\n'), 'issue')).toMatch(
          /knows no issue of revision A/,
        );
      });

      test('that names another PDF', async () => {
        const report = await withRegister((text) => text.replace(/(unsigned_pdf_sha256: )..../, '$10000'));
        expect(textOf(report, 'issue')).toMatch(/names another PDF as revision A/);
      });

      test('that is the copy which the PDF itself carries proves nothing', async () => {
        const report = await withRegister((text) => {
          const [first] = readIssueRegister('register', text, new Collector())!.issues;
          const { browser: _browser, unsignedPdfSha256: _digest, place: _place, ...carried } = first!;
          return appendIssue(undefined, carried);
        });
        expect(unproven(report)).toContain('issue: not proven');
        expect(textOf(report, 'issue')).toMatch(/not as which PDF/);
      });

      test('that is none', async () => {
        writeFileSync(path('register'), 'number: 1\n');
        const { status, err } = await runInProcess(['verify', 'issued.pdf', '--register', 'register'], {
          cwd: root,
        });
        expect(status).toBe(3);
        expect(err).toMatch(/^register is no register of issues/);
      });
    });

    describe('who signed', () => {
      test('all roles stated without a signature', async () => {
        const bare = path('bare');
        mkdirSync(bare);
        const repository = await writeFormalProject(bare, 1);
        await signAll(bare, '1.md');
        repository.commitAll('Signed');
        await succeed(bare, 'compile', '1.md');
        const draft = ['sign-pdf', '1.pdf', '--as', 'prepared', '--p12', certificates.path('adams.p12')];
        const refused = await runInProcess([...draft, '--password-file', path('password')], { cwd: bare });
        expect(refused.status).toBe(3);
        expect(refused.err).toContain('was not signed: it was not issued');
        const roles = ['sign-off prepared', 'sign-off checked', 'sign-off approved'];
        const without = await verify(join(bare, '1.pdf'), '--no-print');
        expect(unproven(without)).toEqual(expect.arrayContaining(roles.map((role) => `${role}: not proven`)));
        const withList = await verify(
          join(bare, '1.pdf'),
          '--no-print',
          '--allowed-signers',
          client('signers'),
        );
        expect(unproven(withList)).toEqual(
          expect.arrayContaining(roles.map((role) => `${role}: contradicted`)),
        );
      });

      test('a project that calls the signer by the name of another key on the client’s list', async () => {
        // The forger's key is on the list under his own name; the project in the PDF leads there from the name of clark.
        await replaceAttachment(path('issued.pdf'), path('attack.pdf'), 'project.yaml', (text) =>
          text.replace('{ name: C. Clark }', '{ name: C. Clark, signer: stranger }'),
        );
        const report = await verify('attack.pdf', '--no-print', '--allowed-signers', client('signers'));
        expect(unproven(report)).toContain('sign-off approved: contradicted');
        expect(textOf(report, 'sign-off approved')).toContain("calls the signer 'stranger' now");
      });

      test('the principal is printed with the key', async () => {
        const report = await verify('issued.pdf', '--no-print', ...own);
        expect(textOf(report, 'sign-off checked')).toMatch(
          /SHA256:\S+ of 'brown'.*this key signs for 'brown'$/,
        );
      });

      test('a certificate of somebody else in a role, and one certificate in two', async () => {
        const trust = ['--trust', certificates.path('authority.pem')];
        copyFileSync(path('issued.pdf'), path('attack.pdf'));
        await signByHand('attack.pdf', 'prepared', 'adams');
        const sound = await verify('attack.pdf', '--no-print', ...own, ...trust);
        expect(unproven(sound)).toEqual(['pages: not proven']);
        expect(sound.status).toBe(0);
        await signByHand('attack.pdf', 'approved', 'other');
        const foreign = await verify('attack.pdf', '--no-print', ...own, ...trust);
        expect(textOf(foreign, 'signature approved')).toContain(
          "the certificate is that of Otto Fenwick, while C. Clark signed off as 'approved'",
        );
        copyFileSync(path('issued.pdf'), path('attack.pdf'));
        for (const role of ['prepared', 'checked']) {
          await signByHand('attack.pdf', role, 'adams');
        }
        const twice = await verify('attack.pdf', '--no-print', ...own, ...trust);
        expect(textOf(twice, 'signature prepared')).toContain("the same certificate signed 'checked' too");
      });
    });

    if (AT_LENGTH) {
      test('the table of what was tried', async () => {
        await expect(table.text('Changed files')).toMatchFileSnapshot('tables/verify-attacks.md');
      });
    }
  },
);
