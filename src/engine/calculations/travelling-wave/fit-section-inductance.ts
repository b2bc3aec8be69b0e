import { unipolarCurrent8by20 } from '../../physics/surge-test-waveforms.ts';
import { earthNode } from '../../transient/element.ts';
import { currentSource } from '../../transient/elements/current-source.ts';
import {
  type ArresterFilter,
  arresterSections,
  frequencyDependentArrester,
} from '../../transient/elements/frequency-dependent-arrester.ts';
import { simulate } from '../../transient/simulate.ts';

/** The current of the residual voltage from which the sections are scaled: 10 kA 8/20. */
const NOMINAL_CURRENT = 10e3;

/** The crest of 8/20 comes at 11.7 us, the peak of the voltage before it. */
const DURATION = 16e-6;
const STEP = 10e-9;

/** Between these shares of its first value the inductance is looked for. */
const LEAST_SHARE = 1e-4;
const LARGEST_SHARE = 10;
const HALVINGS = 24;

/**
 * The filter with the inductance between the two sections adjusted until 10 kA 8/20 leaves the residual voltage (V), which is
 * how the working group has it (IEEE working group 3.4.11, from memory). Undefined where no inductance does.
 */
export function fitSectionInductance(
  residualVoltage: number,
  filter: ArresterFilter,
): ArresterFilter | undefined {
  const fitted = (share: number): ArresterFilter => ({
    ...filter,
    sectionInductance: filter.sectionInductance * share,
  });
  // The voltage rises with the inductance: the less of it, the sooner the second section takes over the current.
  const excess = (share: number): number => peakVoltage(residualVoltage, fitted(share)) - residualVoltage;
  let [low, high] = [LEAST_SHARE, LARGEST_SHARE];
  if (!(excess(low) <= 0 && excess(high) >= 0)) return undefined;
  for (let halving = 0; halving < HALVINGS; halving++) {
    const middle = Math.sqrt(low * high);
    if (excess(middle) > 0) high = middle;
    else low = middle;
  }
  return fitted(Math.sqrt(low * high));
}

/** Peak voltage (V) of the arrester under 10 kA 8/20; not a number where it cannot be computed. */
export function peakVoltage(residualVoltage: number, filter: ArresterFilter): number {
  const node = 'terminal';
  const elements = [
    currentSource({
      name: 'impulse',
      from: earthNode,
      to: node,
      waveform: unipolarCurrent8by20(NOMINAL_CURRENT),
    }),
    frequencyDependentArrester({
      name: 'arrester',
      from: node,
      to: earthNode,
      ...arresterSections(residualVoltage),
      filter,
    }),
  ];
  const run = simulate(
    { elements },
    { duration: DURATION, step: STEP, observe: [{ kind: 'voltage', node }] },
  );
  return run.ok ? run.result.records[0]!.peak : Number.NaN;
}
