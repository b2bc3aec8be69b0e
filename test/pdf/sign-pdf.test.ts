import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { PDFArray, PDFBool, PDFDict, PDFDocument, PDFHexString, PDFName, PDFString } from '@cantoo/pdf-lib';
import { beforeAll, beforeEach, expect, it, vi } from 'vitest';
import { signData } from '../../src/files/sign-data.ts';
import { verifyCms } from '../../src/files/verify-cms.ts';
import { addSignatureFields } from '../../src/pdf/add-signature-fields.ts';
import { insertSignature, readSignedBytes } from '../../src/pdf/insert-signature.ts';
import { listSignatures } from '../../src/pdf/list-signatures.ts';
import { prepareSignature, type SignatureRequest } from '../../src/pdf/prepare-signature.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { PASSWORD, SigningKeys } from '../support/signing-keys.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const DATE = new Date().toISOString().slice(0, 10);
const CHECKED: SignatureRequest = {
  field: 'checked',
  name: 'Ilse Brandreth',
  reason: 'Checked (line by line): Ω & \\',
  date: `${DATE}T23:30:00Z`,
  location: 'Heron Weir',
};
const APPROVED: SignatureRequest = {
  field: 'approved',
  name: 'Otto Fenwick',
  reason: 'Approved',
  date: DATE,
};

/** Two pages; the first one's content stands plainly in the file. */
async function makePdf(useObjectStreams = true): Promise<Uint8Array> {
  const document = await PDFDocument.create({ updateMetadata: false });
  for (const text of ['Lead 1.5 m', 'Lead 2.5 m']) {
    const page = document.addPage([595, 842]);
    const content = document.context.stream(`% ${text}\n0 0 100 100 re f`);
    page.node.set(PDFName.of('Contents'), document.context.register(content));
  }
  return document.save({ useObjectStreams });
}

describeWithTools(['openssl', 'pdfsig'], 'a signed PDF', () => {
  let keys: SigningKeys;
  let twice: { plain: Uint8Array; first: Uint8Array; second: Uint8Array };

  async function sign(pdf: Uint8Array, request: SignatureRequest, key: string): Promise<Uint8Array> {
    const prepared = await prepareSignature(pdf, request);
    const { cms } = await signData(
      readSignedBytes(prepared.bytes, prepared.byteRange),
      { kind: 'key-file', path: keys.path(`${key}.p12`), password: { variable: 'HERON_PASSWORD' } },
      DATE,
    );
    return insertSignature(prepared, cms);
  }

  /** What poppler says of each signature: its field, and whether it is valid. */
  function askPoppler(pdf: Uint8Array): string[] {
    const path = keys.path('asked.pdf');
    writeFileSync(path, pdf);
    const said = execFileSync('pdfsig', ['-nocert', path], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    return said
      .match(/Field Name: .*|Signature Validation: .*|.*not signed.*|.*otal document signed/g)!
      .map((line) => line.trim());
  }

  /** What we find of each signature. */
  async function askUs(pdf: Uint8Array): Promise<string[]> {
    const { signatures } = await listSignatures(pdf);
    const verdicts = signatures.map(async ({ field, cms, byteRange, later }) => {
      const { intact, signer } = await verifyCms(cms, readSignedBytes(pdf, byteRange));
      return `${field}: ${intact ? `intact, of ${signer!.name}` : 'broken'}, then ${[later.kind, ...later.what].join(': ')}`;
    });
    return Promise.all(verdicts);
  }

  /** Appends what somebody changed afterwards, as the format permits it. */
  async function append(pdf: Uint8Array, change: (document: PDFDocument) => void): Promise<Uint8Array> {
    const document = await PDFDocument.load(pdf, { updateMetadata: false, forIncrementalUpdate: true });
    change(document);
    return document.save();
  }

  beforeAll(async () => {
    vi.stubEnv('HERON_PASSWORD', PASSWORD);
    keys = new SigningKeys(temporaryFolder());
    keys.add('ilse', 'Ilse Brandreth', 'rsa');
    keys.add('otto', 'Otto Fenwick');
    const plain = await makePdf();
    const first = await sign(plain, CHECKED, 'ilse');
    twice = { plain, first, second: await sign(first, APPROVED, 'otto') };
  });
  beforeEach(() => {
    vi.stubEnv('HERON_PASSWORD', PASSWORD);
    return () => vi.unstubAllEnvs();
  });

  it('holds two signatures, the second of which leaves the first valid', async () => {
    expect(askPoppler(twice.second)).toEqual([
      'Field Name: checked',
      '- Not total document signed',
      'Signature Validation: Signature is Valid.',
      'Field Name: approved',
      '- Total document signed',
      'Signature Validation: Signature is Valid.',
    ]);
    expect(await askUs(twice.second)).toEqual([
      'checked: intact, of Ilse Brandreth, then signatures',
      'approved: intact, of Otto Fenwick, then none',
    ]);
  });

  it('keeps every byte of the earlier revisions', () => {
    const { plain, first, second } = twice;
    expect(Buffer.compare(first.subarray(0, plain.length), plain)).toBe(0);
    expect(Buffer.compare(second.subarray(0, first.length), first)).toBe(0);
  });

  it('says who signed what, when and why', async () => {
    const { signatures, unsound, emptyFields } = await listSignatures(twice.second);
    expect({ unsound, emptyFields }).toEqual({ unsound: [], emptyFields: [] });
    expect(signatures).toMatchObject([
      {
        ...CHECKED,
        format: 'ETSI.CAdES.detached',
        coversWholeFile: false,
        revisionLength: twice.first.length,
      },
      { ...APPROVED, date: `${DATE}T00:00:00Z`, location: null, coversWholeFile: true },
    ]);
  });

  it('is invalid as soon as one byte of the first revision changes', async () => {
    const changed = Buffer.from(twice.second);
    const at = changed.indexOf('Lead 1.5 m');
    expect(at).toBeGreaterThan(0);
    changed.write('7', at + 'Lead '.length);
    expect(askPoppler(changed).filter((line) => line.startsWith('Signature'))).toEqual([
      'Signature Validation: Digest Mismatch.',
      'Signature Validation: Digest Mismatch.',
    ]);
    expect(await askUs(changed)).toEqual(['checked: broken, then signatures', 'approved: broken, then none']);
  });

  it('keeps the first signature when only the second revision changes', async () => {
    const changed = Buffer.from(twice.second);
    const name = PDFHexString.fromText('Otto Fenwick').toString();
    const at = changed.indexOf(name);
    changed.write(PDFHexString.fromText('Atto Fenwick').toString(), at);
    expect(at).toBeGreaterThan(twice.first.length);
    expect(askPoppler(changed).filter((line) => line.startsWith('Signature'))).toEqual([
      'Signature Validation: Signature is Valid.',
      'Signature Validation: Digest Mismatch.',
    ]);
    expect((await askUs(changed)).map((line) => line.split(',')[0])).toEqual([
      'checked: intact',
      'approved: broken',
    ]);
  });

  it.each([true, false])('has its signatures in fields that waited for them (packed: %s)', async (packed) => {
    const fields = ['prepared', 'checked', 'approved'].map((name, row) => ({
      name,
      label: `Signature: ${name}`,
      page: 1,
      rectangle: [400, 500 - 40 * row, 500, 530 - 40 * row] as const,
    }));
    const bare = await makePdf(packed);
    const waiting = packed ? await addSignatureFields(bare, fields) : bare;
    if (packed) {
      expect(askPoppler(waiting).filter((line) => line.startsWith('Field'))).toHaveLength(3);
      expect((await listSignatures(waiting)).emptyFields).toEqual(['prepared', 'checked', 'approved']);
    }
    const first = await sign(waiting, CHECKED, 'ilse');
    const second = await sign(first, APPROVED, 'otto');
    expect(askPoppler(second).filter((line) => line.startsWith('Signature'))).toEqual([
      'Signature Validation: Signature is Valid.',
      'Signature Validation: Signature is Valid.',
    ]);
    expect(await askUs(second)).toEqual([
      'checked: intact, of Ilse Brandreth, then signatures',
      'approved: intact, of Otto Fenwick, then none',
    ]);
    expect((await listSignatures(second)).emptyFields).toEqual(packed ? ['prepared'] : []);
  });

  it.each<[string, (document: PDFDocument) => void, readonly string[]]>([
    [
      'another content of a page',
      (document) => {
        const content = document.context.stream('0 0 200 200 re f');
        document.getPage(1).node.set(PDFName.of('Contents'), document.context.register(content));
      },
      ['page 2'],
    ],
    ['another page', (document) => document.addPage(), ['other parts']],
    ['another title', (document) => document.setTitle('Changed'), ['the metadata']],
    [
      'a note on a page',
      (document) => {
        const note = document.context.obj({
          Type: 'Annot',
          Subtype: 'Text',
          Rect: [0, 0, 9, 9],
          Contents: PDFString.of('7.5 m'),
        });
        document
          .getPage(0)
          .node.set(PDFName.of('Annots'), document.context.obj([document.context.register(note)]));
      },
      ['page 1'],
    ],
    [
      'a signature field that shows something on a page',
      (document) => {
        const field = {
          Type: 'Annot',
          Subtype: 'Widget',
          FT: 'Sig',
          T: PDFString.of('more'),
          Rect: [0, 0, 99, 99],
        };
        const reference = document.context.register(document.context.obj(field));
        const form = document.catalog.lookup(PDFName.of('AcroForm'), PDFDict);
        for (const [holder, key] of [
          [form, 'Fields'],
          [document.getPage(0).node, 'Annots'],
        ] as const) {
          const list = holder.lookup(PDFName.of(key), PDFArray).asArray();
          holder.set(PDFName.of(key), document.context.obj([...list, reference]));
        }
      },
      ['a visible signature field'],
    ],
    [
      'a wish of the form',
      (document) =>
        document.catalog
          .lookup(PDFName.of('AcroForm'), PDFDict)
          .set(PDFName.of('NeedAppearances'), PDFBool.True),
      ['the form'],
    ],
    [
      'an attachment',
      (document) => {
        document.catalog.set(PDFName.of('Names'), document.context.obj({ EmbeddedFiles: { Names: [] } }));
      },
      ['the catalogue'],
    ],
  ])('tells what was appended to it: %s', async (_, change, what) => {
    const changed = await append(twice.second, change);
    // By the format an addition leaves signatures valid; a reader only says that they cover less than the whole.
    expect(askPoppler(changed).filter((line) => /^Signature|otal/.test(line))).toEqual([
      '- Not total document signed',
      'Signature Validation: Signature is Valid.',
      '- Not total document signed',
      'Signature Validation: Signature is Valid.',
    ]);
    const { signatures } = await listSignatures(changed);
    expect(signatures.map(({ later }) => later)).toEqual([
      { kind: 'other', what },
      { kind: 'other', what },
    ]);
  });

  it('does not pass for the signature of another field', async () => {
    const changed = await append(twice.second, (document) => {
      const form = document.catalog.lookup(PDFName.of('AcroForm'), PDFDict);
      const fields = form.lookup(PDFName.of('Fields'), PDFArray);
      const value = fields.lookup(0, PDFDict).get(PDFName.of('V'))!;
      fields.lookup(1, PDFDict).set(PDFName.of('V'), value);
    });
    const { signatures, unsound } = await listSignatures(changed);
    expect(signatures.map(({ field }) => field)).toEqual(['checked']);
    expect(unsound).toEqual([{ field: 'approved', reason: 'it is the signature of another field' }]);
  });

  it.each<[string, (revision: Revision) => string, string?]>([
    ['none, for comparison', ({ head, changed }) => `${head}${changed}`, 'page 1'],
    ['an object twice', ({ head, changed, kept }) => `${head}${changed}${head}${kept}`],
    [
      'a second one that hides behind a comment',
      ({ head, changed, kept }) => `${head}${changed}${head.replace(' 0 ', ' % \n0 ')}${kept}`,
    ],
    [
      'an object that the file does not list',
      ({ changed, kept, head }) => `${head}${changed}99 0 obj\n${kept}`,
    ],
  ])(
    'does not trust an appended revision that two readers may read in two ways: %s',
    async (_, write, what = 'the structure of the file') => {
      const { second } = twice;
      const found = /(\d+ 0 obj\n)(<<[^>]*>>\nstream\n% Lead 1\.5[\s\S]*?endobj\n)/.exec(latin1(second))!;
      const [, head = '', kept = ''] = found;
      const body = write({ head, kept, changed: kept.replace('1.5', '7.5') });
      const { trailerInfo } = (await PDFDocument.load(second, { updateMetadata: false })).context;
      const table = `xref\n${head.split(' ')[0]} 1\n${String(second.length).padStart(10, '0')} 00000 n \n`;
      const previous = /startxref\s+(\d+)\s+%%EOF\s*$/.exec(latin1(second))![1];
      const trailer = `trailer\n<< /Size 99 /Root ${trailerInfo.Root} /Prev ${previous} >>\n`;
      const end = `startxref\n${second.length + body.length}\n%%EOF\n`;
      const forged = Buffer.concat([second, Buffer.from(body + table + trailer + end, 'latin1')]);
      expect((await listSignatures(forged)).signatures.map(({ later }) => later)).toEqual(
        Array(2).fill({ kind: 'other', what: [what] }),
      );
    },
  );

  it.each<[string, (file: Buffer) => void, string]>([
    [
      'leaves out more than itself',
      (file) =>
        replace(file, /(?<=ByteRange \[0 \d+ )\d+ \d+/, (text) => {
          const [next, rest] = text.split(' ').map(Number);
          return `${next! + 1} ${rest! - 1}`;
        }),
      'it leaves out more of the file than itself',
    ],
    [
      'begins later',
      (file) => replace(file, /(?<=ByteRange \[)0/, () => '9'),
      'it does not cover the file from its first byte',
    ],
    [
      'ends early',
      (file) => replace(file, /(?<=ByteRange \[0 \d+ \d+ )\d+/, (text) => String(Number(text) - 9)),
      'it does not cover the file up to the end of a revision',
    ],
    [
      'has no range',
      (file) => replace(file, /ByteRange(?= \[)/, () => 'BiteRange'),
      'it does not say which bytes it covers',
    ],
    [
      'is empty',
      (file) => replace(file, /(?<=Contents <)30/, () => '00'),
      'it holds no signature that can be read',
    ],
  ])('is told from a file whose signature %s', async (_, change, reason) => {
    const file = Buffer.from(twice.first);
    change(file);
    expect(await listSignatures(file)).toMatchObject({
      signatures: [],
      unsound: [{ field: 'checked', reason }],
    });
  });

  it('is prepared with the same bytes each time, and has room for the signature', async () => {
    const [one, other] = [
      await prepareSignature(twice.plain, CHECKED),
      await prepareSignature(twice.plain, CHECKED),
    ];
    expect(Buffer.compare(one.bytes, other.bytes)).toBe(0);
    const narrow = await prepareSignature(twice.plain, { ...CHECKED, room: 100 });
    expect(() => insertSignature(narrow, new Uint8Array(101))).toThrow(
      'the signature has 101 bytes, and 100 were kept free for it in the PDF',
    );
    const full = insertSignature(narrow, new Uint8Array(100).fill(7));
    expect(() => insertSignature({ ...narrow, bytes: full }, new Uint8Array(1))).toThrow(
      'no empty signature',
    );
  });

  it('cannot be signed twice in one field, in another kind of field, or where it is no PDF', async () => {
    await expect(prepareSignature(twice.first, CHECKED)).rejects.toMatchObject({
      code: 'signature-field',
      message: expect.stringContaining('the field "checked" of the PDF is signed already'),
    });
    const document = await PDFDocument.load(twice.plain);
    document.getForm().createTextField('checked').addToPage(document.getPage(0));
    await expect(prepareSignature(await document.save(), CHECKED)).rejects.toMatchObject({
      code: 'signature-field',
      message: expect.stringContaining('is not one for a signature'),
    });
    await expect(prepareSignature(Buffer.from('Heron Weir'), CHECKED)).rejects.toMatchObject({
      code: 'pdf-not-a-pdf',
    });
    await expect(addSignatureFields(twice.first, [])).rejects.toThrow('is signed');
  });
});

interface Revision {
  readonly head: string;
  readonly kept: string;
  readonly changed: string;
}

function latin1(bytes: Uint8Array): string {
  return Buffer.from(bytes).toString('latin1');
}

/** Replaces what an expression finds in place: the file keeps its length. */
function replace(file: Buffer, expression: RegExp, change: (text: string) => string): void {
  const { 0: text, index } = expression.exec(latin1(file))!;
  file.write(change(text).padEnd(text.length), index, 'latin1');
}
