import { describe, expect, test } from 'vitest';
import { marginOf } from '../../src/engine/definition/margin.ts';
import { printJudged } from '../../src/page/word-values.ts';
import { displaySi } from '../../src/quantity/display.ts';
import { toSi } from '../../src/quantity/quantity.ts';
import { unit } from '../../src/quantity/unit.ts';

type Relation = '<=' | '>=';

function printed(value: number, relation: Relation, limit: number, unitText = '1') {
  const own = unit(unitText);
  const number = (written: number) => {
    const si = toSi(written, own);
    return { type: 'number' as const, si, unit: own, displayed: displaySi(si, own) };
  };
  const [v, l] = [number(value), number(limit)];
  return printJudged({
    value: v,
    limit: l,
    relation,
    margin: marginOf(v.si, relation, l.si),
    atLimit: false,
  });
}

// Expected by hand: (value - limit) / limit, or its opposite where the limit is a greatest value.
describe('value, limit and margin in one line', () => {
  test.each([
    // 0.50096 / 1.25 - 1 = -0.5992; 0.501 gives the same: three digits do.
    [0.50096, '>=', 1.25, '0.501', '≥ 1.25', '−60 %'],
    // -0.653: what is lacking is not made more.
    [0.3471, '>=', 1, '0.347', '≥ 1.00', '−65 %'],
    // 1.2064 / 1.2 - 1 = 0.00533, rounded down 0.53 %; 1.21 would give 0.83 %, 1.206 gives 0.50 %: two units off; 1.2064 gives it.
    [1.2064, '>=', 1.2, '1.2064', '≥ 1.20', '+0.53 %'],
    // 1 - 48.62 / 50 = 0.0276; 48.6 gives 0.028.
    [48.62, '<=', 50, '48.6', '≤ 50.0', '+2.7 %'],
    // A limit that is no round number gets digits too: 7.123456 / 7.12 - 1 would be 0.05 %, the true part is 0.017 %.
    [7.1234567, '>=', 7.1222222, '7.12346', '≥ 7.12222', '+0.017 %'],
  ] as const)('%f %s %f', (value, relation, limit, v, l, margin) => {
    const margins = margin.replace(' ', '\u00a0');
    expect(printed(value, relation, limit)).toEqual({ value: v, limit: l, margin: margins });
  });

  test('agree for any value beside any limit, as a reader computes it', () => {
    for (const limit of [1.15, 2, 20, 37.7, 1 / 3, 253]) {
      for (let part = 0.031; part < 3; part *= 1.0173) {
        const value = limit * part;
        const line = printed(value, '>=', limit, 'kV');
        const [v, l, m] = [line.value, line.limit, line.margin].map((text) =>
          Number(text.replace('−', '-').replace(/[^-\d.]/g, '')),
        ) as [number, number, number];
        const ofMargin = Math.abs(m) >= 10 ? 1 : 10 ** (Math.floor(Math.log10(Math.abs(m))) - 1);
        expect(Math.abs((v / l - 1) * 100 - m), JSON.stringify(line)).toBeLessThan(ofMargin * 1.000001);
      }
    }
  });
});
