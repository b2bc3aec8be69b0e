import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { getDocument } from '../../src/pdf/pdfjs.ts';
import { EXAMPLES, printExamples } from '../support/example-prints.ts';

/** What the examples look like in print: how many pages, how full, and whether any word is one of the source's and not of a reader's. */

/** Not more pages than these. */
const MOST_PAGES: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  'hollow-wharf': { '003': 12, '004': 12, '005': 10, '006': 5 },
  'corran-fold': { '101': 11, '102': 11, '103': 10, '104': 7, '105': 7 },
  'tarn-gate': { '201': 10, '202': 11, '203': 5, '204': 9, '205': 9 },
  'ember-hill': { '401': 5, '402': 12, '403': 21, '404': 9 },
};

interface Page {
  readonly text: string;
  /** What of the height between head and foot is taken, from the top. */
  readonly fill: number;
}

/** From the lower edge of the paper to the end of the text, and from there to its head, in points. */
const FOOT = 17 * (72 / 25.4);
const HEAD = 19 * (72 / 25.4);

async function readPages(file: string): Promise<Page[]> {
  const document = await getDocument({ data: Uint8Array.from(readFileSync(file)), verbosity: 0 }).promise;
  const pages: Page[] = [];
  for (let i = 1; i <= document.numPages; i += 1) {
    const page = await document.getPage(i);
    const top = page.view[3]! - HEAD;
    const { items } = await page.getTextContent();
    const pieces = items.flatMap((item) => ('str' in item && item.str.trim() !== '' ? [item] : []));
    const lowest = Math.min(top, ...pieces.map(({ transform }) => transform[5]).filter((y) => y > FOOT));
    pages.push({
      text: items.map((item) => ('str' in item ? item.str + (item.hasEOL ? ' ' : '') : '')).join(''),
      fill: (top - lowest) / (top - FOOT),
    });
  }
  return pages;
}

/** Words that no reader of a note should meet. */
const WORDS_OF_THE_SOURCE = [
  // Names of givens and results; the words of a shell command are those of the command.
  /\b(?!time_stamp\b)[a-z]+[a-z0-9]*_[a-z0-9_]+\b/,
  /\b\d{3}\/[a-z][\w-]*\./,
  /\b(?:undefined|NaN|\[object)/,
  /\b(?:common-earth|separate-earths|across-terminals|bus-bar-chamber|explosion-\d)\b/,
  /\bprearcing i2t\b/,
  /\b(as found|as proposed) \(\1\)/,
  // The address of a page stands in the list of references alone.
  /as quoted in [^)]*\.(?:com|cn|org)\b/,
  /can be stood|relief of the arrester|[Rr]est of risk|values put in|values that hold|do not come together/,
  /root of three lies|begins to tell|before the author|in peace|cannot be had|LPL = none|[Tt]he block takes/,
];

describe.each(Object.entries(MOST_PAGES).filter(([project]) => EXAMPLES.includes(project)))(
  '%s',
  (project, most) => {
    const pages = new Map<string, Page[]>();

    beforeAll(async () => {
      const { folder, outcome } = (await printExamples([project])).get(project)!;
      expect(outcome.status, outcome.err).toBe(0);
      for (const file of readdirSync(folder).filter((name) => /^\d{3}.*\.pdf$/.test(name))) {
        pages.set(file.slice(0, 3), await readPages(join(folder, file)));
      }
    });

    test('every note is among them, with no more pages than it needs', () => {
      expect([...pages.keys()].sort()).toEqual(Object.keys(most).sort());
      for (const [note, own] of pages) expect(own.length, note).toBeLessThanOrEqual(most[note]!);
    });

    test('no page but the last of a note is less than half full', () => {
      const empty = [...pages].flatMap(([note, own]) =>
        own.slice(0, -1).flatMap(({ fill }, i) => (fill < 0.5 ? [`${note}, page ${i + 1}: ${fill}`] : [])),
      );
      expect(empty).toEqual([]);
    });

    test('no last page is nearly empty', () => {
      const empty = [...pages].flatMap(([note, own]) => {
        const { fill } = own.at(-1)!;
        return fill < 0.2 ? [`${note}: ${fill}`] : [];
      });
      expect(empty).toEqual([]);
    });

    test('no word is one of the source', () => {
      const found = [...pages].flatMap(([note, own]) =>
        own.flatMap(({ text }, i) =>
          WORDS_OF_THE_SOURCE.flatMap((pattern) => {
            const match = pattern.exec(text.replaceAll(/[\s\u00a0]+/g, ' '));
            return match ? [`${note}, page ${i + 1}: ${match[0]}`] : [];
          }),
        ),
      );
      expect(found).toEqual([]);
    });
  },
);
