import { describe, expect, it } from 'vitest';
import { Collector } from '../../../src/diagnostics/collector.ts';
import type { EvaluatedLimiting } from '../../../src/engine/definition/evaluated.ts';
import { displaySi } from '../../../src/quantity/display.ts';
import { unit } from '../../../src/quantity/unit.ts';
import { writeScheduleResults } from '../../../src/review/schedule/write-schedule-results.ts';
import { readCsv } from '../../../src/source/csv/read-csv.ts';
import { makeSchedule } from '../../page/fixtures/build-schedule.ts';

const LEADS = [
  { id: 'DB-07', lead: 0.81, cautions: ['long-lead', 'no-drawing'] },
  { id: 'DB-12', lead: 1 / 3 },
  { id: 'DB-13', lead: undefined },
];

function readBack(text: string) {
  const collector = new Collector();
  const table = readCsv('results.csv', text, collector)!;
  expect(collector.list()).toEqual([]);
  const names = table.header.map((cell) => cell.text);
  return table.rows.map(({ cells }) => Object.fromEntries(cells.map((cell, i) => [names[i]!, cell.text])));
}

describe('the table of results of a schedule', () => {
  it('holds a row with what was given, results, verdicts and margins, units in the header', () => {
    const [first, second, third] = readBack(writeScheduleResults(makeSchedule(LEADS), undefined));
    expect(first).toEqual({
      line: '2',
      board: 'DB-07',
      'lead [m]': '0.81',
      'drop [kV]': '0.81',
      verdict: 'does not comply',
      // (0.5 - 0.81) / 0.5
      'margin [%]': '-62',
      'governing check': 'lead length',
      'lead length: verdict': 'does not comply',
      'lead length: value [m]': '0.81',
      'lead length: limit [m]': '0.5',
      'lead: at most [m]': '0.5',
      cautions: 'long-lead; no-drawing',
    });
    // A third of a metre: (1/2 - 1/3) / (1/2) is a third.
    expect(second).toMatchObject({
      verdict: 'complies',
      'margin [%]': '33.3333',
      'lead [m]': '0.333333333333333',
    });
    expect(third).toMatchObject({ verdict: 'cannot be judged', 'margin [%]': '', 'lead [m]': '' });
  });

  it('has a limiting value of each row in the unit of the column, whatever unit it is printed in', () => {
    const schedule = makeSchedule(LEADS.slice(0, 2));
    const inMillimetres = (one: EvaluatedLimiting): EvaluatedLimiting => ({
      ...one,
      result: { type: 'number', si: 0.47, unit: unit('m'), displayed: displaySi(0.47, unit('mm')) },
    });
    const rows = schedule.rows.map((row, i) =>
      i === 1 ? { ...row, limiting: row.limiting.map(inMillimetres) } : row,
    );
    const limits = readBack(writeScheduleResults({ ...schedule, rows }, undefined)).map(
      (row) => row['lead: at most [m]'],
    );
    expect(limits).toEqual(['0.5', '0.47']);
  });

  it('is read back with the same numbers, whatever parts its cells', () => {
    for (const separator of [',', ';', '\t'] as const) {
      for (const decimalCommas of [false, true]) {
        const rows = readBack(
          writeScheduleResults(makeSchedule(LEADS, { separator, decimalCommas }), undefined),
        );
        const numbers = rows.map((row) => Number(row['lead length: value [m]']!.replace(',', '.')));
        expect(numbers[0]).toBe(0.81);
        expect(numbers[1]).toBeCloseTo(1 / 3, 8);
        expect(rows[0]!['margin [%]']).toBe('-62');
        if (decimalCommas) expect(rows[0]!['lead [m]']).toBe('0,81');
      }
    }
  });

  it('is a text that office programs take for UTF-8, with lines as git keeps them', () => {
    const text = writeScheduleResults(makeSchedule([{ id: '配電盤 Ω', lead: 0.2 }]), undefined);
    expect(text.startsWith('\uFEFFline,board,')).toBe(true);
    expect(text).not.toContain('\r');
    expect(readBack(text)[0]!['board']).toBe('配電盤 Ω');
  });

  it.each(['=1+1', '+41', '-cmd', '@sum(A1)', '\t=1', '=HYPERLINK("http://x","y")'])(
    'has no formula: %j',
    (id) => {
      const text = writeScheduleResults(makeSchedule([{ id, lead: 0.2 }]), undefined);
      expect(readBack(text)[0]!['board']).toBe(`'${id.trim()}`);
      // Negative numbers stay numbers.
      expect(text).not.toContain("'0.2");
    },
  );

  it('parts neither cells nor rows by what stands in a name', () => {
    const id = 'Board "A"; ground floor,\nwest';
    const text = writeScheduleResults(makeSchedule([{ id, lead: 0.2 }], { separator: ';' }), undefined);
    expect(readBack(text)[0]!['board']).toBe('Board "A"; ground floor, west');
  });

  it('keeps the text of a number that moved by the noise of computing alone', () => {
    const before = writeScheduleResults(makeSchedule([{ id: 'DB-1', lead: 0.3 }]), undefined);
    const other = before.replace(/,0\.3,complies/, ',0.300000001,complies');
    expect(other).not.toBe(before);
    expect(writeScheduleResults(makeSchedule([{ id: 'DB-1', lead: 0.3 }]), other)).toBe(other);
    const moved = writeScheduleResults(makeSchedule([{ id: 'DB-1', lead: 0.30001 }]), other);
    expect(readBack(moved)[0]!['drop [kV]']).toBe('0.30001');
  });
});
