import { lstatSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { deflateSync } from 'node:zlib';
import { PDFDict, PDFDocument, PDFHexString, PDFName, PDFNumber } from '@cantoo/pdf-lib';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { unpackPdfSource } from '../../src/cli/unpack-pdf-source.ts';
import { spread } from '../support/at-length.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const folder = temporaryFolder();

interface Making {
  readonly files?: Readonly<Record<string, string>>;
  readonly creator?: string | null;
  /** Names that only a hostile program writes: the attachment `from` is renamed behind the back of the library. */
  readonly rename?: { readonly from: string; readonly to: string };
  readonly change?: (document: PDFDocument) => void;
}

const SOURCE = {
  'project.yaml': 'title: Trial\n',
  '001.md': '# A note\n',
  'images/plan.svg': '<svg/>',
};

/** A PDF as the library writes it; by default one that looks like ours. */
async function makePdf({
  files = SOURCE,
  creator = 'surgenote 0.1.0',
  rename,
  change,
}: Making = {}): Promise<string> {
  const made = await PDFDocument.create({ updateMetadata: false });
  made.addPage();
  if (creator !== null) made.setCreator(creator);
  for (const [name, text] of Object.entries(files)) await made.attach(Buffer.from(text), name);
  const document = await PDFDocument.load(await made.save(), { updateMetadata: false });
  if (rename) {
    for (const specification of filesOf(document)) {
      const key = PDFName.of('UF');
      if (specification.lookup(key, PDFHexString).decodeText() === rename.from)
        for (const name of [key, PDFName.of('F')]) specification.set(name, PDFHexString.fromText(rename.to));
    }
  }
  change?.(document);
  return write(await document.save({ useObjectStreams: false }));
}

function filesOf(document: PDFDocument): PDFDict[] {
  return document.context
    .enumerateIndirectObjects()
    .map(([, object]) => object)
    .filter((object): object is PDFDict => object instanceof PDFDict)
    .filter((object) => object.lookup(PDFName.of('Type')) === PDFName.of('Filespec'));
}

let count = 0;
function write(bytes: Uint8Array): string {
  count += 1;
  const path = join(folder, `${count}.pdf`);
  writeFileSync(path, bytes);
  return path;
}

/** Puts a content in place of that of the first file. */
function replaceContent(document: PDFDocument, content: Uint8Array, size: number): void {
  const { context } = document;
  const stream = context.stream(content, { Filter: 'FlateDecode', Params: { Size: PDFNumber.of(size) } });
  filesOf(document)[0]!.set(PDFName.of('EF'), context.obj({ F: context.register(stream) }));
}

/** What is left in the folder for temporary files, which is one of our own here. */
const temporary = join(folder, 'tmp');
const left = (): string[] => readdirSync(temporary);

beforeAll(() => {
  mkdirSync(temporary);
  vi.stubEnv('TMPDIR', temporary);
});
afterAll(() => {
  vi.unstubAllEnvs();
});

describe('unpackPdfSource', () => {
  it('puts the project into a folder for this user alone, and takes it away', async () => {
    const unpacked = await unpackPdfSource(await makePdf());
    expect(left()).toHaveLength(1);
    expect(unpacked.documentPath).toBe('001.md');
    expect(readFileSync(join(unpacked.folder, 'images/plan.svg'), 'utf8')).toBe('<svg/>');
    expect(readdirSync(unpacked.folder, { recursive: true }).sort()).toEqual([
      '001.md',
      'images',
      'images/plan.svg',
      'project.yaml',
    ]);
    expect(lstatSync(unpacked.folder).mode & 0o777).toBe(0o700);
    expect(lstatSync(join(unpacked.folder, '001.md')).mode & 0o777).toBe(0o600);
    await unpacked.remove();
    expect(left()).toEqual([]);
  });

  it.each(
    spread<[string, () => string | Promise<string>, string, string]>(
      [
        ['that does not exist', () => join(folder, 'none.pdf'), 'not-readable', 'it does not exist'],
        [
          'that is a folder',
          () => {
            mkdirSync(join(folder, 'folder.pdf'));
            return join(folder, 'folder.pdf');
          },
          'not-readable',
          'it is a folder',
        ],
        ['that is a text', () => write(Buffer.from('# A note')), 'pdf-not-a-pdf', 'is not a PDF'],
        [
          'that was cut',
          async () => write(readFileSync(await makePdf()).subarray(0, -200)),
          'pdf-damaged',
          'The PDF is damaged',
        ],
        [
          'in which bytes were overwritten',
          async () => write(Uint8Array.from(readFileSync(await makePdf())).fill(0x20, 20, -100)),
          'pdf-damaged',
          'The PDF is damaged',
        ],
        [
          'of another program',
          () => makePdf({ creator: 'A word processor\u0007' }),
          'pdf-foreign',
          'it says that "A word processor\\u0007" did',
        ],
        [
          'of a program that does not say',
          () => makePdf({ creator: null }),
          'pdf-foreign',
          'does not say who',
        ],
        ['without files', () => makePdf({ files: {} }), 'pdf-without-source', 'no file is in it'],
        [
          'without the project',
          () => makePdf({ files: { '001.md': '#' } }),
          'pdf-without-source',
          'project.yaml is missing',
        ],
        [
          'without the note',
          () => makePdf({ files: { 'project.yaml': 'title: x' } }),
          'pdf-without-source',
          'the note is missing',
        ],
        [
          'with two notes',
          () => makePdf({ files: { ...SOURCE, '002.md': '#' } }),
          'pdf-attachment',
          'it is not known of which note it is, 001.md or 002.md',
        ],
        [
          'with the results of two notes',
          () =>
            makePdf({ files: { ...SOURCE, '002.md': '#', '002.results.yaml': '', '001.results.yaml': '' } }),
          'pdf-attachment',
          'it is not known of which note it is',
        ],
        [
          'with a second project',
          () => makePdf({ files: { ...SOURCE, 'images/project.yaml': 'title: x' } }),
          'pdf-attachment',
          'a second project',
        ],
        [
          'in which a file is a folder too',
          () => makePdf({ files: { ...SOURCE, Images: 'x' } }),
          'pdf-attachment',
          'Images in it is both a file and a folder',
        ],
        [
          'with names that differ by capitals only',
          () => makePdf({ files: { ...SOURCE, 'Images/Plan.svg': '<svg/>' } }),
          'pdf-attachment',
          'are one file where capitals count for nothing',
        ],
        [
          'with too many files',
          () =>
            makePdf({
              files: {
                ...SOURCE,
                ...Object.fromEntries(Array.from({ length: 1000 }, (_, i) => [`${i}.csv`, ''])),
              },
            }),
          'pdf-attachment',
          'it carries 1003 files, more than 1000',
        ],
        [
          'with a file that says it is huge',
          () => makePdf({ change: (document) => replaceContent(document, deflateSync('x'), 5e9) }),
          'pdf-attachment',
          'more than 134217728 bytes together',
        ],
        [
          'with a file that is huge and says it is small',
          () =>
            makePdf({
              change: (document) =>
                replaceContent(document, deflateSync(Buffer.alloc(140 << 20), { level: 1 }), 9),
            }),
          'pdf-attachment',
          'more than 134217728 bytes together',
        ],
        [
          'with a file whose content is damaged',
          () => makePdf({ change: (document) => replaceContent(document, Buffer.from('x\u009cnone'), 9) }),
          'pdf-attachment',
          'is damaged',
        ],
      ],
      6,
    ),
  )('refuses a PDF %s', async (_, make, code, message) => {
    const path = await make();
    const failure: unknown = await unpackPdfSource(path).catch((cause: unknown) => cause);
    expect(failure).toMatchObject({
      name: 'OutsideFailure',
      code,
      message: expect.stringContaining(message),
    });
    expect((failure as Error).message).toContain(path);
    expect(left()).toEqual([]);
  });

  it.each([
    '../001.md',
    'images/../../001.md',
    '/tmp/001.md',
    '..\\001.md',
    'images\\001.md',
    'C:\\001.md',
    'C:001.md',
    '//server/share/001.md',
    'images/./001.md',
    '.git/hooks/post-checkout',
    '.gitattributes',
    'images/',
    'aux',
    'a\u0000.md',
    '\u202e001.md',
  ])('refuses a file named %j: it writes nothing anywhere', async (to) => {
    const path = await makePdf({ rename: { from: 'images/plan.svg', to } });
    await expect(unpackPdfSource(path)).rejects.toMatchObject({
      code: 'pdf-attachment',
      message: expect.stringContaining('is not a plain one'),
    });
    expect(left()).toEqual([]);
  });
});
