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
    atLimit: false,
  });
}

// Expected by hand from the numbers as printed: (value - limit) / limit, or its opposite where the limit is a greatest value.
describe('value, limit and margin in one line', () => {
  test.each([
    // 0.501 / 1.25 - 1 = -0.599.
    [0.50096, '>=', 1.25, '0.501', '≥ 1.25', '−60 %'],
    // 1.21 / 1.2 - 1 = 0.0083, which is 0.3 more than the true 0.53 %: no tenth can be told, and not less than half a per cent.
    [1.2064, '>=', 1.2, '1.21', '≥ 1.20', '+1 %'],
    // 1 - 48.6 / 50 = 0.028.
    [48.62, '<=', 50, '48.6', '≤ 50.0', '+2.8 %'],
    // 1.004 / 1 - 1 = 0.4 %; with three digits the two would read the same.
    [1.0041, '>=', 1, '1.004', '≥ 1.00', '+0.4 %'],
    // Less than a tenth: 0.03 % is neither nought nor anything to rely on. 3.331 / 3.33 - 1 = 0.03 %.
    [3.331, '>=', 3.33, '3.331', '≥ 3.33', '< +0.1 %'],
    [3.331, '<=', 3.33, '3.331', '≤ 3.33', '> −0.1 %'],
    // 20 / 1.5 - 1 = 12.3: three digits of a margin beyond all reason.
    [20.06, '>=', 1.504, '20.1', '≥ 1.50', '+1240 %'],
  ] as const)('%f %s %f', (value, relation, limit, v, l, margin) => {
    const line = printed(value, relation, limit);
    expect({ ...line, margin: line.margin.replace('\u00a0', ' ') }).toEqual({ value: v, limit: l, margin });
  });

  test('the margin is that of the printed numbers, and within one of its last digit the true one', () => {
    for (const limit of [1.15, 2, 20, 37.7, 1 / 3, 253]) {
      for (let part = 0.031; part < 30; part *= 1.0173) {
        const value = limit * part;
        const line = printed(value, '>=', limit, 'kV');
        const number = (text: string) => Number(text.replace('−', '-').replace(/[^-\d.]/g, ''));
        const [v, l, m] = [number(line.value), number(line.limit), number(line.margin)];
        const last = line.margin.includes('.')
          ? 0.1
          : Math.max(1, 10 ** (Math.floor(Math.log10(Math.abs(m))) - 2));
        const read = (v / l - 1) * 100;
        const told = JSON.stringify(line);
        if (/[<>]/.test(line.margin)) {
          expect(Math.abs(read), told).toBeLessThan(Math.abs(m));
          expect(Math.sign(read), told).toBe(Math.sign(m));
        } else expect(Math.abs(read - m), told).toBeLessThanOrEqual(last * 0.5000001);
        expect(Math.abs((part - 1) * 100 - m), told).toBeLessThanOrEqual(last * 1.000001);
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
