import { createHash } from 'node:crypto';
import { cpSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { listFonts } from '../../src/pdf/list-fonts.ts';
import { readPageTexts } from '../../src/pdf/read-page-texts.ts';
import { type PdfContents, readPdf } from '../../src/pdf/read-pdf.ts';
import { type PrintedExample, printExamples } from '../support/example-prints.ts';
import { runCommand } from '../support/run-command.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const EXAMPLE = resolve(import.meta.dirname, '../../projects/hollow-wharf');
const folder = temporaryFolder();
const NOTES = ['003-intake-arresters', '004-main-board'] as const;

let first: PrintedExample;
const contents = new Map<string, PdfContents>();
const pages = new Map<string, string[]>();

beforeAll(async () => {
  first = (await printExamples(['hollow-wharf'])).get('hollow-wharf')!;
  for (const note of NOTES) {
    const bytes = readFileSync(join(first.folder, `${note}.pdf`));
    contents.set(note, await readPdf(bytes));
    pages.set(note, (await readPageTexts(bytes)).map(flat));
  }
});

const flat = (text: string): string => text.replace(/\s+/g, ' ');
const squeezed = (text: string): string => text.replace(/\s+/g, '');

test('the command says what it wrote', () => {
  const { status, out } = first.outcome;
  expect(status).toBe(0);
  for (const note of NOTES) expect(out).toContain(`${note}.pdf`);
});

describe.each(NOTES)('%s', (note) => {
  test('says what it is', () => {
    const { information, language, tagged } = contents.get(note)!;
    expect(information.Title).toMatch(/^LMDB-2231-EL-00[34] Surge /);
    expect(information.Author).toBe('Ilse Brandreth');
    expect(language).toBe('en-GB');
    expect(tagged).toBe(true);
  });

  test('the contents name the page on which each part begins', () => {
    const { outline } = contents.get(note)!;
    const texts = pages.get(note)!;
    const table = squeezed(texts.slice(0, 4).join(' '));
    const entries = outline.flatMap(function list(node): { title: string; page: number }[] {
      return [{ title: node.title, page: node.page! }, ...node.children.flatMap(list)];
    });
    expect(entries.length).toBeGreaterThan(20);
    const notListed = ['Finding', 'Decisive verdicts', 'Actions', 'Contents'];
    for (const [i, { title, page }] of entries.entries()) {
      // The heading stands on that page, and the contents say so: of the first page and of themselves they say nothing.
      expect(squeezed(texts[page - 1]!), title).toContain(squeezed(title));
      if (i === 0 || notListed.includes(title)) continue;
      expect(table, title).toContain(`${squeezed(title)}${page}`);
    }
  });

  test('every page carries number, revision, status, draft mark and its page of so many', () => {
    const texts = pages.get(note)!;
    texts.forEach((text, i) => {
      expect(squeezed(text)).toContain('DRAFT');
      expect(text).toContain(`Page ${i + 1} of ${texts.length}`);
      if (i > 0) expect(text).toMatch(/LMDB-2231-EL-00[34] · Revision [AB]/);
    });
  });

  test('holds the parts of a calculation document', () => {
    const whole = pages.get(note)!.join(' ');
    for (const part of [
      'Revision history',
      'Contents',
      'Decisive verdicts',
      'Purpose and scope',
      'Conclusions and recommendations',
      'Assumptions',
      'Open points',
      'Inputs',
      'Nomenclature',
      'References',
      ...(note.startsWith('003') ? ['Checker’s record'] : []), // Nobody has checked 004 yet.
      'Cautions and limits of use',
      'Software and source',
      'Prepared',
      'Checked',
      'Approved',
      'Digest of the source',
      'does not comply',
      'complies',
    ]) {
      expect(whole).toContain(part);
    }
  });

  test('lists embedded fonts of ours only', async () => {
    const fonts = await listFonts(readFileSync(join(first.folder, `${note}.pdf`)));
    expect(fonts.length).toBeGreaterThan(3);
    for (const { name, embedded } of fonts) {
      expect(embedded).toBe(true);
      expect(name).toMatch(/^(?:SourceSans3|SourceSerif4|SourceCodePro|KaTeX_)/);
    }
  });
});

// The pages of the whole project were made in this process; the built program makes those of one note alone.
test('the same source gives the same bytes, in another folder, process, time zone and language', async () => {
  const copy = join(folder, 'elsewhere', 'hollow-wharf');
  cpSync(EXAMPLE, copy, { recursive: true, filter: (path) => !/\.(?:pdf|html)$/.test(path) });
  const note = NOTES[0];
  const { status, out } = await runCommand(['compile', join(copy, `${note}.md`), '--html'], {
    env: { TZ: 'Asia/Kolkata', LANG: 'hi_IN.UTF-8', LC_ALL: 'hi_IN.UTF-8' },
  });
  expect(status).toBe(0);
  expect(out).toContain(`wrote ${join(copy, `${note}.pdf`)}`);
  const digest = (path: string) => createHash('sha256').update(readFileSync(path)).digest('hex');
  for (const name of [`${note}.html`, `${note}.pdf`]) {
    expect(digest(join(copy, name)), name).toBe(digest(join(first.folder, name)));
  }
  expect(readdirSync(copy).filter((name) => name.includes('.tmp-'))).toEqual([]);
});
