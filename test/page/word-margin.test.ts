import { describe, expect, test } from 'vitest';
import { displayJudged } from '../../src/engine/definition/display-judged.ts';
import { marginOf } from '../../src/engine/definition/margin.ts';
import { printJudged } from '../../src/page/word-values.ts';
import { toSi } from '../../src/quantity/quantity.ts';
import { unit } from '../../src/quantity/unit.ts';

type Relation = '<=' | '>=';

function printed(value: number, relation: Relation, limit: number, unitText = '1') {
  const own = unit(unitText);
  const [v, l] = [toSi(value, own), toSi(limit, own)];
  const shown = displayJudged(v, l, { unit: own, relation }, { value: { digits: 3 }, limit: { digits: 3 } });
  const number = (si: number, displayed: typeof shown.value) => ({
    type: 'number' as const,
    si,
    unit: own,
    displayed,
  });
  return printJudged({
    value: number(v, shown.value),
    limit: number(l, shown.limit),
    relation,
    margin: marginOf(v, relation, l),
    atLimit: value === limit,
  });
}

// Expected by hand from the numbers as printed: (value - limit) / limit, or its opposite where the limit is a greatest value.
describe('value, limit and margin in one line', () => {
  test.each([
    // 0.501 / 1.25 - 1 = -0.599.
    [0.50096, '>=', 1.25, '0.501', '≥ 1.25', '−60 %'],
    // 1.21 / 1.2 - 1 = 0.83 % would be more than the true 0.53 %; 1.206 / 1.2 - 1 = 0.5 %.
    [1.2064, '>=', 1.2, '1.206', '≥ 1.20', '+0.5 %'],
    // 1.21 / 1.2 - 1 = 0.83 %, less than the true 1.1 %: whoever recomputes it finds it so.
    [1.2132, '>=', 1.2, '1.21', '≥ 1.20', '+0.8 %'],
    // 1 - 3.88 / 4 = 3 %, and in truth 3.2 %; 1 - 3.884 / 4 = 2.9 % where three digits would promise 3 %.
    [3.8755, '<=', 4, '3.88', '≤ 4.00', '+3.0 %'],
    [3.8842, '<=', 4, '3.884', '≤ 4.00', '+2.9 %'],
    // 4.12 / 4 - 1 = 3 % of what is missing, where it is 3.1 %: no less is told of a shortfall either.
    [4.1244, '<=', 4, '4.124', '≤ 4.00', '−3.1 %'],
    // 1 - 48.6 / 50 = 0.028.
    [48.62, '<=', 50, '48.6', '≤ 50.0', '+2.8 %'],
    // 1.004 / 1 - 1 = 0.4 %; with three digits the two would read the same.
    [1.0041, '>=', 1, '1.004', '≥ 1.00', '+0.4 %'],
    // Less than a tenth: 0.03 % is neither nought nor anything to rely on. 3.331 / 3.33 - 1 = 0.03 %.
    [3.331, '>=', 3.33, '3.331', '≥ 3.33', '< +0.1 %'],
    [3.331, '<=', 3.33, '3.331', '≤ 3.33', '> −0.1 %'],
    // 20.1 / 1.5 - 1 = 12.4: two digits of a margin beyond all reason, for three would promise 10 % more than 1234 %.
    [20.06, '>=', 1.504, '20.1', '≥ 1.50', '+1200 %'],
  ] as const)('%f %s %f', (value, relation, limit, v, l, margin) => {
    const line = printed(value, relation, limit);
    expect({ ...line, margin: line.margin.replace('\u00a0', ' ') }).toEqual({ value: v, limit: l, margin });
  });

  test('the margin is that of the printed numbers, and never more than the true one as rounded', () => {
    for (const limit of [1.15, 2, 20, 37.7, 1 / 3, 253]) {
      for (let part = 0.031; part < 30; part *= 1.0173) {
        const value = limit * part;
        const line = printed(value, '>=', limit, 'kV');
        const number = (text: string) => Number(text.replace('−', '-').replace(/[^-\d.]/g, ''));
        const [v, l, m] = [number(line.value), number(line.limit), number(line.margin)];
        // Of three digits that end with a nought the last may be none.
        const large = 10 ** (Math.floor(Math.log10(Math.abs(m))) - (/^\+\d\d0/.test(line.margin) ? 1 : 2));
        const last = line.margin.includes('.') ? 0.1 : Math.max(1, large);
        const read = (v / l - 1) * 100;
        const told = JSON.stringify(line);
        if (/[<>]/.test(line.margin)) {
          expect(Math.abs(read), told).toBeLessThan(Math.abs(m));
          expect(Math.sign(read), told).toBe(Math.sign(m));
        } else expect(Math.abs(read - m), told).toBeLessThanOrEqual(last * 0.5000001);
        if (!/[<>]/.test(line.margin)) {
          const truth = (part - 1) * 100;
          expect(m - truth, told).toBeLessThanOrEqual(last * 0.500001);
          expect(truth - m, told).toBeLessThanOrEqual(Math.max(1, last) * 1.000001);
        }
        expect(Math.sign(v - l), told).toBe(Math.sign(part - 1));
      }
    }
  });

  test('numbers of things have no margin', () => {
    const one = { type: 'number' as const, si: 4, unit: unit('1') };
    const displayed = displayJudged(
      4,
      3,
      { unit: unit('1'), relation: '>=' },
      { value: { digits: 1 }, limit: { digits: 1 } },
    );
    const check = {
      value: { ...one, displayed: displayed.value },
      limit: { ...one, si: 3, displayed: displayed.limit },
      relation: '>=' as const,
      margin: marginOf(4, '>=', 3),
      atLimit: false,
    };
    expect(printJudged(check).margin).toBe('+33\u00a0%');
    expect(printJudged({ ...check, counts: true }).margin).toBe('–');
  });
});

test('of nothing there is no share: a value at a limit of nought has no margin in per cent', () => {
  const nought = (value: number) => printed(value, '>=', 0, 'm').margin;
  expect([nought(0), nought(0.4)]).toEqual(['–', '–']);
});
