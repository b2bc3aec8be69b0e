import { describe, expect, it } from 'vitest';
import { CALCULATIONS } from '../../../src/engine/calculations/registry.ts';
import { runCalculation } from '../../../src/engine/definition/run-calculation.ts';
import { evidenceInputs } from '../../../src/engine/definition/run-evidence.ts';
import { spread, trials } from '../../support/at-length.ts';
import { ordinaryInputs, randomFrom } from '../calculations/ordinary-inputs.ts';
import { labelFaults } from './drawn-lines.ts';
import { readSvg } from './read-svg.ts';

const SEED = Number(process.env.HOSTILE_SEED ?? 20_310_514);
/** Runs of each calculation with other numbers than those of its evidence. */
const TRIALS = trials(1, 12);
/** Each run of these takes a tenth of a second or more. */
const SLOW = new Set(['surge-at-terminals', 'surge-statistics', 'spd-mounting-comparison', 'surge-network']);
const withFigure = [...CALCULATIONS].filter(([, { definition }]) => definition.figure);

function figureOf(name: string, inputs: ReturnType<typeof evidenceInputs>): string | undefined {
  const outcome = runCalculation(CALCULATIONS.get(name)!, inputs);
  return outcome.ok ? outcome.evaluated.figure?.svg : undefined;
}

/** Labels at fault, and whatever else makes a figure hard to read on paper. */
function faultsOf(svg: string): readonly string[] {
  const { attributes } = readSvg(svg);
  const [, , width] = attributes.viewBox!.split(' ').map(Number);
  const [paper, height] = [attributes.width!, attributes.height!].map(Number.parseFloat);
  return [
    ...labelFaults(svg),
    // A tenth of a millimetre is the unit of the drawing: anything else was scaled down to fit the column.
    ...(Math.abs(width! / 10 - paper!) > 0.01 ? [`scaled from ${width! / 10} mm to ${paper} mm`] : []),
    ...(height! > 170 ? [`${height} mm high`] : []),
    ...(/[.:] /.test(attributes['aria-label']!) && /\d/.test(attributes['aria-label']!)
      ? []
      : [`says no values: '${attributes['aria-label']}'`]),
  ];
}

describe.each(spread(withFigure, 7))('the figure of %s', (name, calculation) => {
  it('has no label over another or over a line, for each piece of evidence', () => {
    let drawn = 0;
    for (const { about, given } of calculation.definition.evidence) {
      const svg = figureOf(name, evidenceInputs(calculation, given));
      if (svg === undefined) continue;
      drawn += 1;
      expect(faultsOf(svg), about).toEqual([]);
    }
    expect(drawn).toBeGreaterThan(0);
  });

  it('has none with other numbers', () => {
    const random = randomFrom(SEED, name);
    for (let trial = 0; trial < (SLOW.has(name) ? Math.min(TRIALS, 2) : TRIALS); trial += 1) {
      const svg = figureOf(name, ordinaryInputs(calculation, random));
      if (svg !== undefined) expect(faultsOf(svg), `trial ${trial}`).toEqual([]);
    }
  });
});
