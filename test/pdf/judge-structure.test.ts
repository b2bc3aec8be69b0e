import { deflateSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { judgeStructure } from '../../src/pdf/judge-structure.ts';

const HEAD = '%PDF-1.7\n';

/** A file with objects one behind the other and a table of them. */
function write(objects: readonly string[], { places }: { readonly places?: readonly number[] } = {}): Buffer {
  let text = HEAD;
  const own = objects.map((object) => {
    const at = text.length;
    text += object;
    return at;
  });
  const rows = (places ?? own).map((place) => `${String(place).padStart(10, '0')} 00000 n \n`);
  const end = `trailer\n<< /Root 1 0 R >>\nstartxref\n${text.length}\n%%EOF\n`;
  return Buffer.from(`${text}xref\n1 ${rows.length}\n${rows.join('')}${end}`, 'latin1');
}

/** A file whose cross-references are a stream with so many rows of seven noughts. */
function writeRows(rows: number): Buffer {
  const data = deflateSync(Buffer.alloc(7 * rows)).toString('latin1');
  const stream = `/Type /XRef /W [1 4 2] /Size ${rows} /Root 1 0 R /Filter /FlateDecode /Length ${data.length}`;
  return Buffer.from(
    `${HEAD}1 0 obj << ${stream} >>\nstream\n${data}\nendstream endobj\nstartxref\n${HEAD.length}\n%%EOF\n`,
    'latin1',
  );
}

test('objects, streams, strings and comments as the format has them', () => {
  const stream = '3 0 obj << /Length 4 0 R >>\nstream\n2 0 obj << >> endobj\nendstream\nendobj\n';
  const objects = [
    '1 0 obj <</Type/Catalog/Names[(a(b)\\)c)<48 69>]/A true>> endobj % written by hand\n',
    '2 0 obj [1 0 R -1.5 null /a#20b] endobj\n',
    stream,
    '4 0 obj 20 endobj\n',
  ];
  expect(judgeStructure(write(objects))).toBeUndefined();
  expect(judgeStructure(writeRows(3))).toBeUndefined();
});

test('an object that holds another is one of two things', () => {
  const nested = ['1 0 obj (', '2 0 obj (', '3 0 obj (', '))) endobj\n'];
  const places = nested.slice(0, 3).map((_, i) => HEAD.length + nested.slice(0, i).join('').length);
  expect(judgeStructure(write(nested, { places }))).toBe('a string does not end');
});

test('more objects than any note has are not looked at', () => {
  expect(judgeStructure(writeRows(4_000_001))).toMatch(/more than 4000000 objects/);
});

test('values that are nested without end are given up', () => {
  expect(judgeStructure(write([`1 0 obj ${'['.repeat(5000)}${']'.repeat(5000)} endobj\n`]))).toMatch(
    /nested too deep/,
  );
});
