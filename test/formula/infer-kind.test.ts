import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { wordMessage } from '../../src/diagnostics/messages.ts';
import { evaluateFormula } from '../../src/formula/evaluate-formula.ts';
import type { SymbolInfo } from '../../src/formula/formula.ts';
import { inferDimension } from '../../src/formula/infer-dimension.ts';
import { inferKind } from '../../src/formula/infer-kind.ts';
import { parseCondition, parseFormula } from '../../src/formula/parse-formula.ts';
import { type KindTerm, kindTerm, knownKind } from '../../src/quantity/kind-term.ts';
import { unit } from '../../src/quantity/unit.ts';
import { type VoltageKind, writeVoltageKind } from '../../src/quantity/voltage-kind.ts';

/** Name -> unit and kind. The names say what they are: u_rp is r.m.s., phase to phase; j is a current. */
const NAMES: Readonly<Record<string, readonly [string, VoltageKind?]>> = {
  u_pe: ['kV', { measure: 'peak', between: 'phase-earth' }],
  u_pp: ['kV', { measure: 'peak', between: 'phase-phase' }],
  u_re: ['kV', { measure: 'rms', between: 'phase-earth' }],
  u_rp: ['kV', { measure: 'rms', between: 'phase-phase' }],
  u_rn: ['V', { measure: 'rms', between: 'line-neutral' }],
  u_p: ['kV', { measure: 'peak' }],
  u_r: ['kV', { measure: 'rms' }],
  u: ['kV'],
  v: ['kV'],
  j_p: ['kA', { measure: 'peak' }],
  j_r: ['kA', { measure: 'rms' }],
  z: ['ohm'],
  l: ['m'],
  inductance: ['uH/m'],
  slope: ['kA/us'],
  t: ['us'],
  k: ['1'],
  power: ['kW'],
};

const SYMBOLS = new Map<string, SymbolInfo>([
  ...Object.entries(NAMES).map(
    ([name, [text]]) =>
      [name, { type: 'number' as const, tex: name, dimension: unit(text).dimension }] as const,
  ),
  ['list_r', { type: 'list', tex: 'u_i', dimension: unit('kV').dimension }],
]);

function terms(): Map<string, KindTerm> {
  const voltages = Object.entries(NAMES).filter(([, [text]]) => /[VA]$/.test(text));
  const all = voltages.map(([name, [, kind]]) => [name, kindTerm(kind)] as const);
  return new Map([...all, ['list_r', kindTerm({ measure: 'rms' })]]);
}

function infer(text: string, kinds = terms()) {
  const isCondition = / [<>]=? /.test(text) && !text.includes('when');
  const formula = isCondition ? parseCondition(text) : parseFormula(text);
  if (!formula.ok) throw new Error(wordMessage(formula.problem.code, formula.problem.data as never).message);
  if (!isCondition) expect(inferDimension(formula.value, SYMBOLS).ok, text).toBe(true);
  return inferKind(formula.value, SYMBOLS, kinds);
}

function kindOf(text: string): string {
  const reading = infer(text);
  if (!reading.ok) return 'contradiction';
  return reading.term ? writeVoltageKind(knownKind(reading.term)) || 'open' : 'none';
}

describe('the kind of a value', () => {
  test.each([
    ['u_pe', 'peak phase-earth'],
    ['1.15 * u_pe / 0.9', 'peak phase-earth'],
    ['-(u_rp)', 'rms phase-phase'],
    ['abs(u_r) * k', 'rms'],
    ['max(list_r)', 'rms'],
    ['u_pe + inductance * l * slope', 'peak phase-earth'],
    ['inductance * l * slope', 'open'],
    ['u_p + u_pe', 'peak phase-earth'],
    ['u_r / z', 'rms'],
    ['u_pp / z', 'peak'],
    ['j_p * z', 'peak'],
    ['j_r * z + u_re', 'rms phase-earth'],
    ['u_pe * u_p / z', 'none'],
    ['sqrt(u_re^2 + (j_r * z)^2)', 'rms phase-earth'],
    ['u_p^2 / (z * u_p)', 'peak'],
    ['u_pe when k > 2; u_p otherwise', 'peak phase-earth'],
    ['u_pe / u_p', 'none'],
    ['u_r * (u_pe / u_p)', 'rms'],
    ['u_re * u_p / u_r', 'peak'],
    ['power / u_r', 'open'],
    ['u_pp * (u_re / (u_rp / sqrt(3)))', 'peak phase-phase'],
    ['ln(u_p / u_pe) * u_r', 'rms'],
    ['5 kV', 'open'],
    ['k', 'none'],
  ])('%s: %s', (text, kind) => {
    expect(kindOf(text)).toBe(kind);
  });
});

// What is between phases, over sqrt(3), can be to earth or to neutral: that it is not said.
describe('sqrt(2) and sqrt(3) convert where they fit, and are numbers elsewhere', () => {
  test.each([
    ['sqrt(2) * u_r', 'peak'],
    ['u_r * 2^0.5', 'peak'],
    ['j_r * sqrt(2)', 'peak'],
    ['u_p / sqrt(2)', 'rms'],
    ['sqrt(2) * u_p', 'peak'],
    ['u_r / sqrt(2)', 'rms'],
    ['2 * u_r', 'rms'],
    ['1.414 * u_r', 'rms'],
    ['sqrt(2) * sqrt(2) * u_r', 'rms'],
    ['k * sqrt(2) * u_rp / (1.05 * sqrt(3))', 'peak'],
    ['sqrt(2) / sqrt(3) * u_rp', 'peak'],
    ['sqrt(2/3) * u_rp', 'peak'],
    ['sqrt(2 * u_rp^2 / 3)', 'peak'],
    ['u_pp / sqrt(3)', 'peak'],
    ['sqrt(3) * u_re', 'rms phase-phase'],
    ['sqrt(3) * u_rn', 'rms phase-phase'],
    ['sqrt(3) * u_rp', 'rms phase-phase'],
    ['sqrt(3) * j_r', 'rms'],
    ['u_re / sqrt(3)', 'rms phase-earth'],
    ['sqrt(2) * u', 'open'],
    ['u_p / (sqrt(2) * u_r)', 'none'],
    ['u_p / u_r / sqrt(2)', 'none'],
    ['u_pe / (sqrt(2) * u_rp / sqrt(3))', 'none'],
    ['sqrt(3) / sqrt(2) * u_pe / u_rp', 'none'],
    ['sqrt((sqrt(2) * u_r)^2 + u_p^2)', 'peak'],
    ['max(u_p, sqrt(2) * u_r)', 'peak'],
    ['u_p + sqrt(2) * (u_r + u_re)', 'peak phase-earth'],
  ])('%s: %s', (text, kind) => {
    expect(kindOf(text)).toBe(kind);
  });

  test('what is between phases, over sqrt(3), serves to earth or to neutral, and no longer between phases', () => {
    for (const [text, kind] of [
      ['u_rp / sqrt(3) - u_re', 'rms phase-earth'],
      ['u_rp / sqrt(3) - u_rn', 'rms line-neutral'],
      ['u_rp / sqrt(3) - u_rp', 'contradiction'],
      ['sqrt(3) * (u_rp / sqrt(3)) - u_rp', 'rms phase-phase'],
    ] as const) {
      expect([text, kindOf(text)]).toEqual([text, kind]);
    }
  });
});

describe('a contradiction is a fault with its place', () => {
  test.each([
    ['u_p + u_r', 'u_p + u_r', 'added'],
    ['z * j_r + u_p', 'z * j_r + u_p', 'added'],
    ['k * (u_pe - u_pp)', 'u_pe - u_pp', 'subtracted'],
    ['u_pe / u_re', 'u_pe / u_re', 'ratio'],
    ['u_p / j_r', 'u_p / j_r', 'ratio'],
    ['min(u_rp, u_re, u_r)', 'u_rp, u_re', 'compared'],
    ['u_p when k > 1; u_r otherwise', 'u_p when k > 1; u_r', 'cases'],
    ['k when u_p > 1.414 * u_r; 1 otherwise', 'u_p > 1.414 * u_r', 'compared'],
    ['exp(u_p / u_r)', 'u_p / u_r', 'ratio'],
    ['max(list_r) + u_pe', 'max(list_r) + u_pe', 'added'],
    ['u_rn - u_re', 'u_rn - u_re', 'subtracted'],
  ])('%s', (text, place, doing) => {
    const reading = infer(text);
    if (reading.ok) throw new Error(`${text} is taken`);
    const { span, code, data } = reading.problem;
    expect(text.slice(span!.start, span!.end)).toBe(place);
    expect(wordMessage(code, data as never).message).toContain(doing);
  });

  test('in a condition too', () => {
    expect(infer('u_p <= u_r').ok).toBe(false);
    expect(infer('u_p <= sqrt(2) * u_r').ok).toBe(true);
  });

  test('an open kind is learnt from one use, and then cannot serve for another', () => {
    const kinds = terms();
    expect(infer('u + u_pe', kinds).ok).toBe(true);
    expect(knownKind(kinds.get('u')!)).toEqual({ measure: 'peak', between: 'phase-earth' });
    expect(infer('u + u_r', kinds).ok).toBe(false);
    expect(infer('v / u', kinds).ok).toBe(true);
    expect(infer('v <= u_r', kinds).ok).toBe(false);
  });
});

/** A random formula of a stated kind, made by rules that keep it. */
interface Wanted {
  readonly measure: 'peak' | 'rms';
  readonly between: 'phase-earth' | 'phase-phase';
}

const name = ({ measure, between }: Wanted) =>
  `u_${measure === 'peak' ? 'p' : 'r'}${between === 'phase-earth' ? 'e' : 'p'}`;
const otherMeasure = (kind: Wanted): Wanted => ({
  ...kind,
  measure: kind.measure === 'peak' ? 'rms' : 'peak',
});
const otherBetween = (kind: Wanted): Wanted => ({
  ...kind,
  between: kind.between === 'phase-earth' ? 'phase-phase' : 'phase-earth',
});

const anyKind = fc.record<Wanted>({
  measure: fc.constantFrom('peak', 'rms'),
  between: fc.constantFrom('phase-earth', 'phase-phase'),
});

function ofKind(kind: Wanted, depth: number): fc.Arbitrary<string> {
  const leaf = fc.constant(name(kind));
  if (depth === 0) return leaf;
  const same = fc.oneof(leaf, ofKind(kind, depth - 1));
  const pair = fc.tuple(same, same);
  const number = fc.constantFrom('1.1', '2', '3', 'k', '(1 + 20 %)', '1.414');
  return fc.oneof(
    leaf,
    pair.map(([a, b]) => `(${a} + ${b})`),
    pair.map(([a, b]) => `(${a} - (${b}))`),
    pair.map(([a, b]) => `max(${a}, ${b})`),
    pair.map(([a, b]) => `sqrt((${a})^2 + (${b})^2)`),
    fc.tuple(number, same).map(([k, a]) => `${k} * (${a})`),
    fc.tuple(number, same).map(([k, a]) => `(${a}) / ${k}`),
    anyKind
      .chain((other) => fc.tuple(same, ofKind(other, depth - 1), ofKind(other, depth - 1)))
      .map(([a, b, c]) => `(${a}) * ((${b}) / (${c}))`),
    ofKind(otherMeasure(kind), depth - 1).map((a) =>
      kind.measure === 'peak' ? `sqrt(2) * (${a})` : `(${a}) / sqrt(2)`,
    ),
    ofKind(otherBetween(kind), depth - 1).map((a) =>
      kind.between === 'phase-phase' ? `sqrt(3) * (${a})` : `(${a}) / sqrt(3)`,
    ),
  );
}

const written = anyKind.chain((kind) => fc.tuple(fc.constant(kind), ofKind(kind, 3)));

test('a formula made by rules that keep a kind is of that kind, and no other can stand beside it', () => {
  fc.assert(
    fc.property(written, ([kind, text]) => {
      expect(kindOf(`(${text}) + ${name(kind)}`), text).toBe(writeVoltageKind(kind));
      expect(kindOf(`(${text}) + ${name(otherMeasure(kind))}`), text).toBe('contradiction');
      expect(kindOf(`(${text}) + ${name(otherBetween(kind))}`), text).toBe('contradiction');
    }),
    { numRuns: 500 },
  );
});

/**
 * The oracle knows no rules: values of one kind may be counted in units of their own, as lengths in feet, if sqrt(2) is
 * then the number of r.m.s. units in a peak unit. A product of such factors grows by the unit of its kind.
 */
test('the kind of a product is that by whose unit it grows', () => {
  const factor = fc.tuple(
    fc.constantFrom('u_p', 'u_r', 'j_p', 'j_r', 'sqrt(2)', 'k', '3'),
    fc.constantFrom('*', '/'),
  );
  const value = (text: string, peak: number, conversion: number) => {
    const formula = parseFormula(text.replaceAll('sqrt(2)', '{root}'));
    if (!formula.ok) throw new Error(text);
    const values = new Map(
      Object.keys(NAMES).map((n) => [n, /_p$/.test(n) ? 1.3 * peak : /_r$/.test(n) ? 1.7 : 1.9]),
    );
    const result = evaluateFormula(formula.value, values.set('root', Math.SQRT2 * conversion));
    if (!result.ok) throw new Error(text);
    return result.value;
  };
  fc.assert(
    fc.property(fc.array(factor, { minLength: 1, maxLength: 6 }), (factors) => {
      const text = factors.reduce((product, [f, operator]) => `${product} ${operator} ${f}`, 'z');
      const formula = parseFormula(text);
      const dimension = formula.ok && inferDimension(formula.value, SYMBOLS);
      fc.pre(dimension !== false && dimension.ok);
      const count = (pattern: RegExp) =>
        factors.reduce((sum, [f, o]) => sum + (pattern.test(f) ? (o === '*' ? 1 : -1) : 0), 0);
      const degree = count(/_/);
      const unitOfPeak = 2.5;
      const grows = (conversion: number) =>
        Math.log(value(text, unitOfPeak, conversion) / value(text, 1, 1)) / Math.log(unitOfPeak);
      // As a conversion sqrt(2) grows by the unit; as a number it does not.
      const asKinds = [grows(unitOfPeak), grows(1)].map((growth) => {
        if (Math.abs(growth) < 1e-9) return degree === 0 ? 'pure' : 'rms';
        return Math.abs(growth - degree) < 1e-9 ? 'peak' : undefined;
      });
      const expected = asKinds[0] ?? asKinds[1];
      const reading = infer(text);
      if (degree === 0) expect(reading.ok, text).toBe(expected === 'pure');
      else expect(reading.ok, text).toBe(true);
      if (degree === 1 && reading.ok && reading.term) expect(reading.term.measure.word, text).toBe(expected);
    }),
    { numRuns: 1500 },
  );
});
