import { describe, expect, it } from 'vitest';
import { chooseRows } from '../../../src/page/schedule/choose-rows.ts';
import { summariseRows } from '../../../src/page/schedule/summarise-rows.ts';
import { makeRow, manyLeads } from '../fixtures/build-schedule.ts';

const rowsOf = (count: number, step?: number) => summariseRows(manyLeads(count, step).map(makeRow));
const sizes = ({ lines, listed, counted }: ReturnType<typeof chooseRows>) => [
  lines.length,
  listed.length,
  counted.length,
];

describe('rows that a note prints', () => {
  it('of a small schedule all stand in the table', () => {
    expect(sizes(chooseRows(rowsOf(60)))).toEqual([60, 0, 0]);
  });

  it('of a larger one those with ample margin are named in a list', () => {
    // 1 mm to 700 mm: 200 rows exceed 0.5 m, 99 comply by less than 20 % (above 0.4 m), of which there is room for 50 lines.
    const choice = chooseRows(rowsOf(700));
    expect(sizes(choice)).toEqual([250, 450, 0]);
    expect(choice.lines[0]!.row.id).toBe('DB-700');
    expect(choice.lines.at(-1)!.row.id).toBe('DB-451');
  });

  it('a fifth of the limit is ample', () => {
    // 301 mm to 500 mm, where 400 mm is four fifths of the limit.
    const leads = manyLeads(500).slice(300);
    const choice = chooseRows(summariseRows(leads.map(makeRow)));
    expect(sizes(choice)).toEqual([100, 100, 0]);
    expect(choice.lines.at(-1)!.row.id).toBe('DB-401');
  });

  it('of very many every one that does not comply is named, and of the others those nearest to their limits', () => {
    // 0.1 mm to 1 m: 5000 of 10 000 exceed 0.5 m.
    const choice = chooseRows(rowsOf(10_000, 0.0001));
    expect(sizes(choice)).toEqual([250, 4750, 5000]);
    expect(choice.listed.every(({ outcome }) => outcome === 'unmet')).toBe(true);
    expect(choice.counted.every(({ outcome }) => outcome === 'met')).toBe(true);
  });

  it('where all comply, a thousand are named, and the rest has larger margins', () => {
    const choice = chooseRows(rowsOf(5000, 0.0001));
    expect(sizes(choice)).toEqual([250, 750, 4000]);
    const named = [...choice.lines, ...choice.listed];
    const most = Math.max(...named.map(({ margin }) => margin!));
    expect(choice.counted.every(({ margin }) => margin! >= most)).toBe(true);
  });

  it('so many lines as the author asks for', () => {
    expect(sizes(chooseRows(rowsOf(700), 640))).toEqual([640, 60, 0]);
    expect(sizes(chooseRows(rowsOf(30), 12))).toEqual([12, 18, 0]);
  });

  it('what cannot be judged is named before what complies', () => {
    const leads = [...manyLeads(300), { id: 'unknown', lead: undefined }];
    const choice = chooseRows(summariseRows(leads.map(makeRow)));
    expect(choice.lines[0]!.row.id).toBe('unknown');
  });
});
