import { test } from 'vitest';
import { readQuantity } from '../../src/quantity/read-quantity.ts';
import type { Random } from './random.ts';
import { runCases } from './run-cases.ts';
import { writeQuantity, writeUnreadable } from './write-quantity.ts';

/** Far less than the last digit of anything that is measured; the factors of feet and degrees are rounded once more than here. */
const ROUNDING = 1e-14;

test('a quantity in any of the spellings that are read has the value that a person reads', () =>
  runCases('spellings', 12_000, (random, show) => {
    const { text, si, dimension } = writeQuantity(random);
    show(text);
    const reading = readQuantity(text);
    const size = Math.abs(si);
    if (!reading.ok) {
      // What is beyond the numbers of a computer is refused, and that alone.
      const beyond = reading.problem.code === 'number-out-of-range' && (size > 1e200 || size < 1e-280);
      return { became: 'refused', fault: beyond ? undefined : `refused: ${JSON.stringify(reading.problem)}` };
    }
    const { value } = reading;
    if (Math.abs(value.si - si) > ROUNDING * size)
      return { became: 'read', fault: `read as ${value.si}, not ${si}` };
    const same = value.unit.dimension.every((one, i) => one === dimension[i]);
    return { became: 'read', fault: same ? undefined : `has the dimension ${value.unit.dimension}` };
  }));

test('what people read differently is refused', () =>
  runCases('unreadable', 6_000, (random, show) => {
    const text = writeUnreadable(random);
    show(text);
    const reading = readQuantity(text);
    return {
      became: reading.ok ? 'read' : 'refused',
      fault: reading.ok ? `read as ${reading.value.si}` : undefined,
    };
  }));

/** A spelling with one thing changed. */
function damage(random: Random, text: string): string {
  const at = random.below(text.length + 1);
  const put = random.pick([
    ..."0123456789.,eE+-−/^*·()²³ kmuµVAΩ%°'_",
    '\u00a0',
    '\u2009',
    '\u200b',
    '\ufeff',
    '..',
    '1/',
    '',
  ]);
  const cut = random.pick([0, 0, 1, 1, 2]);
  return text.slice(0, at) + put + text.slice(at + cut);
}

/** One number, perhaps a unit, perhaps words: what the handbook says a quantity is, as one pattern. */
const NUMBER = /^[+\-\u2212]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?(?![\d.,'’_])/;

test('a spelling with something changed has the value of its digits, or none', () =>
  runCases('changed-spellings', 12_000, (random, show) => {
    const text = damage(random, writeQuantity(random).text);
    show(text);
    const reading = readQuantity(text);
    if (!reading.ok) return { became: 'refused', fault: undefined };
    const number = NUMBER.exec(text.trim())?.[0];
    if (number === undefined) return { became: 'read', fault: 'read, though it begins with no number' };
    const rest = text.trim().slice(number.length);
    const value = Number(number.replace('\u2212', '-'));
    if (reading.value.value !== value) return { became: 'read', fault: `read as ${reading.value.value}` };
    // Digits that stand behind the number belong to exponents of the unit, or to a reciprocal.
    const loose = rest.replaceAll(/\^-?0*\d(?!\d)/g, '').replace(/^[ \u00a0\u2009\u202f]+1\s*\//, '');
    return { became: 'read', fault: /[\d.,]/.test(loose) ? `read as ${value}, without ${rest}` : undefined };
  }));
