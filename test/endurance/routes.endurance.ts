import { expect, test } from 'vitest';
import { hasErrors } from '../../src/diagnostics/diagnostic.ts';
import { Memory } from '../../src/memory/memory.ts';
import { openProject } from '../../src/session/project-session.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';
import type { Random } from './random.ts';
import { type Outcome, runCases } from './run-cases.ts';
import { type WrittenQuantity, writeQuantity, writeUnreadable } from './write-quantity.ts';
import { writeYamlText } from './write-yaml-text.ts';

// The ways of a number from the text of a project to where it is computed with: given, end of a range, entry of the register, number in a
// formula. Each must have the value of its text, or be told.

const BASES = ['m', 'kg', 's', 'A', 'K'];

/** The unit of a dimension in base units. */
function unitOf(dimension: readonly number[]): string {
  const power = (i: number, exponent: number) => `${BASES[i]}^${exponent}`;
  const above = dimension.flatMap((one, i) => (one > 0 ? [power(i, one)] : []));
  const below = dimension.flatMap((one, i) => (one < 0 ? [power(i, -one)] : []));
  if (below.length === 0) return above.join(' ') || '1';
  return above.length === 0 ? ['1', ...below].join('/') : `${above.join(' ')}/(${below.join(' ')})`;
}

/** A quantity of ordinary size: what is computed with extremes is asked elsewhere. */
function drawQuantity(random: Random): WrittenQuantity {
  for (;;) {
    const drawn = writeQuantity(random);
    const size = Math.abs(drawn.si);
    const ordinary = size === 0 || (size > 1e-60 && size < 1e60);
    if (ordinary && drawn.dimension.every((one) => Math.abs(one) <= 9)) return drawn;
  }
}

const entry = (name: string, value: string, dimension: readonly number[], range = ''): string =>
  `  ${name}:\n    symbol: ${name}_x\n    meaning: trial\n    unit: ${unitOf(dimension)}\n    value: ${value}\n${range}`;

const memory = new Memory();

/** Evaluates a note with one block of the author's own formulas. */
function evaluate(register: string, givens: string, formula: string, unit: string) {
  const note = `${FRONT_MATTER}\n## Trial\n\n\`\`\`yaml formula\nid: trial\ngiven:\n${givens}steps:\n  step:\n    symbol: z\n    meaning: trial\n    unit: ${unit}\n    source: own\n    formula: ${formula}\n\`\`\`\n`;
  const project = `${PROJECT}  X1:\n    title: Trial\n${register}`;
  const { notes, diagnostics } = openProject(
    [
      ['project.yaml', project],
      ['001.md', note],
    ],
    { memory },
  ).state({});
  const errors = diagnostics.filter(({ severity }) => severity === 'error');
  return {
    text: `${project}\n${note}`,
    errors,
    block: notes[0]?.blocks[0]?.evaluated,
    bad: hasErrors(diagnostics),
  };
}

const near = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-14 * Math.abs(b);

test('a number that is written has its value wherever it is taken from', () =>
  runCases('routes', 800, (random, show) => {
    const quantities = Array.from({ length: 4 }, () => drawQuantity(random));
    const [given, registered, centre, inFormula] = quantities as [
      WrittenQuantity,
      WrittenQuantity,
      WrittenQuantity,
      WrittenQuantity,
    ];
    const range = `    range: [${[centre, centre].map(({ text }) => JSON.stringify(text)).join(', ')}]\n`;
    const { text, errors, block } = evaluate(
      `    part: ${writeYamlText(random, registered.text, '    ')}\n`,
      entry('a', writeYamlText(random, given.text, '    '), given.dimension) +
        entry('b', '!ref equipment.X1.part', registered.dimension) +
        entry('c', writeYamlText(random, centre.text, '    '), centre.dimension, range),
      JSON.stringify(asInFormula(inFormula.text)),
      unitOf(inFormula.dimension),
    );
    show(text);
    const found = errors.map(({ code, data }) => `${code} ${JSON.stringify(data)}`).join('; ');
    if (errors.length > 0 || !block) return { became: 'refused', fault: found || 'no block, and no error' };
    const read = block.givens.map(({ value }) =>
      value.type === 'quantity' ? value.quantity.si : Number.NaN,
    );
    const { result } = block.steps[0]!;
    const computed = result.type === 'number' ? result.si : Number.NaN;
    const { lowSi, highSi } = block.givens[2]!.range ?? { lowSi: centre.si, highSi: centre.si };
    const pairs = [...read, computed, lowSi, highSi].map(
      (one, i) => [one, [given, registered, centre, inFormula, centre, centre][i]!] as const,
    );
    const wrong = pairs.find(([one, { si }]) => !near(one, si));
    return {
      became: 'read',
      fault: wrong && `${JSON.stringify(wrong[1].text)} is ${wrong[1].si}, read as ${wrong[0]}`,
    };
  }));

/**
 * A quantity as formulas have it: there a blank is a product of units, a stroke with blanks around it a division of values, and digits
 * stand on both sides of a point.
 */
function asInFormula(text: string): string {
  return text
    .trim()
    .replaceAll(/[\u00a0\u2009\u202f]/g, ' ')
    .replaceAll(/\s*\/\s*/g, '/')
    .replaceAll(/\s*[*·]\s*/g, ' ')
    .replace(/^\+/, '')
    .replace(/^([-−]?\d+)\.(?!\d)/, '$1');
}

test('what people read differently is told, whichever way it comes', () =>
  runCases('unreadable-routes', 1500, (random, show) => {
    const text = writeUnreadable(random);
    const way = random.below(3);
    const good = '3 m';
    const written = (here: number): string => (way === here ? writeYamlText(random, text, '    ') : good);
    const { text: source, errors } = evaluate(
      `    part: ${written(0)}\n`,
      entry('a', written(1), [1, 0, 0, 0, 0]) +
        entry('b', '!ref equipment.X1.part', [1, 0, 0, 0, 0]) +
        entry(
          'c',
          good,
          [1, 0, 0, 0, 0],
          way === 2 ? `    plus_minus: ${writeYamlText(random, text, '    ')}\n` : '',
        ),
      '2 m',
      'm',
    );
    show(source);
    const outcome: Outcome = { became: errors.length > 0 ? 'refused' : 'read', fault: undefined };
    return errors.length > 0 ? outcome : { ...outcome, fault: `read: ${JSON.stringify(text)}` };
  }));

test('the note of the trials is sound', () => {
  const { errors, block } = evaluate('    part: 2 m\n', entry('a', '7 m', [1, 0, 0, 0, 0]), '3 * a', 'm');
  expect(errors).toEqual([]);
  expect(block?.steps[0]?.result).toMatchObject({ type: 'number', si: 21 });
});
