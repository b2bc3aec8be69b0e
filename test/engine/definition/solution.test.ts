import { expect, test } from 'vitest';
import type { SolutionOutcome, SolverValues, StepValues } from '../../../src/engine/definition/definition.ts';
import { oneByOne } from '../../../src/engine/definition/piece-task.ts';
import { Memory } from '../../../src/memory/memory.ts';
import { basis, check, compiled, faultsOf, length, run, step, type Written } from './made-up.ts';

let worked = 0;

function solve(values: SolverValues): SolutionOutcome {
  worked++;
  const a = values.number('a');
  if (a > 100) return { refused: 'no more than a hundred metres' };
  return { results: { half: a / 2, third: a > 10 ? { words: 'too long' } : a / 3 }, drawn: [a] };
}

const wording = { meaning: 'a part', unit: 'm', basis, resultOf: 'parts', method: 'cut' } as const;
const parts = {
  givens: { a: length('a'), b: length('b') },
  solutions: { parts: { needs: ['a'], mayUse: ['b'], solve } },
  steps: { half: { symbol: 'h', ...wording }, third: { symbol: 't', ...wording, says: ['too long'] } },
  checks: { short: check('half <= 4 m') },
};

test('a solution is worked once for all its values, and again where a range asks for another value', () => {
  worked = 0;
  const stated = run(parts, { a: '6 m' });
  expect([stated.result('half'), stated.result('third'), worked]).toEqual([3, 2, 1]);
  expect(run(parts, { a: '12 m' }).result('third')).toBe('too long');
  expect(stated.step('half')).toMatchObject({ kind: 'solver', origin: 'cut' });
  // Without a memory nothing outlives an evaluation: the same values are worked again.
  worked = 0;
  run(parts, { a: '6 m' });
  expect(worked).toBe(1);
  const ranged = run(parts, { a: '6 m; 5 m .. 9 m' });
  expect(ranged.check('short')).toMatchObject({ verdict: 'does-not-comply', value: { si: 4.5 } });
});

test('with a memory a solution is worked anew only where a value that it read is another', () => {
  let count = 0;
  const solveAnew = (values: StepValues): SolutionOutcome => {
    count++;
    const grown = values.again({ a: values.number('a') + 1 });
    return { results: { half: grown.number('area') / 2, third: values.has('c') ? 9 : 3 } };
  };
  const calculation = compiled({
    ...parts,
    givens: { a: length('a'), b: length('b'), c: length('c'), d: length('d') },
    solutions: { parts: { needs: ['a'], mayUse: ['b', 'c'], solve: solveAnew } },
    steps: { area: step('s', 'a + 2 * b'), ...parts.steps, more: step('m', 'half + d') },
  });
  const tools = { spread: oneByOne, memory: new Memory() };
  const half = (given: Written) => {
    const before = count;
    const result = run(calculation, given, tools).result('half');
    expect(result).toBe(run(calculation, given).result('half'));
    return [result, count - before - 1];
  };
  expect(half({ a: '6 m', b: '2 m', d: '1 m' })).toEqual([5.5, 1]);
  // `d` is not read at all, `b` only by what is worked anew.
  expect(half({ a: '6 m', b: '2 m', d: '7 m' })).toEqual([5.5, 0]);
  expect(half({ a: '6 m', b: '4 m', d: '7 m' })).toEqual([7.5, 1]);
  expect(half({ a: '8 m', b: '4 m', d: '7 m' })).toEqual([8.5, 1]);
  expect(half({ a: '8 m', b: '4 m', d: '7 m', c: '1 m' })).toEqual([8.5, 1]);
  expect(half({ a: '6 m', b: '2 m', d: '2 m' })).toEqual([5.5, 0]);
});

test('a refusal is told once, and a missing given by its name', () => {
  expect(run(parts, { a: '101 m' }).faults).toHaveLength(1);
  expect(run(parts, { a: '101 m' }).faults[0]).toContain('no more than a hundred metres');
  expect(run(parts, {}).faults).toHaveLength(1);
});

test('the figure gets what the solution gave to be drawn', () => {
  const draw = (seen: unknown) => `<svg>${JSON.stringify(seen)}</svg>`;
  const figure = {
    caption: 'c',
    draw: (view: { drawn(name: string): unknown }) => draw(view.drawn('parts')),
  };
  expect(run({ ...parts, figure }, { a: '6 m' }).evaluated!.figure!.svg).toBe('<svg>[6]</svg>');
});

test('misspelt names of solutions, needs and results are refused with the nearest', () => {
  const steps = { half: { ...parts.steps.half, resultOf: 'part' }, third: parts.steps.third };
  const solutions = { parts: { needs: ['aa'], mayUse: ['b'], solve } };
  const faults = faultsOf({ ...parts, steps, solutions });
  expect(faults).toContainEqual(expect.stringMatching(/^steps\.half\.resultOf: .*'part'.*parts/));
  expect(faults).toContainEqual(expect.stringMatching(/^solutions\.parts: .*'aa'.*'a'/));
  const strange = compiled({
    ...parts,
    steps: { ...parts.steps, quarter: { symbol: 'q', ...wording } },
  });
  expect(() => run(strange, { a: '6 m' })).toThrow("gives no 'quarter'");
});
