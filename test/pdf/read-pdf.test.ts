import { deflateSync } from 'node:zlib';
import { PDFDict, PDFDocument, PDFHexString, PDFName, PDFString } from '@cantoo/pdf-lib';
import { describe, expect, it } from 'vitest';
import { listFonts } from '../../src/pdf/list-fonts.ts';
import { readPdf } from '../../src/pdf/read-pdf.ts';

async function makePdf(
  change: (document: PDFDocument) => void | Promise<void> = () => {},
): Promise<Uint8Array> {
  const document = await PDFDocument.create({ updateMetadata: false });
  document.addPage([300, 400]);
  await change(document);
  return document.save();
}

/** Names a file as only a hostile program would, behind the back of the library. */
function renameAttachment(document: PDFDocument, name: string): void {
  for (const [, object] of document.context.enumerateIndirectObjects()) {
    if (!(object instanceof PDFDict) || object.lookup(PDFName.of('Type')) !== PDFName.of('Filespec'))
      continue;
    for (const key of ['UF', 'F']) object.set(PDFName.of(key), PDFHexString.fromText(name));
  }
}

/** A compressed file that says of itself what it likes. */
function attachPlainly(document: PDFDocument, compressed: Uint8Array, size: number): void {
  const { context, catalog } = document;
  const content = context.stream(compressed, { Filter: 'FlateDecode', Params: { Size: size } });
  const file = { Type: 'Filespec', UF: PDFString.of('zeros'), EF: { F: context.register(content) } };
  const names = context.obj([PDFString.of('zeros'), context.obj(file)]);
  catalog.set(PDFName.of('Names'), context.obj({ EmbeddedFiles: { Names: names } }));
}

async function makeWithAttachment(name: string): Promise<Uint8Array> {
  const document = await PDFDocument.load(await makePdf((made) => made.attach(Buffer.from('x'), 'x.txt')));
  renameAttachment(document, name);
  return document.save();
}

describe('a file that two readers would unpack differently', () => {
  const make = async (
    change: (specification: PDFDict, document: PDFDocument) => void,
  ): Promise<Uint8Array> => {
    const document = await PDFDocument.load(await makeWithAttachment('plan.txt'));
    for (const [, object] of document.context.enumerateIndirectObjects()) {
      if (object instanceof PDFDict && object.has(PDFName.of('EF'))) change(object, document);
    }
    return document.save();
  };

  it('is refused where it has two names', async () => {
    const pdf = await make((file) => file.set(PDFName.of('F'), PDFHexString.fromText('survey.txt')));
    await expect(readPdf(pdf)).rejects.toMatchObject({
      code: 'pdf-attachment',
      message: expect.stringContaining('two names, "plan.txt" and "survey.txt"'),
    });
  });

  it('is refused where it has two contents', async () => {
    const pdf = await make((file, document) => {
      const other = document.context.register(document.context.flateStream('other'));
      (file.lookup(PDFName.of('EF')) as PDFDict).set(PDFName.of('UF'), other);
    });
    await expect(readPdf(pdf)).rejects.toMatchObject({
      code: 'pdf-attachment',
      message: expect.stringContaining('"plan.txt" has two contents'),
    });
  });
});

describe('readPdf', () => {
  it('reads a plain PDF that another program made', async () => {
    const contents = await readPdf(await makePdf((document) => document.setTitle('Plain')));
    expect(contents).toMatchObject({
      pageCount: 1,
      pageSizes: [{ width: 300, height: 400 }],
      information: { Title: 'Plain' },
      metadata: null,
      language: null,
      tagged: false,
      outline: [],
      links: [],
      attachments: [],
    });
  });

  it.each<[string, Uint8Array, string]>([
    ['empty', new Uint8Array(0), 'pdf-not-a-pdf'],
    ['a text', Buffer.from('Heron Weir'), 'pdf-not-a-pdf'],
    ['only a head', Buffer.from('%PDF-1.7\n'), 'pdf-damaged'],
    ['a head and a tail', Buffer.from('%PDF-1.7\nstartxref\n0\n%%EOF'), 'pdf-damaged'],
  ])('says what is wrong with a file that is %s', async (_, bytes, code) => {
    await expect(readPdf(bytes)).rejects.toMatchObject({ name: 'OutsideFailure', code });
  });

  it('does not take a cut or overwritten PDF for a whole one', async () => {
    const whole = await makePdf((document) => document.attach(Buffer.alloc(5000, 'x'), 'x.txt'));
    await expect(readPdf(whole.subarray(0, whole.length - 40))).rejects.toMatchObject({
      code: 'pdf-damaged',
    });
    const overwritten = Uint8Array.from(whole).fill(0x20, 20, whole.length - 30);
    await expect(readPdf(overwritten)).rejects.toMatchObject({
      code: 'pdf-damaged',
      message: 'The PDF is damaged: an object in it is not what it should be.',
    });
  });

  it('says that a PDF is encrypted', async () => {
    const document = await PDFDocument.create();
    document.addPage();
    document.encrypt({ userPassword: 'weir', ownerPassword: 'heron' });
    await expect(readPdf(await document.save())).rejects.toMatchObject({ code: 'pdf-encrypted' });
  });

  it.each([
    '../../etc/cron.d/x',
    'images/../../x',
    '/etc/passwd',
    'a\\b',
    '..',
    'C:\\x',
    'C:x',
    '//server/share',
    'a\nb',
    '.profile',
    '.git/config',
    'con.md',
  ])('refuses an attachment named %j', async (name) => {
    await expect(readPdf(await makeWithAttachment(name))).rejects.toMatchObject({ code: 'pdf-attachment' });
  });

  it('takes the same file under a plain name', async () => {
    const { attachments } = await readPdf(await makeWithAttachment('plain name.txt'));
    expect(attachments.map(({ name }) => name)).toEqual(['plain name.txt']);
  });

  it('takes a name with folders, and says which two names are one where capitals count for nothing', async () => {
    const both = await makePdf(async (document) => {
      await document.attach(Buffer.from('x'), 'images/plan.png');
      await document.attach(Buffer.from('y'), 'data/plan.csv');
    });
    const { attachments } = await readPdf(both);
    expect(attachments.map(({ name }) => name).sort()).toEqual(['data/plan.csv', 'images/plan.png']);
    const twins = await makePdf(async (document) => {
      await document.attach(Buffer.from('x'), 'Plan.md');
      await document.attach(Buffer.from('y'), 'plan.md');
    });
    await expect(readPdf(twins)).rejects.toMatchObject({
      code: 'pdf-attachment',
      message: expect.stringMatching(/"Plan.md" and "plan.md"|"plan.md" and "Plan.md"/),
    });
  });

  it.each<[string, number, string]>([
    ['more than there is', 4, 'has 3 bytes, but says 4'],
    ['less than there is', 2, 'has 3 bytes, but says 2'],
    ['more than is allowed', 1e12, 'more than 134217728 bytes'],
  ])('refuses a file that says of itself that it has %s', async (_, size, message) => {
    const made = await makePdf((document) => attachPlainly(document, deflateSync(Buffer.from('abc')), size));
    await expect(readPdf(made)).rejects.toMatchObject({
      code: 'pdf-attachment',
      message: expect.stringContaining(message),
    });
  });

  it('refuses more files than a note has', async () => {
    const many = await makePdf((document) => {
      const { context, catalog } = document;
      const content = context.register(context.stream('x'));
      const names = Array.from({ length: 1001 }, (_, i) => String(i).padStart(4, '0')).flatMap((name) => [
        PDFString.of(name),
        context.obj({ Type: 'Filespec', UF: PDFString.of(name), EF: { F: content } }),
      ]);
      catalog.set(PDFName.of('Names'), context.obj({ EmbeddedFiles: { Names: context.obj(names) } }));
    });
    await expect(readPdf(many)).rejects.toMatchObject({
      message: 'The PDF cannot be used: it carries 1001 files, more than 1000.',
    });
  });

  it('does not swell', async () => {
    // 140 MB of zeros in 0.6 MB, and compressed once more.
    const zeros = deflateSync(Buffer.alloc(140 << 20), { level: 1 });
    const bomb = await makePdf((document) => attachPlainly(document, zeros, 10));
    await expect(readPdf(bomb)).rejects.toMatchObject({ code: 'pdf-attachment' });
    const nested = await makePdf((document) => {
      for (let count = 0; count < 4; count += 1) {
        const filters = ['FlateDecode', 'FlateDecode'];
        document.context.register(document.context.stream(deflateSync(zeros), { Filter: filters }));
      }
    });
    await expect(readPdf(nested)).rejects.toMatchObject({ code: 'pdf-too-large' });
  });

  it('comes to an end where bookmarks and names run in circles', async () => {
    const circle = await makePdf((document) => {
      const { context, catalog } = document;
      const entry = context.obj({ Title: PDFString.of('Round') });
      const reference = context.register(entry);
      entry.set(PDFName.of('Next'), reference);
      entry.set(PDFName.of('First'), reference);
      catalog.set(PDFName.of('Outlines'), context.obj({ First: reference }));
      const node = context.obj({});
      const tree = context.register(node);
      node.set(PDFName.of('Kids'), context.obj([tree]));
      catalog.set(PDFName.of('Names'), context.obj({ EmbeddedFiles: tree, Dests: tree }));
    });
    const contents = await readPdf(circle);
    expect(contents.outline).toEqual([{ title: 'Round', page: null, children: [] }]);
    expect(contents.attachments).toEqual([]);
  });
});

describe('listFonts', () => {
  it('tells fonts that are not embedded and fonts that are drawings', async () => {
    const bytes = await makePdf(({ context }) => {
      context.register(context.obj({ Type: 'Font', Subtype: 'Type1', BaseFont: 'Helvetica' }));
      context.register(context.obj({ Type: 'Font', Subtype: 'Type3' }));
      const descriptor = context.obj({
        Type: 'FontDescriptor',
        FontFile2: context.register(context.stream('x')),
      });
      const font = {
        Type: 'Font',
        Subtype: 'TrueType',
        BaseFont: 'ABCDEF+Plain-Bold',
        FontDescriptor: descriptor,
      };
      context.register(context.obj(font));
    });
    expect(await listFonts(bytes)).toEqual(
      expect.arrayContaining([
        { name: 'Helvetica', type: 'Type1', embedded: false },
        { name: null, type: 'Type3', embedded: true },
        { name: 'Plain-Bold', type: 'TrueType', embedded: true },
      ]),
    );
  });
});
