import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { compileDefinition } from '../../src/engine/definition/compile-definition.ts';
import type { CalculationDefinition } from '../../src/engine/definition/definition.ts';
import { evaluateNote } from '../../src/evaluation/evaluate-note.ts';
import { FUNCTION_NAMES } from '../../src/formula/words.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { told } from '../support/told.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';

/** `code@line:column message` of an own calculation with two givens and a step. */
function judge(given: string, step: string, formula: string, meaning = 'length', unit = 'm'): string[] {
  const collector = new Collector();
  const text = `${FRONT_MATTER}
\`\`\`yaml formula
id: own
given:
  ${given}: { symbol: a, meaning: ${meaning}, unit: ${unit}, value: 3.5 ${unit} }
  r: { symbol: r, meaning: radius, unit: m, value: 0.25 m }
steps:
  ${step}: { symbol: s, meaning: sum, unit: m, formula: "${formula}" }
\`\`\`
`;
  evaluateNote(
    readProject('project.yaml', PROJECT, collector)!,
    readNote('1.md', text, collector)!,
    collector,
  );
  return told(collector).map(
    (d) => `${d.code}@${d.place.line}:${d.place.column} ${d.message} -> ${d.hint ?? ''}`,
  );
}

describe('a name that the language of formulas reads as something else', () => {
  test('a constant', () => {
    expect(judge('pi', 'area', 'pi * 2')).toEqual([
      "reserved-name@12:3 'pi' is a constant of the language of formulas and cannot name a value -> write another name, for example pi_value",
    ]);
    expect(judge('a', 'pi', 'a * 2')[0]).toMatch(/^reserved-name@15:3 'pi' is a constant/);
  });

  test.each(['when', 'and', 'or', 'not', 'is', 'otherwise', 'given'])('the word %s', (word) => {
    expect(judge(word, 'b', 'r * 2')).toEqual([
      expect.stringMatching(`^reserved-name@12:3 '${word}' is a word of the language`),
    ]);
    expect(judge('a', word, 'r * 2')).toHaveLength(1);
  });

  test.each(FUNCTION_NAMES)('the function %s', (word) => {
    expect(judge('a', word, 'r * 2')).toEqual([
      expect.stringMatching(`^reserved-name@15:3 '${word}' is a function of the language`),
    ]);
  });

  test('what only resembles one is a name', () => {
    expect(judge('PI', 'given_length', 'PI + r')).toEqual([]);
    expect(judge('pi_r', 'is_long', 'pi_r + r')).toEqual([]);
    expect(judge('toString', 'valueOf', 'toString + r')).toEqual([]);
  });
});

describe('a name that is spelt like the unit behind a number', () => {
  test('is an error where such a quantity stands, for the author may mean a product', () => {
    expect(judge('H', 'b', 'r + 2 H / H * r', 'inductance', 'H')).toEqual([
      "unit-or-name@15:56 '2 H' is read with 'H' as its unit, and a value is named 'H' as well -> give the value a longer name; a product with it is written with its sign: 2 * NAME",
    ]);
    expect(judge('s', 'b', 'r * 4 s / s', 'time', 's')[0]).toMatch(/^unit-or-name@15:/);
    expect(judge('m', 'b', 'm + 2 m')[0]).toMatch(/^unit-or-name@15:/);
    expect(
      judge('A', 'b', 'r * (5 kV/(A us)) / (1 kV/(A us)) when A < 3 A; r otherwise', 'area', 'A')[0],
    ).toMatch(/^unit-or-name@15:/);
  });

  test('is a name elsewhere', () => {
    expect(judge('H', 'b', 'r * (2 * H) / H', 'inductance', 'H')).toEqual([]);
    expect(judge('d', 'b', 'd + 0.3 m + r')).toEqual([]);
  });
});

test('the same holds for a definition of the catalogue', () => {
  const definition = (given: string, step: string, formula: string): CalculationDefinition => ({
    name: 'trial',
    title: 'Trial',
    purpose: 'Trial.',
    givens: { [given]: { type: 'quantity', symbol: 'a', meaning: 'a length', unit: 'm' } },
    steps: {
      [step]: {
        symbol: 'b',
        meaning: 'another',
        unit: 'm',
        formula,
        basis: { kind: 'author', text: 'own' },
      },
    },
    evidence: [],
  });
  const faults = (one: CalculationDefinition) => {
    const compilation = compileDefinition(one, ['given-without-use']);
    return compilation.ok ? [] : compilation.faults.map(({ where, problem }) => `${where} ${problem.code}`);
  };
  expect(faults(definition('a', 'b', '2 * a'))).toEqual([]);
  expect(faults(definition('pi', 'b', '2 m'))).toEqual(['givens.pi.name reserved-name']);
  expect(faults(definition('a', 'pi', '2 * a'))).toEqual(['steps.pi.name reserved-name']);
  expect(faults(definition('a', 'otherwise', '2 * a'))).toEqual(['steps.otherwise.name reserved-name']);
  expect(faults(definition('m', 'b', '2 m'))).toEqual(['steps.b.0 unit-or-name']);
});
