import { readFileSync } from 'node:fs';
import { PDFArray, type PDFDict, PDFDocument, PDFName, PDFString } from '@cantoo/pdf-lib';
import { beforeAll, describe, expect, test } from 'vitest';
import { SOFTWARE_NAME } from '../../src/cli/software.ts';
import type { Attachment } from '../../src/pdf/attach-files.ts';
import { AttackTable } from '../support/attack-table.ts';
import { IssuedNote, type Report, textOf, unproven } from '../support/issued-note.ts';
import { printEachPageOnce } from '../support/kept-printer.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { replaceAttachment } from '../support/replace-attachment.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

// A forger who has surgenote too: he prints another page with the right browser, or claims another version or another browser, so that
// other bytes are no contradiction by themselves.

printEachPageOnce();

const root = temporaryFolder();
const table = new AttackTable();
const OTHER_VERSION = 'surgenote 0.9.4';
const OTHER_BUILD = 'HeadlessChrome/140.0.7000.2';
/** Register and file know the bytes that were issued: what is made anew is always another file. */
const ANOTHER_FILE = ['issue: contradicted'];

describeWithTools(['git', 'ssh-keygen', 'qpdf', 'pdfsig', 'pdfdetach'], 'a page made by a forger', () => {
  let note: IssuedNote;

  beforeAll(async () => {
    note = await IssuedNote.make(root);
  });

  async function tried(attack: string, pdf: Uint8Array, ...options: string[]): Promise<Report> {
    const said = await note.verify(pdf, ...options);
    table.add(attack, pdf, said);
    if (typeof said === 'string') throw new Error(said);
    return said;
  }

  const replaced = async (file: string, change: (text: string) => string): Promise<Uint8Array> => {
    await replaceAttachment(note.pdf, note.path('replaced.pdf'), file, change);
    return readFileSync(note.path('replaced.pdf'));
  };

  /** Changes a finished PDF by writing all of it anew, in the name of another build. */
  async function rewrite(change: (document: PDFDocument) => void): Promise<Uint8Array> {
    const document = await PDFDocument.load(note.bytes(), { updateMetadata: false });
    document.setProducer(`${document.getCreator()} with ${OTHER_BUILD}`);
    change(document);
    return document.save();
  }

  /** The note once more as another of its project, which has a number of its own. */
  const secondNote = ({ bytes }: Attachment) => {
    const text = Buffer.from(bytes).toString('utf8');
    const other = text.replace(/^number: .*$/m, 'number: "2"');
    expect(other).not.toBe(text);
    return { name: '2.md', bytes: Buffer.from(other) };
  };

  /** Another verdict wherever one stands. */
  const turnVerdict = (html: string): string => {
    const turned = html.replaceAll(/>complies</g, '>does not comply<');
    expect(turned).not.toBe(html);
    return turned;
  };
  const changeNumber = (html: string): string => {
    const turned = html.replaceAll(/>33(?=[^\d.])/g, '>37');
    expect(turned).not.toBe(html);
    return turned;
  };
  const cover = (html: string): string =>
    html.replace(
      '</body>',
      '<div style="position:absolute;top:400mm;left:0;width:160mm;height:60mm;background:#fff;z-index:9"></div></body>',
    );

  describe('printed anew, in the name of this version', () => {
    test.each<[string, (html: string) => string]>([
      ['another verdict', turnVerdict],
      ['another number', changeNumber],
      ['a white area over the results', cover],
      ['a sentence more', (html) => html.replace('</h2>', '</h2><p>The authority has agreed.</p>')],
    ])('%s', async (name, html) => {
      const report = await tried(`page printed anew: ${name}`, await note.reprint({ html }));
      expect(unproven(report)).toEqual(['page of the source: contradicted', ...ANOTHER_FILE]);
      expect(textOf(report, 'pages')).toMatch(
        /^the page that the PDF carries, printed again .* the same bytes$/,
      );
    });

    test('the differences are named', async () => {
      const report = await note.report(await note.reprint({ html: changeNumber }));
      expect(textOf(report, 'page of the source')).toMatch(
        /lacks these numbers: 33.*has these numbers more: 37/,
      );
    });

    test('one file more, which the note does not use', async () => {
      const bytes = Buffer.from('echo');
      const more = {
        name: 'survey.exe',
        bytes,
        mimeType: 'text/plain',
        description: '',
        relationship: 'Data' as const,
      };
      const pdf = await note.reprint({ attachments: (files) => [...files, more] });
      const report = await tried('printed anew with one file more', pdf);
      expect(unproven(report)).toEqual(['page of the source: contradicted', ...ANOTHER_FILE]);
      expect(textOf(report, 'page of the source')).toContain('survey.exe is not of the note');
    });

    test('with another note, as if values were taken from it', async () => {
      const attachments = (files: readonly Attachment[]) => [
        ...files,
        ...files.filter(({ name }) => name === '1.md').map((file) => ({ ...file, ...secondNote(file) })),
      ];
      const report = await tried('printed anew with a second note', await note.reprint({ attachments }));
      expect(unproven(report)).toEqual(['page of the source: contradicted', ...ANOTHER_FILE]);
      expect(textOf(report, 'page of the source')).toContain('2.md is not of the note');
    });

    test('without its page', async () => {
      const attachments = (files: readonly { name: string }[]) =>
        files.filter(({ name }) => name !== '1.page.json');
      const report = await tried(
        'printed anew without the page file',
        await note.reprint({ attachments } as never),
      );
      expect(unproven(report)).toContain('pages: contradicted');
    });
  });

  describe('printed anew, in the name of another version', () => {
    const other = { document: { creator: OTHER_VERSION } };

    test.each<[string, (html: string) => string, RegExp]>([
      ['another verdict', turnVerdict, /has these verdicts more: .*does not comply/],
      ['another number', changeNumber, /has these numbers more: 37/],
    ])('%s is not proven, and named', async (name, html, difference) => {
      const pdf = await note.reprint({
        ...other,
        html: (text) => html(text).replaceAll(SOFTWARE_NAME, OTHER_VERSION),
      });
      const report = await tried(`page printed anew in the name of another version: ${name}`, pdf);
      expect(unproven(report)).toEqual(['page of the source: not proven', ...ANOTHER_FILE]);
      expect(textOf(report, 'page of the source')).toMatch(difference);
    });

    test('where this version makes the same page, it is proven; the register knows another file', async () => {
      const pdf = await note.reprint({
        ...other,
        html: (text) => text.replaceAll(SOFTWARE_NAME, OTHER_VERSION),
      });
      const report = await tried('the right page in the name of another version', pdf);
      expect(unproven(report)).toEqual(ANOTHER_FILE);
      expect(textOf(report, 'page of the source')).toContain(`is what ${SOFTWARE_NAME} makes of the source`);
    });
  });

  test('without its page, in the name of a version that knew none: not proven; of a later one: contradicted', async () => {
    const attachments = (files: readonly Attachment[]) => files.filter(({ name }) => name !== '1.page.json');
    const made = async (creator: string): Promise<Report> => {
      const html = (text: string): string => text.replaceAll(SOFTWARE_NAME, creator);
      const pdf = await note.reprint({ attachments, html, document: { creator } });
      return tried(`without its page, in the name of ${creator}`, pdf);
    };
    expect(unproven(await made('surgenote 0.2.7'))).toContain('pages: not proven');
    const later = await made(OTHER_VERSION);
    expect(textOf(later, 'pages')).toMatch(/carries no page, which every version since 0\.3\.0/);
    expect(unproven(later)).toContain('pages: contradicted');
  });

  describe('the page file', () => {
    test.each<[string, (text: string) => string, RegExp]>([
      ['another text', (text) => text.replace('Trial', 'Final'), /the bytes|other bytes/],
      ['no JSON', () => '<html>', /is not the JSON of a page/],
      [
        'a part that is missing',
        (text) => text.replace(/"parts":\[.*?\],"text"/, '"parts":[{"kind":"text","text":"x"}],"text"'),
        /a part \d+ that is not there/,
      ],
      [
        'a part that holds itself',
        (text) => text.replace('"parts":[', '"parts":[{"kind":"text","text":";base64,@0@"},'),
        /holds another of its kind/,
      ],
      ['a part that swells', () => swelling(), /too long once its fonts and pictures are inserted/],
      ['a form of later', (text) => text.replace('"form":1', '"form":7'), /which a later version reads/],
      [
        'a font that nobody has',
        (text) => text.replace(/("kind":"font","sha256":")..../, '$10000'),
        /does not have its font/,
      ],
      [
        'headings that are not there',
        (text) => text.replace('"headings":[', '"headings":[{"text":"Approval","typeset":false},'),
        /could not be printed again/,
      ],
      [
        'a date that is none',
        (text) => text.replace('"date":"2030-01-01"', '"date":"2030-02-31"'),
        /could not be printed again/,
      ],
      [
        'a picture from the network',
        (text) => text.replace('<body>', '<body><img src=\\"https://office.example/a.png\\">'),
        /not printed/,
      ],
      [
        'a style sheet from the network',
        (text) => text.replace('<style>', '<style>@import url(https://office.example/a.css);'),
        /not printed/,
      ],
      [
        'a frame with a file',
        (text) => text.replace('<body>', '<body><iframe src=\\"file:///etc/passwd\\"></iframe>'),
        /not printed/,
      ],
      [
        'a refresh',
        (text) =>
          text.replace(
            '<head>',
            '<head><meta http-equiv=\\"refresh\\" content=\\"0;url=https://office.example/\\">',
          ),
        /not printed|other bytes/,
      ],
      [
        'a script',
        (text) => text.replace('<body>', '<body><script>document.body.innerHTML = \\"complies\\"</script>'),
        /not printed|other bytes/,
      ],
    ])('%s', async (name, change, reason) => {
      const report = await tried(`page file: ${name}`, await replaced('1.page.json', change));
      expect(unproven(report)).toContain('pages: contradicted');
      expect(textOf(report, 'pages')).toMatch(reason);
    });
  });

  describe('in the name of another browser build', () => {
    test('nothing else changed: not proven, the pages look alike', async () => {
      const report = await tried('another build named, nothing changed', await rewrite(() => {}));
      expect(
        report.findings.filter(({ state }) => state === 'contradicted').map(({ about }) => about),
      ).toEqual(['issue']);
      expect(textOf(report, 'pages')).toMatch(
        /the text of every page is the same; all pages look alike when pdfjs \S+ draws them/,
      );
    });

    test('a picture over the results: not proven, the place is named', async () => {
      const pdf = await rewrite((document) =>
        document.getPage(2).drawRectangle({ x: 100, y: 300, width: 300, height: 120 }),
      );
      const report = await tried('another build named, black area over the results', pdf);
      expect(textOf(report, 'pages')).toMatch(
        /do not look alike on page 3 \(10\d mm by 4\d mm, 3\d mm from the left/,
      );
    });

    test('other text: contradicted', async () => {
      const pdf = await rewrite((document) => document.getPage(1).drawText('complies', { x: 90, y: 500 }));
      const report = await tried('another build named, a word over the page', pdf);
      expect(unproven(report)).toContain('pages: contradicted');
      expect(textOf(report, 'pages')).toContain(
        'the text of page 2 is not that of the page that the PDF carries',
      );
    });

    test('a page less: contradicted', async () => {
      const report = await tried(
        'another build named, a page less',
        await rewrite((document) => document.removePage(document.getPageCount() - 1)),
      );
      expect(unproven(report)).toContain('pages: contradicted');
    });

    const annotate =
      (entries: Record<string, unknown>) =>
      (document: PDFDocument): void => {
        const { context } = document;
        const annotation = context.register(
          context.obj({ Type: 'Annot', Rect: [50, 50, 300, 120], ...entries } as never),
        );
        const { node } = document.getPage(0);
        const list = node.lookup(PDFName.of('Annots'));
        node.set(
          PDFName.of('Annots'),
          context.obj([...(list instanceof PDFArray ? list.asArray() : []), annotation]),
        );
      };
    test.each<[string, (document: PDFDocument) => void, RegExp]>([
      [
        'a stamp',
        annotate({ Subtype: 'Stamp', Contents: PDFString.of('Approved') }),
        /an annotation \(Stamp\) on page 1/,
      ],
      ['a note', annotate({ Subtype: 'Text', Contents: PDFString.of('Agreed') }), /an annotation \(Text\)/],
      [
        'a text field',
        annotate({ Subtype: 'Widget', FT: 'Tx', T: PDFString.of('x') }),
        /an annotation \(Widget\)/,
      ],
      [
        'a link that starts a program',
        annotate({ Subtype: 'Link', A: { S: 'Launch', F: PDFString.of('calc') } }),
        /an action \(Launch\)/,
      ],
      [
        'a link to a script',
        annotate({ Subtype: 'Link', A: { S: 'URI', URI: PDFString.of('javascript:alert(1)') } }),
        /a link to no address of the web/,
      ],
      [
        'a script at opening',
        (document) =>
          document.catalog.set(
            PDFName.of('OpenAction'),
            document.context.obj({ S: 'JavaScript', JS: PDFString.of('x') }),
          ),
        /\/OpenAction in the catalogue/,
      ],
      [
        'a script among the names',
        ({ catalog, context }) =>
          (catalog.lookup(PDFName.of('Names')) as PDFDict).set(
            PDFName.of('JavaScript'),
            context.obj({ Names: [] }),
          ),
        /\/JavaScript among the names/,
      ],
      [
        'an action when a page opens',
        (document) =>
          document
            .getPage(1)
            .node.set(PDFName.of('AA'), document.context.obj({ O: { S: 'Named', N: 'Print' } })),
        /actions that events start/,
      ],
      [
        'a layer that can be switched',
        ({ catalog, context }) => catalog.set(PDFName.of('OCProperties'), context.obj({ OCGs: [] })),
        /\/OCProperties in the catalogue/,
      ],
    ])('%s: contradicted', async (name, change, what) => {
      const report = await tried(`another build named, ${name}`, await rewrite(change));
      expect(unproven(report)).toContain('pages: contradicted');
      expect(textOf(report, 'pages')).toMatch(what);
    });
  });

  test('the table of what was tried', async () => {
    await expect(table.text('Forged pages')).toMatchFileSnapshot('tables/forged-pages.md');
  });

  /** A page that names one font so often that it would fill the memory. */
  function swelling(): string {
    const document = {
      ...{
        title: '',
        author: '',
        subject: '',
        creator: '',
        language: 'en',
        date: '2030-01-01',
        identity: '0'.repeat(64),
      },
      ...{ keywords: [], headings: [], signatureFields: [] },
    };
    const text = Buffer.alloc(100_000, 'a').toString('base64');
    return JSON.stringify({
      form: 1,
      document,
      parts: [{ kind: 'text', text }],
      text: ';base64,@0@'.repeat(10_000),
    });
  }
});
