import fc from 'fast-check';
import { all, create } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { evaluateFormula } from '../../src/formula/evaluate-formula.ts';
import { inferDimension } from '../../src/formula/infer-dimension.ts';
import { parseFormula } from '../../src/formula/parse-formula.ts';
import { sameDimension } from '../../src/quantity/dimension.ts';
import { fromSi } from '../../src/quantity/quantity.ts';
import { unit } from '../../src/quantity/unit.ts';

// mathjs compares with a tolerance in floor, ceil, min and max; without its absolute part it tells 1e-16 from 0 as we do.
const math = create(all ?? {}, { relTol: 1e-9, absTol: 0 });

/** Functions under our names, as mathjs computes them. */
const SCOPE = { ln: (x: number) => math.log(x) };

const FUNCTIONS_OF_ONE = [
  'sqrt',
  'exp',
  'ln',
  'log10',
  'abs',
  'sin',
  'cos',
  'tan',
  'asin',
  'acos',
  'atan',
  'sinh',
  'cosh',
  'tanh',
  'asinh',
  'acosh',
  'floor',
  'ceil',
];

/** Random expressions in the part of the language that mathjs reads alike. */
const { expression } = fc.letrec<{ expression: string; leaf: string }>((tie) => ({
  leaf: fc.oneof(
    fc.constantFrom('x', 'y', 'z', 'pi', '2', '0.5', '1e-3', '3.25'),
    fc.integer({ min: 0, max: 99 }).map(String),
  ),
  expression: fc.oneof(
    { maxDepth: 6, depthSize: 'medium' },
    tie('leaf'),
    fc
      .tuple(tie('expression'), fc.constantFrom(' + ', ' - ', ' * ', ' / ', '^'), tie('expression'))
      .map((t) => t.join('')),
    tie('expression').map((inner) => `(${inner})`),
    tie('expression').map((inner) => `-${inner}`),
    fc
      .tuple(fc.constantFrom(...FUNCTIONS_OF_ONE), tie('expression'))
      .map(([name, inner]) => `${name}(${inner})`),
    fc
      .tuple(fc.constantFrom('min', 'max'), tie('expression'), tie('expression'))
      .map(([name, a, b]) => `${name}(${a}, ${b})`),
  ),
}));

const value = fc.oneof(
  fc.double({ min: -10, max: 10, noNaN: true }),
  fc.double({ min: 1e-6, max: 1e6, noNaN: true }),
  fc.integer({ min: -3, max: 3 }),
);

/** What mathjs makes of a text: a number, or undefined where it leaves the finite real numbers. */
function reference(text: string, scope: object): number | undefined {
  try {
    const result: unknown = math.evaluate(text, { ...SCOPE, ...scope });
    return typeof result === 'number' && Number.isFinite(result) ? result : undefined;
  } catch {
    return undefined; // functions that mathjs does not define for complex numbers, such as min
  }
}

/** The same operations in the same order give nearly the same double; what mathjs writes otherwise costs the last digits. */
function near(a: number, b: number): boolean {
  return Math.abs(a - b) <= 1e-9 * Math.max(1e-12, Math.abs(a), Math.abs(b));
}

test('random expressions have the value that mathjs finds, or none in either', () => {
  let compared = 0;
  let refused = 0;
  fc.assert(
    fc.property(expression, value, value, value, (text, x, y, z) => {
      const formula = parseFormula(text);
      if (!formula.ok) throw new Error(`not parsed: ${text}`);
      const scope = { x, y, z };
      const reading = evaluateFormula(formula.value, new Map(Object.entries(scope)));
      if (reading.ok) {
        compared += 1;
        const expected = reference(text, scope);
        if (expected === undefined || !near(reading.value, expected)) {
          throw new Error(`${text}: ${reading.value}, mathjs ${expected}`);
        }
        return;
      }
      refused += 1;
      const { start, end } = reading.problem.span!;
      const part = text.slice(start, end);
      if (reference(part, scope) !== undefined) throw new Error(`${part} refused, mathjs has a value`);
    }),
    { numRuns: 4000, seed: 17 },
  );
  // The generator must reach both outcomes often, or the comparison says nothing.
  expect(compared).toBeGreaterThan(1000);
  expect(refused).toBeGreaterThan(200);
});

describe('quantities have the value and the unit that mathjs finds', () => {
  test.each([
    ['(10 kA/us) * (1 uH/m) * (5 m)', 'kV'],
    ['(50 ohm m) / (2 * pi * (3 m))', 'ohm'],
    ['(3.3 uH) * (10 kA) / (8 us)', 'kV'],
    ['(2.5 MJ/ohm) * (0.2 mohm)', 'J'],
    ['(385 J/(kg K)) * (2 kg) * (20 K)', 'kJ'],
    ['sqrt((1 uH/m) / (10 pF/m))', 'ohm'],
    ['1 / sqrt((1 uH/m) * (10 pF/m))', 'm/s'],
    ['(10 ft) + (3 in) + (2 cm) + (4 mm)', 'm'],
    ['(50 mm^2) * (2 m) * (8.96 g/cm^3)', 'kg'],
    ['(20 kA)^2 * (350 us) / 2', 'kA^2 s'],
    ['(12 kV/us) * (300 m) / (300 m/us)', 'kV'],
    ['(2 nF) * (3 kV) + (1 mC)', 'uC'],
    ['(1 mT) * (2 m^2) / (5 us)', 'V'],
    ['(5 N) / (2 m) + (3 kg) / (1 s)^2', 'N/m'],
    ['(2 MPa) * (3 mm^2)', 'N'],
    ['(5 kW) * (2 h) + (30 min) * (1 W)', 'J'],
    ['(3 mS) * (4 kV)', 'A'],
    ['(50 Hz) * (2 d)', '1'],
    ['(20 kA/us) * (2 us) - 7 kA', 'kA'],
    ['abs(3 V - 5 V) / (2 mV)', '1'],
  ])('%s', (text, target) => {
    const formula = parseFormula(text);
    if (!formula.ok) throw new Error(formula.problem.code);
    const dimension = inferDimension(formula.value, new Map());
    const reading = evaluateFormula(formula.value, new Map());
    if (!dimension.ok || !reading.ok) throw new Error('no value');
    const result = math.evaluate(text.replaceAll('d)', 'day)').replaceAll('min)', 'minute)'));
    // toNumber throws where the dimensions differ, so a dimension that we infer wrongly cannot pass both lines.
    const expected = typeof result === 'number' ? result : result.toNumber(target);
    expect(sameDimension(dimension.value, unit(target).dimension)).toBe(true);
    expect(fromSi(reading.value, unit(target))).toSatisfy((x: number) => near(x, expected));
  });
});

describe('what mathjs refuses for its dimensions is refused', () => {
  test.each(['2 m + 3 s', '2 kV - 3 kA', '2 m + 3', '2 ^ (3 m)', 'exp(3 m)', 'sin(3 kV)'])('%s', (text) => {
    const formula = parseFormula(text);
    if (!formula.ok) throw new Error(formula.problem.code);
    expect(() => math.evaluate(text)).toThrow();
    expect(inferDimension(formula.value, new Map()).ok).toBe(false);
  });
});
