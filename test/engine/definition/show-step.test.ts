import { expect, test } from 'vitest';
import type { StepDefinition } from '../../../src/engine/definition/definition.ts';
import { writeTex } from '../../../src/page/math/write-tex.ts';
import { evaluateTex } from '../../support/evaluate-tex.ts';
import { basis, check, length, number, type Parts, run, step } from './made-up.ts';

const shown = (parts: Parts, given: Readonly<Record<string, string>>, name: string) => {
  const { result, numbers } = run(parts, given).step(name);
  return {
    text: result.type === 'number' ? result.displayed.text : '',
    numbersTex: numbers ? writeTex(numbers) : '',
  };
};
const givens = { a: length('a'), b: length('b'), n: number('n') };

test('a line whose numbers cancel gets the digits with which it recomputes', () => {
  const parts: Parts = {
    givens,
    steps: { s: step('s', 'a / 3'), t: step('t', 'b / 3'), d: step('d', 's - t') },
  };
  // 33.5 less 33.3666... is 0.1333...; with three digits the line would read 33.5 - 33.4.
  const line = shown(parts, { a: '100.5 m', b: '100.1 m' }, 'd');
  expect(line.text).toBe('0.133 m');
  expect(line.numbersTex).toMatch(/33\.5\\,.*33\.367/);
  // One value has one rounding: its own line has the digits too, and the other, which is 33.5, none that it does not need.
  expect(shown(parts, { a: '100.5 m', b: '100.1 m' }, 't').text).toBe('33.367 m');
  expect(shown(parts, { a: '100.5 m', b: '100.1 m' }, 's').text).toBe('33.5 m');
});

test('digits go back through the lines on which a line rests', () => {
  const parts: Parts = {
    givens,
    steps: { s: step('s', 'a / 7'), t: step('t', 's * 2'), d: step('d', 't - b') },
  };
  // 0.3 / 7 is 0.042857, twice that 0.085714, less 0.0857 is 0.0000143: the line reads 0.085714... of which its own line is made.
  const found = run(parts, { a: '0.3 m', b: '0.0857 m' });
  const text = (name: string) => {
    const { result } = found.step(name);
    return result.type === 'number' ? result.displayed.value : Number.NaN;
  };
  expect(Math.abs(text('t') - 0.0857 - text('d'))).toBeLessThan(1.01e-7);
  expect(Math.abs(text('s') * 2 - text('t'))).toBeLessThan(1.01e-7);
  expect(writeTex(found.step('d').numbers!)).toContain(String(text('t')));
});

test('what was entered is printed as entered, what was computed rounded', () => {
  const parts: Parts = { givens, steps: { s: step('s', 'a / 3'), d: step('d', 's + b') } };
  const line = shown(parts, { a: '10 m', b: '2.123456 m' }, 'd');
  expect(line.numbersTex).toContain('3.33');
  expect(line.numbersTex).toContain('2.123456');
});

test('a sum of entered numbers is as exact as these, up to five digits', () => {
  const parts: Parts = { givens, steps: { d: step('d', 'a - b') } };
  expect(shown(parts, { a: '17.35 m', b: '2.4 m' }, 'd').text).toBe('14.95 m');
  expect(shown(parts, { a: '0.85 m', b: '0.3 m' }, 'd').text).toBe('0.550 m');
  // The millimetre is nothing beside kilometres.
  expect(shown(parts, { a: '2345.6 m', b: '0.001 m' }, 'd').text).toBe('2346 m');
  // What was computed is exact to no digit.
  const computed: Parts = { givens, steps: { s: step('s', 'a / 3'), d: step('d', 's + b') } };
  expect(shown(computed, { a: '50.1 m', b: '2.46 m' }, 'd').text).toBe('19.2 m');
});

test('declared digits, and the safe side to which a step is rounded', () => {
  const rounded = (direction: 'up' | 'down'): StepDefinition => ({
    ...step('r', 'a / 3'),
    rounded: direction,
  });
  const parts: Parts = {
    givens,
    steps: { up: rounded('up'), down: rounded('down'), many: { ...step('m', 'a / 3'), digits: 6 } },
  };
  const found = run(parts, { a: '10 m' });
  const texts = ['up', 'down', 'many'].map((name) => {
    const { result } = found.step(name);
    return result.type === 'number' ? result.displayed.text : '';
  });
  expect(texts).toEqual(['3.34 m', '3.33 m', '3.33333 m']);
});

test('what is rounded to its safe side reads the same in its check', () => {
  const parts: Parts = {
    givens,
    steps: { r: { ...step('r', 'a / 3'), rounded: 'up' } },
    checks: { it: check('r <= b') },
  };
  expect(run(parts, { a: '10 m', b: '4 m' }).check('it').value).toMatchObject({
    displayed: { text: '3.34 m' },
  });
});

test('what is rounded to its safe side reads the same where a formula takes its number', () => {
  const power = { ...step('p', 'r^0.5'), unit: '1', numeric: { r: 'm' } };
  const parts: Parts = { givens, steps: { r: { ...step('r', 'a / 3'), rounded: 'up' }, p: power } };
  expect(shown(parts, { a: '10 m' }, 'p').numbersTex).toContain('3.34');
});

test('an entered value keeps all its digits where a formula takes its number, in the unit of the formula', () => {
  const power = (unit: string) => ({ ...step('p', 'a^3'), unit: '1', numeric: { a: unit } });
  const parts: Parts = { givens, steps: { metres: power('m'), millimetres: power('mm'), feet: power('ft') } };
  const line = (entered: string, name: string) => shown(parts, { a: entered }, name).numbersTex;
  expect(line('1.4375 m', 'metres')).toContain('1.4375');
  expect(line('1.4375 m', 'millimetres')).toContain('1437.5');
  expect(line('6 m', 'metres')).toMatch(/\b6\^/);
  // What no decimal number says in full stands with no more digits than its line needs.
  const [, feet] = /([\d.]+)\^/.exec(line('2 m', 'feet'))!;
  expect(feet).toMatch(/^6\.56\d{0,2}$/);
});

test('counts read as such in their check', () => {
  const parts: Parts = {
    givens,
    steps: { m: { ...step('m', 'n + 2'), unit: '1' } },
    checks: { it: check('m <= 9') },
  };
  const { value, limit } = run(parts, { n: '4' }).check('it');
  expect([value, limit]).toMatchObject([{ displayed: { text: '6' } }, { displayed: { text: '9' } }]);
});

test('a line says once what it only hands on', () => {
  const parts: Parts = {
    givens,
    steps: { same: step('s', 'a'), fixed: step('f', '3 m'), more: step('m', 'a + 1 m') },
  };
  const found = run(parts, { a: '2 m' });
  expect(['same', 'fixed', 'more'].map((name) => found.step(name).numbers === undefined)).toEqual([
    true,
    true,
    false,
  ]);
});

test('the printed numbers of every line recompute to its printed result within one of its last digit', () => {
  const parts: Parts = {
    givens,
    steps: {
      root: { symbol: 'q', meaning: 'q', unit: 'm', basis, formula: 'sqrt(a * b)' },
      small: step('w', 'root - a'),
      share: { symbol: 'p', meaning: 'p', unit: '1', basis, formula: 'small / (a - b)' },
    },
  };
  for (const [a, b] of [
    ['7.1', '7.09'],
    ['1000', '999.99'],
    ['0.003', '0.0030001'],
    ['5', '17'],
  ] as const) {
    const found = run(parts, { a: `${a} m`, b: `${b} m` });
    for (const name of ['root', 'small', 'share']) {
      const { numbers, result } = found.step(name);
      if (result.type !== 'number' || !numbers) continue;
      expect(Math.abs(evaluateTex(writeTex(numbers)) - result.displayed.value)).toBeLessThanOrEqual(
        result.displayed.lastDigit * 1.000001,
      );
    }
  }
});

test('what a line only hands on has the digits of what it hands on, entered or computed, and the other way round', () => {
  const text = (found: ReturnType<typeof run>, name: string) => {
    const { result } = found.step(name);
    return result.type === 'number' ? result.displayed.text : '';
  };
  const parts: Parts = {
    givens,
    steps: { entered: step('e', 'a'), s: step('s', 'a / 3'), same: step('t', 's'), d: step('d', 's - b') },
  };
  // 214.85 / 3 is 71.61666..., less 71.5 is 0.11666...: the line wants 71.617, and what is the same has it too.
  const found = run(parts, { a: '214.85 m', b: '71.5 m' });
  expect(text(found, 'entered')).toBe('214.85 m');
  expect(text(found, 'same')).toBe(text(found, 's'));
  expect(text(found, 'same')).toBe('71.617 m');
  const back = run(
    { givens, steps: { coarse: step('c', 'a / 3'), fine: { ...step('f', 'coarse'), digits: 5 } } },
    { a: '214.85 m' },
  );
  expect(text(back, 'coarse')).toBe('71.617 m');
});

test('what a line only hands on stands as it was entered, in lines, checks and rows, also over several lines', () => {
  const parts: Parts = {
    givens,
    steps: {
      on: { ...step('o', 'a'), digits: 4 },
      further: step('f', 'on'),
      kilo: { ...step('k', 'further'), unit: 'km' },
      product: step('p', 'further * n'),
    },
    checks: { it: check('product <= further') },
  };
  const found = run(parts, { a: '40 m', n: '0.3' });
  for (const [name, text] of Object.entries({ on: '40 m', further: '40 m', kilo: '0.04 km' })) {
    expect(found.step(name).result).toMatchObject({ displayed: { text } });
  }
  expect(writeTex(found.step('product').numbers!)).toMatch(/^40\\,/);
  expect(found.check('it').limit).toMatchObject({ displayed: { text: '40 m' } });
  // The noughts that somebody wrote stay too.
  expect(run(parts, { a: '2.50 m', n: '0.3' }).step('further').result).toMatchObject({
    displayed: { print: '2.50\u00a0m' },
  });
  const rows: Parts = {
    givens: { lines: { type: 'rows', index: 'i', meaning: 'lines', columns: { reach: length('l_i') } } },
    steps: { each: { ...step('e_i', 'lines.reach'), over: 'lines' } },
  };
  expect(run(rows, { lines: [{ reach: '5 m' }, { reach: '0.75 m' }] }).step('each').result).toMatchObject({
    items: [{ displayed: { text: '5 m' } }, { displayed: { text: '0.75 m' } }],
  });
});

test('a check prints a value with the digits that its step declares, where they suffice', () => {
  const parts: Parts = {
    givens,
    steps: { s: { ...step('s', 'a / 7'), digits: 2 } },
    checks: { far: check('s <= b') },
  };
  expect(run(parts, { a: '0.63 m', b: '0.2 m' }).check('far').value).toMatchObject({
    displayed: { text: '0.090 m' },
  });
  // 0.0994 of 0.0996: with two digits both would be 0.099 or 0.10.
  const close = run(parts, { a: '0.6958 m', b: '0.0996 m' });
  expect(close.check('far').value).toMatchObject({ displayed: { text: '0.0994 m' } });
  expect(close.step('s').result).toMatchObject({ displayed: { text: '0.0994 m' } });
});

test('the largest of several stands as it was entered, where it is one of those that were', () => {
  const parts: Parts = {
    givens: {
      ...givens,
      lines: { type: 'rows', index: 'i', meaning: 'lines', columns: { reach: length('l_i') } },
    },
    steps: {
      s: step('s', 'a / 3'),
      most: step('m', 'max(s, b)'),
      furthest: step('f', 'max(lines.reach over lines)'),
    },
  };
  const text = (b: string, name: string) => {
    const { result } = run(parts, { a: '50 m', b, lines: [{ reach: '5 m' }, { reach: '64 m' }] }).step(name);
    return result.type === 'number' ? result.displayed.text : '';
  };
  expect(text('17 m', 'most')).toBe('17 m');
  expect(text('16 m', 'most')).toBe('16.7 m');
  expect(text('16 m', 'furthest')).toBe('64 m');
});

test('a result has in its line, and where it is put in, the notation in which it is compared', () => {
  const parts: Parts = {
    givens,
    steps: { s: step('s', 'a * 3'), t: step('t', 's'), d: step('d', 't - b / 1000') },
    checks: { one: check('t <= b') },
  };
  const far = run(parts, { a: '804 m', b: '3000000 m' });
  for (const name of ['s', 't']) {
    expect(far.step(name).result).toMatchObject({ displayed: { text: '2.412e3 m' } });
  }
  expect(far.check('one').value).toMatchObject({ displayed: { text: '2.412e3 m' } });
  expect(writeTex(far.step('d').numbers!)).toMatch(/^2\.412 \\times/);
  expect(run(parts, { a: '804 m', b: '30000 m' }).step('s').result).toMatchObject({
    displayed: { text: '2412 m' },
  });
});

test('numbers that are compared have one notation', () => {
  const parts: Parts = { givens, steps: { s: step('s', 'a * 2') }, checks: { one: check('s <= b') } };
  const sides = (a: string, b: string) => {
    const { value, limit } = run(parts, { a, b }).check('one');
    return [value, limit].map((side) => (side?.type === 'number' ? side.displayed.print : ''));
  };
  expect(sides('1213 m', '2500000 m')).toEqual(['2.426 × 10³\u00a0m', '2.5 × 10⁶\u00a0m']);
  expect(sides('0.00002 m', '0.04 m')).toEqual(['4.00 × 10⁻⁵\u00a0m', '4 × 10⁻²\u00a0m']);
  expect(sides('1213 m', '250000 m')).toEqual(['2426\u00a0m', '250000\u00a0m']);
  expect(sides('0 m', '2500000 m')).toEqual(['0\u00a0m', '2.5 × 10⁶\u00a0m']);
});
