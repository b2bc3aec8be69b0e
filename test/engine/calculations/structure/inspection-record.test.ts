import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const run = (given: CaseGiven) => runCase('inspection-record', { object: 'lps-iii-iv', ...given });

describe('inspection-record', () => {
  test.each([
    ['electrical-installation', 'no', 2027, 11, 2031, 11],
    ['dwelling', 'yes', 2027, 1, 2037, 1],
    ['lps-i-ii', 'no', 2027, 12, 2029, 12],
    ['lps-iii-iv', 'yes', 2027, 2, 2028, 2],
  ])('%s, critical %s: %d/%d leads to %d/%d', (object, critical, year, month, dueYear, dueMonth) => {
    const found = run({ object, critical, last_year: `${year}`, last_month: `${month}` });
    expect([found.number('due_year'), found.number('due_month')]).toEqual([dueYear, dueMonth]);
  });

  // Independent: the calendar of the language.
  test('a shorter interval of the authority counts, a longer one does not, over the turn of the year', () => {
    for (const months of [1, 5, 7, 11, 30]) {
      for (const month of [1, 6, 12]) {
        const found = run({
          critical: 'no',
          agreed_interval: `${months / 12 + 1e-6} year`,
          last_year: '2033',
          last_month: `${month}`,
        });
        const due = new Date(Date.UTC(2033, month - 1 + months, 1));
        expect([found.number('due_year'), found.number('due_month')]).toEqual([
          due.getUTCFullYear(),
          due.getUTCMonth() + 1,
        ]);
      }
    }
    const long = run({ critical: 'no', agreed_interval: '9 year', last_year: '2033', last_month: '5' });
    expect(long.number('due_year')).toBe(2037);
  });

  test('in the month in which it is due an inspection is in time, in the next it is not', () => {
    const at = (judged_month: string) =>
      run({
        last_year: '2030',
        last_month: '6',
        judged_year: '2031',
        judged_month,
      }).verdict('in_time');
    expect(at('6')).toBe('met');
    expect(at('7')).toBe('not-met');
    expect(
      run({ judged_year: '2031', judged_month: '6', connections: [{ measured: '0.1 ohm' }] }).verdict(
        'in_time',
      ),
    ).toBe('cannot-be-judged');
  });

  test('the worst of each list decides, with the uncertainty against it', () => {
    const earths: CaseGiven = {
      earth_resistances: [
        { measured: '3 ohm', required: '10 ohm' },
        { measured: '1.9 ohm', required: '2 ohm' },
      ],
    };
    expect(run(earths).verdict('earth_resistances')).toBe('complies');
    expect(run({ ...earths, uncertainty: '6 %' }).verdict('earth_resistances')).toBe('does-not-comply');
    expect(run({ connections: [{ measured: '0.21 ohm' }] }).verdict('connections')).toBe('does-not-comply');
    expect(run({ connections: [{ measured: '0.21 ohm', required: '0.3 ohm' }] }).verdict('connections')).toBe(
      'complies',
    );
    const gaps: CaseGiven = { separations: [{ measured: '0.61 m', required: '0.6 m' }] };
    expect(run(gaps).verdict('separations')).toBe('complies');
    expect(run({ ...gaps, uncertainty: '2 %' }).verdict('separations')).toBe('does-not-comply');
    expect(run(gaps).verdict('connections')).toBeUndefined();
  });
});
