import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Collector } from '../../../src/diagnostics/collector.ts';
import { sha256 } from '../../../src/review/digest-sources.ts';
import { METHODS, ROLES } from '../../../src/review/sign-off/roles.ts';
import { appendSignOff, readSignOffFile, stampedBytes } from '../../../src/review/sign-off/sign-off-file.ts';
import { type Statement, writeStatement } from '../../../src/review/sign-off/statement.ts';
import { withoutUndefined } from '../../../src/source/without-undefined.ts';
import { told } from '../../support/told.ts';

const ARMOUR = '-----BEGIN SSH SIGNATURE-----\nU1NIU0lH\n-----END SSH SIGNATURE-----\n';

/** What anybody may write, but for blanks at both ends: the reader takes them off. */
const words = fc
  .oneof(
    fc.string({ unit: 'grapheme', maxLength: 60 }),
    fc.string({ unit: 'binary', maxLength: 20 }),
    fc.constantFrom(
      ...['"', "'", 'say "no"', 'two\nlines', '\ttab\t', '{{ a.b }}', '{ a: b }', '[x]', '!ref a.b', '&a *b'],
      ...[
        '#',
        'a # b',
        ': ',
        'a: b',
        'a:',
        '- a',
        '?',
        '---',
        '...',
        '| x',
        '>',
        '%YAML',
        '@',
        '`',
        '\\n',
        'on',
      ],
      ...[
        '1.2',
        '1_000',
        '0x1f',
        '2031-05-14',
        'null',
        '~',
        'Ω µ — “q”',
        'a\u2028b',
        '\u0085x',
        'e\u0301',
        '🌩',
      ],
      ...['<<<<<<< HEAD', 'a\r\nb', '\u007f', '\ufeffa', '=', '<<'],
    ),
  )
  .map((text) => text.trim())
  .filter((text) => text !== '');

const day = fc.constantFrom('2031-05-14', '2032-02-29', '1999-12-31');
const maybe = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined });
const digest = words.map(sha256);

const statements: fc.Arbitrary<Statement> = fc
  .record({
    note: words,
    file: words,
    revision: words,
    role: fc.constantFrom(...ROLES),
    by: words,
    name: words,
    designation: maybe(words),
    registration: maybe(words),
    date: day,
    method: maybe(fc.constantFrom(...METHODS)),
    extent: maybe(words),
    independent: fc.array(
      fc
        .record({ value: words, here: words, found: words, difference: words, remark: maybe(words) })
        .map(withoutUndefined),
      { maxLength: 3 },
    ),
    comments: fc.array(
      fc.record({ comment: words, answer: maybe(words), closed: words }).map(withoutUndefined),
      { maxLength: 3 },
    ),
    remark: maybe(words),
    sourceSha256: digest,
    resultsSha256: digest,
    follows: digest,
    software: words,
  })
  .map((statement) => withoutUndefined(statement) as Statement);

function read(text: string) {
  const collector = new Collector();
  return { records: readSignOffFile('1.signoff.yaml', text, collector), faults: told(collector) };
}

describe('a record of any texts', () => {
  test('is read back as it was written, byte for byte what was signed', () => {
    fc.assert(
      fc.property(statements, fc.boolean(), (statement, signed) => {
        const text = writeStatement(statement);
        const { records, faults } = read(appendSignOff(undefined, text, signed ? ARMOUR : undefined));
        expect(faults).toEqual([]);
        expect(records).toHaveLength(1);
        expect(records![0]!.text).toBe(text);
        expect(records![0]!.sha256).toBe(sha256(text));
        expect(records![0]!.statement).toEqual(statement);
        expect(records![0]!.signature?.trim()).toBe(signed ? ARMOUR.trim() : undefined);
      }),
      { numRuns: 300 },
    );
  });

  test('leaves the bytes of those before it, and both are read', () => {
    fc.assert(
      fc.property(fc.array(statements, { minLength: 2, maxLength: 4 }), (several) => {
        let file: string | undefined;
        for (const statement of several) {
          const longer = appendSignOff(file, writeStatement(statement), ARMOUR);
          expect(longer.startsWith(file ?? '# Sign-off records')).toBe(true);
          file = longer;
        }
        expect(read(file!).records?.map(({ statement }) => statement)).toEqual(several);
      }),
      { numRuns: 40 },
    );
  });

  test('is one fact a line, and what nobody sees is spelt', () => {
    fc.assert(
      fc.property(statements, (statement) => {
        const text = writeStatement(statement);
        // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
        expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u2028\u2029]/);
        for (const line of text.trimEnd().split('\n')) expect(line).toMatch(/^ *(?:- )?\w+:/);
      }),
      { numRuns: 100 },
    );
  });
});

const PLAIN: Statement = {
  note: 'N-1',
  file: '001.md',
  revision: 'A',
  role: 'prepared',
  by: 'adams',
  name: 'A. Adams',
  date: '2031-05-14',
  independent: [],
  comments: [],
  sourceSha256: '00',
  resultsSha256: '01',
  follows: 'none',
  software: 'surgenote 1',
};

describe('a file', () => {
  const one = appendSignOff(undefined, writeStatement(PLAIN));

  test('of another editor: ends of lines, a last line without its end, comments between', () => {
    expect(read(one.replaceAll('\n', '\r\n')).records?.[0]?.text).toBe(writeStatement(PLAIN));
    const two = appendSignOff(one.trimEnd(), writeStatement({ ...PLAIN, role: 'checked' }));
    expect(two.startsWith(one)).toBe(true);
    expect(read(two.replace('\n- statement', '\n# between\n- statement')).records).toHaveLength(2);
  });

  test('with a time stamp: what it is over is what common tools take out, and the chain leaves it out', () => {
    const token = Buffer.alloc(200, 7).toString('base64');
    const stamped = appendSignOff(undefined, writeStatement(PLAIN), ARMOUR, token);
    const [record] = read(stamped).records!;
    expect(record!.timeStamp).toBe(token);
    expect(Buffer.from(stampedBytes(record!)).toString()).toBe(ARMOUR);
    expect(stamped.match(/^ {4}[A-Za-z0-9+/=]{71,}$/m)).toBeNull();
    const bare = read(appendSignOff(undefined, writeStatement(PLAIN))).records![0]!;
    expect(bare.timeStamp).toBeUndefined();
    expect(Buffer.from(stampedBytes(bare)).toString()).toBe(writeStatement(PLAIN));
    // A stamp that is put in later changes nothing of what was signed.
    expect(record!.text).toBe(bare.text);
  });

  test('that is empty or holds its head only has no records, and may be added to', () => {
    for (const empty of ['', '\n', '# nothing yet\n']) expect(read(empty).records).toEqual([]);
    expect(appendSignOff('\n', writeStatement(PLAIN))).toBe(one);
    expect(read(appendSignOff('# mine\n', writeStatement(PLAIN))).records).toHaveLength(1);
  });

  test.each([
    ['the head of another file', 'note: 1\n', 1, 'list'],
    [
      'a key that is not known',
      one.replace('  sha256', '  more: 1\n  sha256'),
      one.split('\n').length - 1,
      'more',
    ],
    ['no digest', one.replace(/^ {2}sha256.*\n/m, ''), 2, 'sha256'],
    ['another form', one.replace('sign-off 3', 'sign-off 4'), 2, 'form'],
    ['a statement without its name', one.replace('    name: A. Adams\n', ''), 2, 'name'],
    ['another role', one.replace('role: prepared', 'role: looked at'), 2, 'role'],
    ['no such day', one.replace('2031-05-14', '2031-02-30'), 2, '2031-02-30'],
    ['a statement that is no YAML', one.replace('role: prepared', 'role: "prepared'), 2, 'statement'],
    ['marks of a merge', `${one}<<<<<<< HEAD\n=======\n>>>>>>> other\n`, one.split('\n').length, 'merge'],
  ])('with %s is at fault there', (_, text, line, word) => {
    const { records, faults } = read(text);
    expect(records).toBeUndefined();
    expect(faults.map(({ message }) => message).join('\n')).toContain(word);
    expect(faults[0]!.place).toMatchObject({ file: '1.signoff.yaml', line });
  });
});
