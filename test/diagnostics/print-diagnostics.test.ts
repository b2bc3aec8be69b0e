import { expect, test } from 'vitest';
import { type Diagnostic, diagnose } from '../../src/diagnostics/diagnostic.ts';
import { printDiagnostics } from '../../src/diagnostics/print-diagnostics.ts';
import { relatedNote } from '../../src/diagnostics/related-note.ts';
import { wordDiagnostic } from '../../src/diagnostics/word-diagnostic.ts';
import { oneText, placeAt } from '../support/told.ts';

function check(
  lines: readonly string[],
  place: { line: number; column: number; length: number },
  expected: readonly string[],
  change: (d: Diagnostic) => Diagnostic = (d) => d,
): void {
  const text = lines.join('\n');
  const diagnostic = diagnose(
    'error',
    'wrong-dimension',
    placeAt(text, { file: '003-intake.md', ...place }),
    { name: 'line_lead', expected: 'a length', text: '1.8 kV', actual: 'a voltage', example: '1.8 m' },
  );
  const printed = printDiagnostics([change(diagnostic)], oneText(text));
  expect(printed.split('\n')).toEqual(expected);
}

const HEAD = "003-intake.md:2:14: error: 'line_lead' is a length; '1.8 kV' is a voltage";
const HINT = '  write a length, for example 1.8 m';

test('the place, the message, the marked line and what to write instead', () => {
  check(['given:', '  line_lead: 1.8 kV'], { line: 2, column: 14, length: 6 }, [
    HEAD,
    '    line_lead: 1.8 kV',
    '               ^^^^^^',
    HINT,
  ]);
});

test('indentation is left out, however deep', () => {
  check(['', '             1.8 kV'], { line: 2, column: 14, length: 6 }, [
    HEAD,
    '    1.8 kV',
    '    ^^^^^^',
    HINT,
  ]);
});

test('tabs before the fault stay tabs, so that the mark stands below it', () => {
  check(['', 'line_lead:\t\t\t1.8 kV'], { line: 2, column: 14, length: 6 }, [
    HEAD,
    '    line_lead:\t\t\t1.8 kV',
    '              \t\t\t^^^^^^',
    HINT,
  ]);
});

test('a mark ends with its line', () => {
  check(['', '  line_lead: 1.8 kV'], { line: 2, column: 14, length: 60 }, [
    HEAD,
    '    line_lead: 1.8 kV',
    '               ^^^^^^',
    HINT,
  ]);
});

test('a place behind the end of the line still has a mark', () => {
  check(['', '  line_lead:'], { line: 2, column: 14, length: 1 }, [
    HEAD,
    '    line_lead:',
    '               ^',
    HINT,
  ]);
});

test('a long line is quoted around the fault', () => {
  const line = `${'x'.repeat(300)}1.8 kV${'y'.repeat(300)}`;
  check([line], { line: 1, column: 301, length: 6 }, [
    HEAD.replace('2:14', '1:301'),
    `    ${'x'.repeat(20)}1.8 kV${'y'.repeat(74)}`,
    `    ${' '.repeat(20)}^^^^^^`,
    HINT,
  ]);
});

test('an empty line and an unreadable file are not quoted', () => {
  check(['', '   '], { line: 2, column: 14, length: 1 }, [HEAD, HINT]);
  check([''], { line: 1, column: 1, length: 1 }, [HEAD.replace('2:14', '1:1'), HINT]);
  const diagnostic = diagnose('caution', 'unknown-symbol', { file: 'a', start: 0, end: 1 }, { name: 'x' });
  expect(printDiagnostics([diagnostic], oneText(undefined))).toBe(
    "a:1:1: caution: 'x' is not declared\n  declare it under 'given', or as a step before this one",
  );
});

test('related places are quoted below, before the hint', () => {
  check(
    ['a: 1 kV', 'line_lead: 1.8 kV'],
    { line: 2, column: 14, length: 6 },
    [
      HEAD,
      '    line_lead: 1.8 kV',
      '                 ^^^^',
      "  003-intake.md:1:1: taken as 'lead'",
      '    a: 1 kV',
      '    ^',
      HINT,
    ],
    (d) => ({
      ...d,
      related: [
        {
          place: { file: '003-intake.md', start: 0, end: 1 },
          note: relatedNote('taken-as', { name: 'lead' }),
        },
      ],
    }),
  );
});

test('lines end as they do on any system', () => {
  check(['', '  line_lead: 1.8 kV\r'], { line: 2, column: 14, length: 6 }, [
    HEAD,
    '    line_lead: 1.8 kV',
    '               ^^^^^^',
    HINT,
  ]);
});

test('words are emphasised where a terminal is asked for', () => {
  const diagnostic = diagnose('error', 'unknown-symbol', { file: 'a', start: 0, end: 1 }, { name: 'x' });
  const printed = printDiagnostics([diagnostic], oneText('x + 1'), (text, as) => `<${as}>${text}</${as}>`);
  expect(printed).toBe(
    "a:1:1: <error>error:</error> 'x' is not declared\n    x + 1\n    <mark>^</mark>\n  declare it under 'given', or as a step before this one",
  );
});

test('control characters are shown and not sent to the terminal', () => {
  const text = 'a: \u001b[2J\u202e\u0007\u009b b';
  const diagnostic = diagnose(
    'error',
    'not-a-quantity',
    { file: 'a\u001b.md', start: 3, end: 12 },
    { text: text.slice(3), example: '1 m\n' },
  );
  expect(printDiagnostics([diagnostic], oneText(text)).split('\n')).toEqual([
    "a\u241b.md:1:4: error: '\u241b[2J\ufffd\u2407\ufffd b' is not a quantity",
    '    a: \u241b[2J\ufffd\u2407\ufffd b',
    '       ^^^^^^^^^',
    '  write a number and a unit, for example 1 m\u240a',
  ]);
});

test('a long text is quoted by its beginning', () => {
  const diagnostic = diagnose(
    'error',
    'not-a-quantity',
    { file: 'a.md', start: 0, end: 1 },
    { text: '9'.repeat(5000), example: '1 m' },
  );
  expect(wordDiagnostic(diagnostic).message).toBe(`'${'9'.repeat(199)}…' is not a quantity`);
});
