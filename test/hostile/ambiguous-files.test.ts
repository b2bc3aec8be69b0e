import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { deflateSync } from 'node:zlib';
import { PDFDict, PDFDocument, PDFHexString, PDFName, type PDFRef } from '@cantoo/pdf-lib';
import { beforeAll, describe, expect, test } from 'vitest';
import { judgeStructure } from '../../src/pdf/judge-structure.ts';
import { appendByHand, rootOf, startOf } from '../support/append-by-hand.ts';
import { AttackTable } from '../support/attack-table.ts';
import { IssuedNote, textOf } from '../support/issued-note.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

// Files in which one reader of PDFs sees something else than another: by the cross-references, by looking through the file, or by
// repairing it. And files whose attachments are more than one thing.

const root = temporaryFolder();
const table = new AttackTable();

describeWithTools(
  ['git', 'ssh-keygen', 'qpdf', 'pdfsig', 'pdfdetach'],
  'a file that can be read in two ways',
  () => {
    let note: IssuedNote;
    let issued: Buffer;
    /** The content of the second page, whose object the forger gives another text. */
    let content: number;
    let page: number;

    beforeAll(async () => {
      note = await IssuedNote.make(root);
      issued = note.bytes();
      const { node, ref } = (await PDFDocument.load(issued)).getPage(1);
      page = ref.objectNumber;
      content = (node.get(PDFName.of('Contents')) as PDFRef).objectNumber;
    });

    const text = 'BT /F1 12 Tf 90 500 Td (complies) Tj ET';
    const stream = (length = text.length, data = text): string =>
      `<< /Length ${length} >>\nstream\n${data}\nendstream`;
    const other = () => ({ number: content, body: stream() });
    const packed = (numbers: readonly number[], body = '<< >> '): string => {
      const head = numbers.map((number, i) => `${number} ${i * body.length} `).join('');
      const data = deflateSync(head + body.repeat(numbers.length)).toString('latin1');
      return `<< /Type /ObjStm /N ${numbers.length} /First ${head.length} /Filter /FlateDecode /Length ${data.length} >>\nstream\n${data}\nendstream`;
    };
    const insert = (part: string): Uint8Array => {
      // Before the newest cross-references; the end of the file is told where they have gone.
      const at = startOf(issued);
      const moved = Buffer.concat([issued.subarray(0, at), Buffer.from(part, 'latin1'), issued.subarray(at)]);
      return Buffer.from(
        moved.toString('latin1').replace(/startxref\s+\d+/, `startxref\n${at + part.length}`),
        'latin1',
      );
    };

    const CASES: readonly (readonly [string, () => Uint8Array, RegExp])[] = [
      [
        'an object defined anew, which no table names',
        () => insert(`${content} 0 obj\n${stream()}\nendobj\n`),
        /belong to no object|not where/,
      ],
      [
        'an object in a revision, which its table does not name',
        () => appendByHand(issued, { objects: [other()], entries: () => new Map() }),
        /belong to no object/,
      ],
      [
        'a table that leads to the object of an earlier revision',
        () => {
          const once = appendByHand(issued, { objects: [other()] });
          const old = /(\d{10}) 00000 n/.exec(Buffer.from(once).toString('latin1', issued.length))![1]!;
          return appendByHand(once, { objects: [], entries: () => new Map([[content, Number(old)]]) });
        },
        /named by another revision/,
      ],
      [
        'an object twice in one revision',
        () => {
          const [first, second] = [other(), { number: content, body: stream(2, 'BT') }];
          return appendByHand(issued, {
            objects: [first, second],
            entries: (places) => new Map([[content, places.get(first)!]]),
          });
        },
        /belong to no object/,
      ],
      [
        'a table that names an object twice',
        () => appendByHand(issued, { objects: [other()], rows: `${content} 1\n0000000017 00000 n \n` }),
        /name object \d+ twice/,
      ],
      [
        'a table that leads into the middle of an object',
        () =>
          appendByHand(issued, {
            objects: [other()],
            entries: (places) => new Map([[content, [...places.values()][0]! + 3]]),
          }),
        /is not where the cross-references say/,
      ],
      [
        'a table that leads to another object',
        () =>
          appendByHand(issued, {
            objects: [other()],
            entries: (places) => new Map([[page, [...places.values()][0]!]]),
          }),
        /is not where the cross-references say/,
      ],
      [
        'cross-references for old readers, and others for new ones',
        () => appendByHand(issued, { objects: [other()], trailer: `/XRefStm ${startOf(issued)}` }),
        /two sets of cross-references/,
      ],
      [
        'cross-references that lead back to themselves',
        () => {
          const once = appendByHand(issued, { objects: [other()] });
          return appendByHand(issued, { objects: [other()], previous: startOf(once) });
        },
        /forward or in a circle/,
      ],
      [
        'a revision that the cross-references pass by',
        () => {
          const once = appendByHand(issued, { objects: [other()] });
          return appendByHand(once, {
            objects: [{ number: 80_000, body: '<< >>' }],
            previous: startOf(issued),
          });
        },
        /named by another revision|belong to no object/,
      ],
      [
        'an end that names the cross-references of before',
        () => appendByHand(issued, { objects: [other()], start: startOf(issued) }),
        /does not end with them|belong to no object/,
      ],
      [
        'an object in a stream of objects, which the table does not name',
        () => {
          const holder = { number: 80_000, body: packed([content, 80_001]) };
          return appendByHand(issued, { objects: [holder] });
        },
        /stands in stream 80000, and the cross-references do not say so/,
      ],
      [
        'an object in the file and in a stream of objects',
        () => appendByHand(issued, { objects: [other(), { number: 80_000, body: packed([content]) }] }),
        /stands in stream 80000/,
      ],
      [
        'more in a stream of objects than it says',
        () =>
          appendByHand(issued, {
            objects: [{ number: 80_000, body: packed([content]).replace('/N 1', '/N 0') }],
          }),
        /holds more than it says/,
      ],
      [
        'a stream that says it is shorter, and hides an object',
        () =>
          appendByHand(issued, {
            objects: [
              { number: 80_000, body: stream(4, `BT ET\nendstream\nendobj\n${content} 0 obj\n${stream()}`) },
            ],
          }),
        /longer or shorter than it says/,
      ],
      [
        'a stream that says it is longer, and swallows an object',
        () => {
          const swallowed = `\nendstream\nendobj\n${content} 0 obj\n<< /Length 0 >>\nstream\n`;
          return appendByHand(issued, {
            objects: [
              { number: 80_000, body: stream(text.length + swallowed.length + 9, `${text}${swallowed}`) },
            ],
          });
        },
        /longer or shorter than it says/,
      ],
      [
        'a stream without a length',
        () => appendByHand(issued, { objects: [{ ...other(), body: stream().replace(/\/Length \d+/, '') }] }),
        /does not say how long it is/,
      ],
      [
        'a dictionary that names an entry twice',
        () =>
          appendByHand(issued, { objects: [{ ...other(), body: stream().replace('<<', '<< /Length 2') }] }),
        /names \/Length twice/,
      ],
      [
        'an entry twice, once with a code in its name',
        () =>
          appendByHand(issued, { objects: [{ ...other(), body: stream().replace('<<', '<< /Len#67th 2') }] }),
        /names \/Length twice/,
      ],
      [
        'an object in a comment, which repairing readers find',
        () =>
          appendByHand(issued, {
            objects: [{ number: 80_000, body: '<< >>' }],
            before: `% ${content} 0 obj << >> endobj\n`,
          }),
        /belong to no object/,
      ],
      [
        'bytes before the header',
        () => Buffer.concat([Buffer.from('MZ\x90\n'), issued]),
        /does not begin as a PDF does/,
      ],
      [
        'a second trailer without cross-references',
        () =>
          Buffer.concat([
            issued,
            Buffer.from(`\ntrailer\n<< /Root ${content} 0 R >>\nstartxref\n${startOf(issued)}\n%%EOF\n`),
          ]),
        /belong to no object/,
      ],
      [
        'a trailer with another root',
        () => {
          const number = Number.parseInt(rootOf(issued), 10);
          const fake = { number: 80_000, body: `<< /Type /Catalog /Pages ${number} 0 R >>` };
          return appendByHand(issued, { objects: [fake], root: '80000 0 R' });
        },
        /^$/,
      ],
      [
        'a trailer that says the file is encrypted',
        () => appendByHand(issued, { objects: [other()], trailer: `/Encrypt ${content} 0 R` }),
        /^$/,
      ],
      [
        'the files that are carried, given up',
        () =>
          appendByHand(issued, {
            objects: [{ number: 80_000, body: '<< >>' }],
            entries: (places) =>
              new Map([
                [80_000, [...places.values()][0]!],
                [content, null],
              ]),
          }),
        /^$/,
      ],
      [
        'the last tenth missing',
        () => issued.subarray(0, Math.floor(issued.length * 0.9)),
        /its end does not say/,
      ],
      [
        'an object within the cross-references changed',
        () => Buffer.from(issued.toString('latin1').replace(/\/W \[/, '/V ['), 'latin1'),
        /are damaged/,
      ],
    ];

    test.each(CASES)('%s', async (name, make, fault) => {
      const pdf = make();
      expect(Buffer.from(pdf).equals(issued)).toBe(false);
      const found = judgeStructure(pdf);
      expect(found ?? '').toMatch(fault);
      const said = await note.verify(pdf, '--no-print');
      table.add(name, pdf, said);
      if (typeof said === 'string') {
        expect(said).toMatch(/attack\.pdf: The PDF (?:is damaged|is encrypted|cannot be used)/);
        return;
      }
      expect(said.verdict).toBe('contradicted');
      if (found !== undefined) expect(textOf(said, 'file')).toContain(found);
    });

    test('what is built soundly is no fault: the print, signatures of other programs, files written anew', () => {
      const pdf = note.pdf;
      const written = (name: string, ...options: string[]): Buffer => {
        execFileSync('qpdf', [...options, pdf, note.path(name)]);
        return readFileSync(note.path(name));
      };
      const reader = new URL('../pdf/fixtures/signed-in-a-reader.pdf', import.meta.url);
      const sound = [
        issued,
        readFileSync(reader),
        written('a.pdf'),
        written('b.pdf', '--object-streams=disable'),
      ];
      expect(sound.map(judgeStructure)).toEqual([undefined, undefined, undefined, undefined]);
      expect(judgeStructure(appendByHand(issued, { objects: [other()] }))).toBeUndefined();
    });

    describe('carried files', () => {
      /** The PDF written anew with other entries among its files. */
      async function refile(change: (files: PDFDict[], document: PDFDocument) => void): Promise<Uint8Array> {
        const document = await PDFDocument.load(issued, { updateMetadata: false });
        const files = document.context
          .enumerateIndirectObjects()
          .map(([, object]) => object)
          .filter((object): object is PDFDict => object instanceof PDFDict && object.has(PDFName.of('EF')));
        change(files, document);
        return document.save();
      }
      const named = (files: readonly PDFDict[], name: string): PDFDict =>
        files.find((file) => (file.lookup(PDFName.of('UF')) as PDFHexString).decodeText() === name)!;
      const rename =
        (name: string, keys = ['F', 'UF']) =>
        (files: readonly PDFDict[]): void => {
          const file = named(files, '1.results.yaml');
          for (const key of keys) file.set(PDFName.of(key), PDFHexString.fromText(name));
        };

      test.each<[string, (files: PDFDict[], document: PDFDocument) => void, RegExp]>([
        ['two names for one file', rename('other.yaml', ['F']), /has two names/],
        [
          'two contents for one file',
          (files) => {
            const holder = named(files, '1.results.yaml').lookup(PDFName.of('EF')) as PDFDict;
            holder.set(
              PDFName.of('UF'),
              (named(files, 'project.yaml').lookup(PDFName.of('EF')) as PDFDict).get(PDFName.of('F'))!,
            );
          },
          /has two contents/,
        ],
        ['two files of one name', rename('project.yaml'), /two of its files are named/],
        [
          'two files that differ by capitals',
          rename('Project.yaml'),
          /are one file where capitals count for nothing/,
        ],
        ['a path that leaves its folder', rename('../signers'), /is not a plain one/],
        ['an absolute path', rename('/etc/passwd'), /is not a plain one/],
        ['a drive letter', rename('C:1.results.yaml'), /is not a plain one/],
        ['the name of a device', rename('nul.yaml'), /is not a plain one/],
        ['a hidden file', rename('.git'), /is not a plain one/],
        ['a name that is painted backwards', rename('a\u202Elmay.exe'), /is not a plain one/],
        ['a second note', rename('2.md'), /not known of which note it is/],
        ['a second project', rename('sub/project.yaml'), /carries a second project/],
        ['a file that is a folder too', rename('1.md/x.yaml'), /both a file and a folder/],
        [
          'another size than it says',
          (files, { context }) => {
            const holder = named(files, '1.results.yaml').lookup(PDFName.of('EF')) as PDFDict;
            holder.set(
              PDFName.of('F'),
              context.register(context.flateStream('short', { Params: { Size: 99 } })),
            );
          },
          /has 5 bytes, but says 99/,
        ],
        [
          'a content that swells',
          (files, { context }) => {
            const holder = named(files, '1.results.yaml').lookup(PDFName.of('EF')) as PDFDict;
            const twice = deflateSync(deflateSync(Buffer.alloc(600_000_000)));
            holder.set(
              PDFName.of('F'),
              context.register(context.stream(twice, { Filter: ['FlateDecode', 'FlateDecode'] })),
            );
          },
          /too large|chain of filters/,
        ],
        [
          'more files than anybody needs',
          (_, document) => {
            const { context, catalog } = document;
            const file = context.register(context.obj({ Type: 'Filespec', F: PDFHexString.fromText('x') }));
            const names = Array.from({ length: 1100 }, (__, i) => [
              PDFHexString.fromText(`${i}`),
              file,
            ]).flat();
            catalog.set(PDFName.of('Names'), context.obj({ EmbeddedFiles: { Names: names } }));
          },
          /more than 1000/,
        ],
      ])('%s', async (name, change, reason) => {
        const pdf = await refile(change);
        const said = await note.verify(pdf, '--no-print');
        table.add(`carried files: ${name}`, pdf, said);
        expect(said).toMatch(reason);
      });
    });

    test('the table of what was tried', async () => {
      await expect(table.text('Ambiguous files')).toMatchFileSnapshot('tables/ambiguous-files.md');
    });
  },
);
