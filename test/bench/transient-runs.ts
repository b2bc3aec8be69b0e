import { lightningStroke } from '../../src/engine/physics/heidler.ts';
import type { SurgeElement } from '../../src/engine/transient/element.ts';
import { capacitor } from '../../src/engine/transient/elements/capacitor.ts';
import { currentSource } from '../../src/engine/transient/elements/current-source.ts';
import { inductor } from '../../src/engine/transient/elements/inductor.ts';
import { line } from '../../src/engine/transient/elements/line.ts';
import { resistor } from '../../src/engine/transient/elements/resistor.ts';
import { type Simulation, simulate } from '../../src/engine/transient/simulate.ts';
import type { ComparedNetwork } from '../../src/verification/compared-network.ts';

/** What the benchmark of the surge solver runs. */

export function runCompared({ elements, compared, duration, step }: ComparedNetwork): Simulation {
  const observe = compared.map(({ observation }) => observation);
  // A run of a step or two has no energy to balance.
  const outcome = simulate({ elements }, { duration, step, observe, energyLimit: Number.POSITIVE_INFINITY });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.result;
}

/** Lines of unequal length in a row, each node with a resistor to earth: as many blocks as nodes. */
export function chainOfLines(nodes: number): SurgeElement[] {
  const spans = Array.from({ length: nodes - 1 }, (_, index) => [
    line({
      name: `L${index}`,
      from: `n${index}`,
      to: `n${index + 1}`,
      surgeImpedance: 400,
      delay: (100 + (index % 7)) * 1e-9,
    }),
    resistor({ name: `R${index}`, from: `n${index + 1}`, to: 'earth', resistance: 5e3 }),
  ]);
  return [stroke, resistor({ name: 'R', from: 'n0', to: 'earth', resistance: 400 }), ...spans.flat()];
}

/** Inductances in a row with capacitances to earth: one block with as many unknowns as nodes. */
export function ladder(nodes: number): SurgeElement[] {
  const sections = Array.from({ length: nodes - 1 }, (_, index) => [
    inductor({ name: `L${index}`, from: `n${index}`, to: `n${index + 1}`, inductance: 10e-6 }),
    capacitor({ name: `C${index}`, from: `n${index + 1}`, to: 'earth', capacitance: 60e-12 }),
  ]);
  return [stroke, resistor({ name: 'R', from: 'n0', to: 'earth', resistance: 400 }), ...sections.flat()];
}

const stroke = currentSource({
  name: 'S',
  from: 'earth',
  to: 'n0',
  waveform: lightningStroke('1/200', 10e3),
});
