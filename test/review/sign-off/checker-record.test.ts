import { expect, test } from 'vitest';
import { Collector } from '../../../src/diagnostics/collector.ts';
import { readCheckerRecord } from '../../../src/review/sign-off/checker-record.ts';
import { told } from '../../support/told.ts';
import { ARRESTER, calcBlock, evaluateText } from '../evaluate-text.ts';

const note = evaluateText(calcBlock('intake', 'arrester-connection', ARRESTER));

function read(text: string) {
  const collector = new Collector();
  const record = readCheckerRecord('check.yaml', text, note, collector);
  return { record, faults: told(collector) };
}

const printed = (): { si: number; print: string } => {
  const step = note.blocks[0]!.evaluated.steps.find(({ name }) => name === 'terminal_voltage')!;
  if (step.result.type !== 'number') throw new Error('no number');
  return { si: step.result.si, print: step.result.displayed.print };
};

test('a record in full', () => {
  const { record, faults } = read(`method: alternative-calculation
extent: all calculations
remark: 'with "quotes"'
comments:
  - { comment: Which lead?, answer: the longer one, closed: "2031-05-14" }
`);
  expect(faults).toEqual([]);
  expect(record).toEqual({
    method: 'alternative-calculation',
    extent: 'all calculations',
    remark: 'with "quotes"',
    independent: [],
    comments: [{ comment: 'Which lead?', answer: 'the longer one', closed: '2031-05-14' }],
  });
});

test('an independent value is compared with that of the note, in any unit of its dimension', () => {
  const { si, print } = printed();
  // The voltage of the arrester is 33 kV, and 9.3 m of leads at 10 kA/us and 1 uH/m take 93 kV: 126 kV by hand.
  expect(si).toBeCloseTo(126e3, -3);
  // 4 and 26 of 126 are 3.17 % and 20.6 %.
  for (const [found, difference] of [
    ['130 kV', '+3.2 %'],
    ['126000 V', '0 %'],
    ['0.1 MV', '−21 %'],
  ] as const) {
    const { record, faults } = read(
      `independent:\n  - { value: intake.terminal_voltage, found: ${found} }\n`,
    );
    expect(faults).toEqual([]);
    expect(record!.independent).toEqual([
      { value: 'intake.terminal_voltage', here: print, found, difference },
    ]);
  }
});

test('the same value found again differs by nothing, whatever the last bits say', () => {
  const { si } = printed();
  for (const factor of [1, 1 + 2 ** -50, 1 - 2 ** -50]) {
    const found = `${si * factor} V`;
    const { record } = read(`independent:\n  - { value: intake.terminal_voltage, found: ${found} }\n`);
    expect(record!.independent[0]!.difference).toBe('0 %');
  }
});

test.each([
  ['an open comment', 'comments:\n  - { comment: Why? }\n', 2, 'this comment is not closed'],
  ['a comment whose closing is left empty', 'comments:\n  - comment: Why?\n    closed:\n', 2, 'not closed'],
  [
    'a block that the note has not',
    'independent:\n  - { value: outlet.x, found: 1 kV }\n',
    2,
    "no block 'outlet'",
  ],
  [
    'a result that the block has not',
    'independent:\n  - { value: intake.x, found: 1 kV }\n',
    2,
    "no result 'x'",
  ],
  [
    'another dimension',
    'independent:\n  - { value: intake.terminal_voltage, found: 1 m }\n',
    2,
    'another dimension',
  ],
  [
    'no quantity',
    'independent:\n  - { value: intake.terminal_voltage, found: much }\n',
    2,
    "'much' is no quantity",
  ],
  ['a value without what was found', 'independent:\n  - { value: intake.terminal_voltage }\n', 2, "'found'"],
  ['a method that is not known', 'extent: all\nmethod: by-eye\n', 2, 'by-eye'],
  ['a key that is not known', 'extend: all\n', 1, "'extend'"],
  ['a list', '- a\n', 1, 'mapping'],
  ['marks of a merge', '# a\n<<<<<<< a\n=======\n>>>>>>> b\n', 2, 'merge'],
  ['no YAML', 'extent: "all\n', 1, ''],
])('%s is a fault at its line', (_, text, line, word) => {
  const { faults } = read(text);
  expect(faults.map(({ message }) => message).join('\n')).toContain(word);
  expect(faults[0]!.severity).toBe('error');
  expect(faults[0]!.place).toMatchObject({ file: 'check.yaml', line });
});
