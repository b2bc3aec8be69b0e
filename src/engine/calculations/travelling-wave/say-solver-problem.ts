import { displaySi } from '../../../quantity/display.ts';
import { readUnit } from '../../../quantity/unit.ts';
import type { Sentence, Text } from '../../../words/sentence.ts';
import { refusal } from '../../definition/refusal.ts';
import type { SolverProblem } from '../../transient/solver-problem.ts';

/** How an element is called in a message: by its name, or with its row. */
export type NameElement = (element: string) => Text;

/** Why a network could not be computed, as a sentence. */
export function saySolverProblem(
  fault: SolverProblem,
  name: NameElement = (element) => `'${element}'`,
): Sentence {
  switch (fault.code) {
    case 'empty-network':
      return refusal(fault.code, 'the network has no elements');
    case 'duplicate-name':
      return refusal(fault.code, 'two elements are called {element}: every element needs a name of its own', {
        element: name(fault.element),
      });
    case 'invalid-value':
      return sayInvalidValue(fault, name);
    case 'short-circuited':
      return refusal(fault.code, "{element} has both ends at node '{node}'", {
        element: name(fault.element),
        node: fault.node,
      });
    case 'dangling-node':
      return refusal(fault.code, "only {element} reaches node '{node}', so that no current can flow there", {
        element: name(fault.element),
        node: fault.node,
      });
    case 'floating-part':
      return refusal(fault.code, 'there is no current path to earth from {nodes} (at {elements})', {
        nodes: fault.nodes.map((node) => `'${node}'`),
        elements: fault.elements.map(name),
      });
    case 'voltage-source-loop':
      return refusal(fault.code, 'ideal voltage sources form a loop: {elements}', {
        elements: fault.elements.map(name),
      });
    case 'unknown-node':
      return refusal(fault.code, "no element has a node '{node}'", { node: fault.node });
    case 'unknown-element':
      return refusal(fault.code, "there is no element '{element}'; the elements are {known}", {
        element: fault.element,
        known: fault.known.join(', '),
      });
    case 'unknown-terminal':
      return refusal(fault.code, '{element} has no terminal {terminal}', {
        element: name(fault.element),
        terminal: fault.terminal,
      });
    case 'invalid-duration':
      return refusal(fault.code, 'a duration of {duration} cannot be computed in steps of {step}', {
        duration: show(fault.duration, 'us'),
        step: show(fault.step, 'ns'),
      });
    case 'step-longer-than-delay':
      return refusal(
        fault.code,
        'a step of {step} is longer than the {delay} that a wave needs along {element}',
        { step: show(fault.step, 'ns'), delay: show(fault.delay, 'ns'), element: name(fault.element) },
      );
    case 'too-many-steps':
      return refusal(
        fault.code,
        '{steps} steps of {step} are more than the {limit} that are allowed: a shorter duration, or a longer shortest line',
        { steps: count(fault.steps), step: show(fault.step, 'ns'), limit: fault.limit },
      );
    case 'too-many-values':
      return refusal(
        fault.code,
        '{steps} steps of {step} with {observed} voltages and currents to be kept are more than the {limit} values that are allowed: a shorter duration, a longer shortest line, or fewer nodes to observe',
        {
          steps: count(fault.steps),
          step: show(fault.step, 'ns'),
          observed: fault.observed,
          limit: fault.limit,
        },
      );
    case 'line-too-long':
      return refusal(
        fault.code,
        'a wave needs {delay} along {element}, or {steps} steps of {step}; with all lines more than the {limit} that are allowed: a shorter line, a longer shortest line or front, or a longer step',
        {
          delay: show(fault.delay, 'us'),
          element: name(fault.element),
          steps: count(fault.steps),
          step: show(fault.step, 'ns'),
          limit: fault.limit,
        },
      );
    case 'too-much-work':
      return refusal(
        fault.code,
        '{steps} steps of {step} with {elements} elements take too long ({limit} are allowed in all): a shorter duration, a longer shortest line, or fewer elements',
        {
          steps: count(fault.steps),
          step: show(fault.step, 'ns'),
          elements: fault.elements,
          limit: fault.limit,
        },
      );
    case 'values-too-far-apart':
      return refusal(
        fault.code,
        'the values of {elements} are too far apart: the effect of the one is lost in the rounding of the other',
        { elements: [...new Set(fault.elements)].map(name) },
      );
    case 'not-converged':
      return refusal(
        fault.code,
        'no solution was found at {element} after {time}: at {voltage} and {current} the voltages differ by {residual} after {iterations} iterations',
        {
          element: name(fault.element),
          time: show(fault.time, 'us'),
          voltage: show(fault.voltage, 'kV'),
          current: show(fault.current, 'A'),
          residual: show(fault.residual, 'V'),
          iterations: fault.iterations,
        },
      );
    case 'energy-imbalance':
      return refusal(
        fault.code,
        'the energy balance does not close, by {relative} (limit {limit}) with steps of {step}: {supplied} supplied, {accounted} accounted for',
        {
          relative: show(fault.relative, '%'),
          limit: show(fault.limit, '%'),
          step: show(fault.step, 'ns'),
          supplied: show(fault.supplied, 'J'),
          accounted: show(fault.accounted, 'J'),
        },
      );
    case 'step-not-settled':
      return refusal(
        fault.code,
        'after {halvings} halvings of the step, down to {step}, a peak still changes by {change} (tolerance {tolerance})',
        {
          halvings: fault.halvings,
          step: show(fault.step, 'ns'),
          change: show(fault.change, '%'),
          tolerance: show(fault.tolerance, '%'),
        },
      );
  }
}

/** Several at once: one sentence that holds them all. */
export function saySolverProblems(problems: readonly SolverProblem[]): Sentence {
  const [first, ...others] = problems.map((problem) => saySolverProblem(problem));
  return first && others.length === 0
    ? first
    : refusal('several', '{reasons}', { reasons: first ? [first, ...others] : [] });
}

const REQUIREMENTS = {
  positive: 'above zero',
  'not negative': 'zero or more',
  finite: 'finite',
  'at most 1': 'at most 1',
  rising: 'above the point before it',
  'two points': 'two points or more',
  definite: 'less than the geometric mean of the inductances',
} as const;

function sayInvalidValue(
  fault: Extract<SolverProblem, { code: 'invalid-value' }>,
  name: NameElement,
): Sentence {
  const { requirement, value } = fault;
  const data = { element: name(fault.element), quantity: fault.quantity.replaceAll('_', ' ') };
  if (!Number.isFinite(value)) {
    return refusal(
      'value-beyond-numbers',
      '{element}: its {quantity} is beyond the numbers that can be computed with',
      data,
    );
  }
  const shown = fault.quantity.endsWith('inductance') ? show(value, 'uH') : String(value);
  return refusal(
    `invalid-value.${requirement.replaceAll(' ', '-')}`,
    `{element}: {quantity} of {value} must be ${REQUIREMENTS[requirement]}`,
    { ...data, value: shown },
  );
}

/** '120000', '3.4e21' */
function count(number: number): Text {
  return Number.isFinite(number) ? String(Number(number.toPrecision(6))) : refusal('countless', 'countless');
}

function show(si: number, unit: string): Text {
  if (!Number.isFinite(si)) return refusal('beyond-numbers', 'a value too large to be computed');
  const reading = readUnit(unit);
  if (!reading.ok) throw new Error(`no unit '${unit}'`);
  return displaySi(si, reading.value).text;
}
