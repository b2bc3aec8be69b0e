import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Collector } from '../../../src/diagnostics/collector.ts';
import { csvMessages } from '../../../src/diagnostics/messages/csv.ts';
import { SEPARATORS } from '../../../src/source/csv/csv-table.ts';
import { MOST_COLUMNS, MOST_ROWS, readCsv } from '../../../src/source/csv/read-csv.ts';
import { writeCsv } from '../../../src/source/csv/write-csv.ts';
import { trials } from '../../support/at-length.ts';
import { told } from '../../support/told.ts';

const FILE = 'data/boards.csv';

function read(text: string) {
  const collector = new Collector();
  const table = readCsv(FILE, text, collector);
  return { table, found: told(collector) };
}

/** 'code line:column' of each fault. */
function faultsOf(text: string): string[] {
  return read(text).found.map(({ code, place }) => `${code} ${place.line}:${place.column}`);
}

describe('tables as office programs write them', () => {
  // Cells hold separators, quotes, ends of lines and letters of several bytes; what they begin and end with is no blank.
  const cell = fc
    .array(fc.constantFrom('a', 'Ω', '😀', '"', ',', ';', '\t', '\n', '\r\n', ' ', '1', '.', 'é'), {
      maxLength: 6,
    })
    .map((parts) => parts.join('').trim());
  const table = fc.integer({ min: 2, max: 4 }).chain((width) =>
    fc.record({
      header: fc.constant(Array.from({ length: width }, (_, i) => `column ${i + 1}`)),
      rows: fc.array(fc.tuple(fc.constant('x'), ...Array.from({ length: width - 1 }, () => cell)), {
        minLength: 1,
        maxLength: 5,
      }),
    }),
  );

  test('what is written is read, whatever the dialect, and every cell stands where its place says', () => {
    fc.assert(
      fc.property(
        table,
        fc.constantFrom(...SEPARATORS),
        fc.constantFrom('\r\n', '\n', '\r'),
        fc.boolean(),
        ({ header, rows }, separator, lineEnd, mark) => {
          const lines = [header, ...rows].map((cells) => writeCsv([cells], separator).replace(/\r\n$/, ''));
          const text = `${mark ? '\uFEFF' : ''}${lines.join(lineEnd)}${lineEnd}`;
          const content = text.replace(/^\uFEFF/, '');
          const found = read(text);
          expect(found.found).toEqual([]);
          expect(found.table!.separator).toBe(separator);
          expect(found.table!.header.map((one) => one.text)).toEqual(header);
          expect(found.table!.rows.map(({ cells }) => cells.map((one) => one.text))).toEqual(rows);
          for (const { cells, line } of found.table!.rows) {
            const before = content.slice(0, cells[0]!.start);
            expect(line).toBe(before.split(/\r\n|\n|\r/).length);
            for (const { text: value, start, end } of cells) {
              const written = content.slice(start, end);
              const plain = written.startsWith('"') ? written.slice(1, -1).replaceAll('""', '"') : written;
              expect(plain.trim()).toBe(value);
            }
          }
        },
      ),
      { numRuns: 400 },
    );
  });

  test('blank rows and columns at the end do not count', () => {
    const { table, found } = read('board;lead a;;\r\nDB-1;1,5;;\r\n;;;\r\n\r\n');
    expect(found).toEqual([]);
    expect(table!.header.map(({ text }) => text)).toEqual(['board', 'lead a']);
    expect(table!.rows.map(({ cells }) => cells.map(({ text }) => text))).toEqual([['DB-1', '1,5']]);
  });

  test('a comma in the header or in every cell does not take the place of semicolons', () => {
    const { table } = read('length, a;length, b\n1,5;2,5\n');
    expect(table!.separator).toBe(';');
    expect(table!.rows[0]!.cells.map(({ text }) => text)).toEqual(['1,5', '2,5']);
  });

  test('one column needs no separator', () => {
    expect(read('board\nDB-1\nDB-2\n').table!.rows).toHaveLength(2);
  });
});

describe('faults of a table, each at its row and column', () => {
  const cases: Readonly<Record<string, readonly string[]>> = {
    '': ['csv-empty 1:1'],
    ';;\r\n\r\n': ['csv-empty 1:1'],
    'a;b\r\n': ['csv-without-rows 1:1'],
    'a;b\r\n1;2\r\n3;\u00004\r\n': ['csv-nul 3:3'],
    'a;b\n1;"2\n3;4\n': ['csv-open-quote 2:3'],
    'a;b\n1;x"y\n': ['csv-stray-quote 2:4'],
    'a;b\n1;"x"y\n': ['csv-stray-quote 2:5'],
    'a;;b\n1;2;3\n': ['csv-nameless-column 2:3'],
    'a;b;a\n1;2;3\n': ['csv-doubled-column 1:5'],
    'a;b\n1;2\n;\n3;4\n': ['csv-blank-row 3:1'],
    'a;b\n1\n3;4\n5;6\n': ['csv-short-row 2:1'],
    'a,b,c,d\n7,8\n': ['csv-short-row 2:1'],
    'a\tb\tc\n1,5\n2,5\n': ['csv-short-row 2:1', 'csv-short-row 3:1'],
    'a;b\n1;2;3\n3;4\n5;6\n': ['csv-long-row 2:5'],
    'a;b;a\n1;2;3\n\n1;2;3;4\n1;2;3\n1;2;3\n9;"': [
      'csv-doubled-column 1:5',
      'csv-blank-row 3:1',
      'csv-long-row 4:7',
      'csv-open-quote 7:3',
    ],
    '<<<<<<< ours\na;b\n=======\na;c\n>>>>>>> theirs\n': ['merge-conflict 1:1'],
  };
  test.each(Object.entries(cases))('%j', (text, faults) => {
    expect(faultsOf(text)).toEqual(faults);
  });

  test('too long, too wide', () => {
    expect(faultsOf(`a,b\n${'1,2\n'.repeat(MOST_ROWS + 1)}`)).toEqual([`csv-too-long ${MOST_ROWS + 2}:1`]);
    const wide = Array.from({ length: MOST_COLUMNS + 1 }, (_, i) => `c${i}`).join(';');
    expect(faultsOf(`${wide}\n${wide}\n`)).toEqual(['csv-too-wide 1:1']);
  });

  test('every message of tables is provoked here, or where files are read', () => {
    const seen = new Set(
      Object.values(cases)
        .flat()
        .map((one) => one.split(' ')[0]),
    );
    const elsewhere = ['csv-too-long', 'csv-too-wide', 'csv-not-utf8'];
    expect(Object.keys(csvMessages).filter((code) => !seen.has(code) && !elsewhere.includes(code))).toEqual(
      [],
    );
  });
});

test('damaged tables: a table or a fault with its place, never anything else', () => {
  const sound = 'board;lead a;"Up, kV"\r\nDB-1;1,5;"2,5"\r\n"DB\n2";0,5;1,2\r\nDB-3;0,1;1\r\n';
  const damage = fc.record({
    at: fc.nat({ max: sound.length }),
    length: fc.nat({ max: 6 }),
    instead: fc.array(fc.constantFrom('"', ';', ',', '\t', '\r', '\n', '\0', '\uFEFF', '😀', '\uD800', 'x'), {
      maxLength: 4,
    }),
  });
  fc.assert(
    fc.property(fc.array(damage, { minLength: 1, maxLength: 3 }), (damages) => {
      let text = sound;
      for (const { at, length, instead } of damages) {
        text = text.slice(0, at) + instead.join('') + text.slice(at + length);
      }
      const { table, found } = read(text);
      expect(table === undefined).toBe(found.length > 0);
      for (const { cells } of table?.rows ?? []) expect(cells).toHaveLength(table!.header.length);
    }),
    { numRuns: trials(500, 10_000) },
  );
});
