import { expect, test } from 'vitest';
import { digestResults } from '../../src/review/digest-results.ts';
import { EXACT, NUMERICAL } from '../../src/review/recorded-node.ts';
import { wordDigits } from '../../src/review/recorded-number.ts';
import type { Sentence, ShownNumber } from '../../src/words/sentence.ts';
import { evaluateText } from './evaluate-text.ts';

/** The results of a note with a step for each value, which adds nothing to it: full precision, as another machine may have it. */
function resultsOf(...values: readonly number[]) {
  const givens = values.map(
    (value, i) => `  l${i}: { symbol: l, meaning: a lead, unit: m, value: ${value} m }`,
  );
  const steps = values.map(
    (_, i) => `  d${i}: { symbol: d, meaning: the same, unit: m, formula: 1 * l${i} }`,
  );
  const block = ['id: own', 'title: Own', 'given:', ...givens, 'steps:', ...steps].join('\n');
  return digestResults(evaluateText(`\`\`\`yaml formula\n${block}\n\`\`\`\n`));
}

test('values that differ in their last bits have one digest', () => {
  const value = 1.89270993369;
  expect(resultsOf(value * (1 + 4e-16)).sha256).toBe(resultsOf(value).sha256);
  expect(resultsOf(1.8927099337).sha256).toBe(resultsOf(value).sha256);
});

test('another value has another digest, to the sixth digit', () => {
  const results = resultsOf(47.1182);
  for (const other of [47.1183, 47.1181, 4.71182, -47.1182]) {
    const digest = resultsOf(other).sha256;
    expect(digest).not.toBe(results.sha256);
    expect(results.sameAs(digest)).toBe(false);
  }
});

test('where rounding turns, both sides are the same results within the tolerance, and no others', () => {
  const turn = 7.362145;
  const [below, above] = [resultsOf(turn * (1 - 4e-10)), resultsOf(turn * (1 + 4e-10))];
  expect(above.sha256).not.toBe(below.sha256);
  expect(above.sameAs(below.sha256)).toBe(true);
  expect(below.sameAs(above.sha256)).toBe(true);
  const [far, farther] = [resultsOf(turn * (1 - 1e-8)), resultsOf(turn * (1 + 1e-8))];
  expect(farther.sameAs(far.sha256)).toBe(false);
  expect(far.sameAs(farther.sha256)).toBe(false);
});

test('several values at their turns: any of them may fall to either side', () => {
  const turns = [2.000005, 61.50775, 0.3333335];
  const at = (sides: readonly number[]) =>
    resultsOf(...turns.map((turn, i) => turn * (1 + sides[i]! * 2e-10)));
  const here = at([1, 1, 1]);
  for (let sides = 0; sides < 8; sides += 1) {
    const there = at([0, 1, 2].map((bit) => ((sides >> bit) & 1 ? 1 : -1)));
    expect(here.sameAs(there.sha256), String(sides)).toBe(true);
  }
  expect(here.sameAs(resultsOf(...turns, 1).sha256)).toBe(false);
});

test('of many values at their turns, those that lie nearest are tried', () => {
  // Thirty that lie a tenth of the tolerance away, and one that lies a few bits away, as another machine would have it.
  const near = Array.from({ length: 30 }, (_, i) => (100_000.5 + i * 37) * (1 + 1e-10));
  const at = (side: number) => resultsOf(...near, 531.4465 * (1 + side * 4e-16));
  expect(at(1).sha256).not.toBe(at(-1).sha256);
  expect(at(1).sameAs(at(-1).sha256)).toBe(true);
});

test.each([
  ['formulas and tables', EXACT, 500],
  ['numerical methods', NUMERICAL, 50],
])('%s: few values lie near a turn', (_, { signed, tolerance }, most) => {
  // Spread over a decade by the golden ratio, which keeps step with no rounding.
  const values = Array.from({ length: 40_000 }, (_, i) => 1 + 9 * ((i * 0.6180339887498949) % 1));
  const near = values.filter(
    (value) => wordDigits(value * (1 - tolerance), signed) !== wordDigits(value * (1 + tolerance), signed),
  );
  expect(near.length).toBeGreaterThan(0);
  expect(near.length / values.length).toBeLessThan(1 / most);
});

test.each([
  ['{ value: 3.1 m, range: [3 m, 3.2 m] }', '3.2 m', '3.20 m'],
  ['{ value: 410 cm, range: [400 cm, 450 cm] }', '450 cm', '4.50 m'],
])(
  'the least favourable point of %s stands as it was entered, and is covered by value',
  (lead, printed, signed) => {
    const given = [
      'arrangement: common-earth\n  line_lead: 1 m\n  residual_voltage: 30 kV\n  steepness: 20 kA/us',
      `impulse_withstand: 95 kV\n  earth_lead: ${lead}`,
    ].join('\n  ');
    const block = `id: one\ncalculation: arrester-connection\ngiven:\n  ${given}`;
    const note = evaluateText(`\`\`\`yaml calc\n${block}\n\`\`\`\n`);
    const { checks } = note.blocks[0]!.evaluated;
    const { overRange } = checks.find((check) => check.overRange)!;
    const [place] = (overRange!.sentence as Sentence).data.place as [ShownNumber];
    expect(place.displayed.text).toBe(printed);
    expect(place.signedAs!.text).toBe(signed);
    const { sha256 } = digestResults(note);
    const digestWith = (change: Partial<ShownNumber>): string => {
      const changed = structuredClone(checks.map(({ overRange }) => overRange));
      for (const one of changed)
        if (one) Object.assign(((one.sentence as Sentence).data.place as [ShownNumber])[0], change);
      const evaluated = {
        ...note.blocks[0]!.evaluated,
        checks: checks.map((check, i) => ({ ...check, overRange: changed[i] })),
      };
      return digestResults({ ...note, blocks: [{ ...note.blocks[0]!, evaluated }] } as typeof note).sha256;
    };
    expect(digestWith({ displayed: { print: '3,2 m', text: '3,2 m' } })).toBe(sha256);
    expect(digestWith({ signedAs: { text: '3.21 m' } })).not.toBe(sha256);
  },
);
