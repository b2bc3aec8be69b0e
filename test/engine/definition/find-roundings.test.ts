import { expect, test } from 'vitest';
import { CALCULATIONS } from '../../../src/engine/calculations/registry.ts';
import { safeSideOf } from '../../../src/engine/definition/find-roundings.ts';
import { check, compiled, length, type Parts, run, step } from './made-up.ts';

const givens = { a: length('a'), b: length('b') };

test('a limit is printed rounded so that who keeps to it keeps to the true one, and the check agrees with the line above it', () => {
  const parts: Parts = {
    givens,
    steps: { most: step('m', 'a / 1.15'), least: step('n', 'a / 1.4') },
    checks: {
      below: check('b <= most'),
      above: check('b >= least'),
      written: check('b <= a / 1.15'),
      back: check('b > a / 1.4'),
    },
  };
  // 31 / 1.15 is 26.9565..., which to the nearest is 27.0; 31 / 1.4 is 22.142857...
  const found = run(parts, { a: '31 m', b: '24 m' });
  const text = (name: string) => {
    const { limit } = found.check(name);
    return limit?.type === 'number' ? limit.displayed.text : undefined;
  };
  expect(text('below')).toBe('26.9 m');
  expect(text('written')).toBe('26.9 m');
  expect(text('above')).toBe('22.2 m');
  expect(text('back')).toBe('22.2 m');
  for (const [name, printed] of [
    ['most', '26.9 m'],
    ['least', '22.2 m'],
  ] as const) {
    expect(found.step(name).result).toMatchObject({ displayed: { text: printed } });
  }
});

test('a value at its limit reads as at its limit, to whichever side that is rounded', () => {
  const parts: Parts = {
    givens,
    steps: { most: step('m', 'a / 7') },
    checks: { equal: check('(a + b) / 7 - b / 7 <= most') },
  };
  const found = run(parts, { a: '61 m', b: '3 m' });
  expect(found.check('equal')).toMatchObject({
    atLimit: true,
    value: { displayed: { text: '8.71 m' } },
    limit: { displayed: { text: '8.71 m' } },
  });
});

test('a value close to its limit has digits enough to be seen on its side', () => {
  const parts: Parts = { givens, steps: { most: step('m', 'a / 7') }, checks: { apart: check('b <= most') } };
  // 8.7142 and 8.7142857...: with fewer digits the limit would lie below the value that keeps to it.
  const { verdict, value, limit } = run(parts, { a: '61 m', b: '8.7142 m' }).check('apart');
  expect(verdict).toBe('complies');
  expect([value, limit]).toMatchObject([
    { displayed: { text: '8.7142 m' } },
    { displayed: { text: '8.71428 m' } },
  ]);
});

test('what a limit hands on unchanged is rounded as it is; a limit upwards and downwards at once to the nearest', () => {
  const { roundings } = compiled({
    givens,
    steps: {
      first: step('f', 'a / 3'),
      same: step('s', 'first'),
      between: step('d', 'a / 9'),
      free: step('e', 'a / 4'),
      shown: { ...step('g', 'free'), rounded: 'up' },
    },
    checks: {
      one: check('b <= same'),
      two: check('b <= between'),
      three: check('b >= between'),
      four: check('b >= shown'),
    },
  });
  expect(Object.fromEntries(roundings)).toEqual({ first: 'down', same: 'down', free: 'up', shown: 'up' });
});

test('no step of the catalogue declares another side than that of the checks whose limit it is', () => {
  let limits = 0;
  for (const { definition, checks, roundings } of CALCULATIONS.values()) {
    for (const { name, definition: checked, candidates } of checks) {
      for (const { limit } of candidates) {
        if (limit.root.type !== 'name') continue;
        limits += 1;
        expect(roundings.get(limit.root.name), `${definition.name}: ${name}`).toBe(
          safeSideOf(checked.relation),
        );
      }
    }
  }
  expect(limits).toBeGreaterThan(50);
});
