import { expect, test } from 'vitest';
import { CALCULATIONS } from '../../../src/engine/calculations/registry.ts';
import type { EvaluatedCalculation } from '../../../src/engine/definition/evaluated.ts';
import { runCalculation } from '../../../src/engine/definition/run-calculation.ts';
import { evidenceInputs } from '../../../src/engine/definition/run-evidence.ts';

/** '12.75 m' as number, unit and one unit of its last digit; ticks and bars of scales have no three digits. */
const NUMBER = /(−?\d+(?:\.\d+)?)[ \u00a0]([A-Za-zµΩ%°][A-Za-zµΩ/]*)/g;

/** Those that simulate: each run takes seconds. */
const SLOW = ['surge-at-terminals', 'surge-network', 'surge-statistics'];

interface Read {
  readonly text: string;
  readonly value: number;
  readonly unit: string;
  readonly lastDigit: number;
}

function readNumbers(text: string): Read[] {
  return [...text.matchAll(NUMBER)].map(([all, number, unit]) => ({
    text: all.replace('\u00a0', ' '),
    value: Number(number!.replace('−', '-')),
    unit: unit!,
    lastDigit: 10 ** -(number!.split('.')[1]?.length ?? 0),
  }));
}

function printsOf({ givens, steps }: EvaluatedCalculation): Read[] {
  const results = steps.flatMap(({ result }) => {
    if (result.type === 'number') return [result.displayed.print];
    return result.type === 'list' ? result.items.map(({ displayed }) => displayed.print) : [];
  });
  return [...givens.map(({ print }) => print), ...results].flatMap(readNumbers);
}

/** Labels, and what the drawing is called for those who do not see it. */
function textsOf(svg: string): string {
  const [, alternative = ''] = /aria-label="([^"]*)"/.exec(svg) ?? [];
  return `${alternative}\n${svg.replace(/<[^>]+>/g, '\n')}`;
}

/** A label that is a rounding of a printed value and not that value. */
function misreadings(evaluated: EvaluatedCalculation): string[] {
  const prints = printsOf(evaluated);
  const labels = readNumbers(textsOf(evaluated.figure!.svg)).filter(
    ({ text }) => text.replace(/\D/g, '').length >= 3,
  );
  return labels.flatMap((label) => {
    const alike = prints.filter(
      ({ unit, value }) =>
        unit === label.unit && Math.abs(value - label.value) <= label.lastDigit * (0.5 + 1e-9),
    );
    const isPrinted = alike.length === 0 || alike.some(({ value }) => value === label.value);
    return isPrinted ? [] : [`${label.text} for ${alike.map(({ text }) => text).join(', ')}`];
  });
}

test('a figure prints no value otherwise than the calculation', () => {
  let drawn = 0;
  const found: string[] = [];
  for (const calculation of CALCULATIONS.values()) {
    if (SLOW.includes(calculation.name)) continue;
    for (const { given } of calculation.definition.evidence) {
      const outcome = runCalculation(calculation, evidenceInputs(calculation, given));
      if (!outcome.ok || !outcome.evaluated.figure) continue;
      drawn += 1;
      found.push(...misreadings(outcome.evaluated).map((one) => `${calculation.name}: ${one}`));
    }
  }
  expect(found).toEqual([]);
  expect(drawn).toBeGreaterThan(50);
});

test('also where a value has more digits than usual, or was typed with fewer', () => {
  const calculation = CALCULATIONS.get('arrester-connection')!;
  // 1.37 m + 11.13 m + 0.25 m are 12.75 m, of which 10 kV/m are 127.5 kV, and not 128 kV.
  const outcome = runCalculation(
    calculation,
    evidenceInputs(calculation, {
      arrangement: 'separate-earths',
      residual_voltage: '41 kV',
      line_lead: '1.37 m',
      earth_lead: '11.13 m',
      arrester_height: '0.25 m',
      earth_resistance: '31.7 ohm',
      current: '5 kA',
      steepness: '10 kA/us',
      impulse_withstand: '95 kV',
    }),
  );
  if (!outcome.ok) throw new Error('it can be calculated');
  expect(misreadings(outcome.evaluated)).toEqual([]);
  expect(/arrester 41\skV/.test(outcome.evaluated.figure!.svg)).toBe(true);
});
