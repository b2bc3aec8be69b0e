import { displaySi } from '../../../quantity/display.ts';
import { readUnit } from '../../../quantity/unit.ts';
import type { SolverProblem } from '../../transient/solver-problem.ts';

/** How an element is called in a message: by its name, or with its row. */
export type NameElement = (element: string) => string;

/** Why a network could not be computed, in the words of the note. */
export function wordSolverProblem(
  fault: SolverProblem,
  name: NameElement = (element) => `'${element}'`,
): string {
  switch (fault.code) {
    case 'empty-network':
      return 'the network has no elements';
    case 'duplicate-name':
      return `two elements are called ${name(fault.element)}: every element needs a name of its own`;
    case 'invalid-value':
      return wordInvalidValue(fault, name);
    case 'short-circuited':
      return `${name(fault.element)} has both ends at node '${fault.node}'`;
    case 'dangling-node':
      return `only ${name(fault.element)} reaches node '${fault.node}', so that no current can flow there`;
    case 'floating-part':
      return `no path of current leads to earth from ${listOf(fault.nodes.map((node) => `'${node}'`))} (at ${listOf(fault.elements.map(name))})`;
    case 'voltage-source-loop':
      return `ideal voltage sources lie in a loop: ${listOf(fault.elements.map(name))}`;
    case 'unknown-node':
      return `no element has a node '${fault.node}'`;
    case 'unknown-element':
      return `there is no element '${fault.element}'; the elements are ${fault.known.join(', ')}`;
    case 'unknown-terminal':
      return `${name(fault.element)} has no terminal ${fault.terminal}`;
    case 'invalid-duration':
      return `a duration of ${show(fault.duration, 'us')} cannot be computed in steps of ${show(fault.step, 'ns')}`;
    case 'step-longer-than-delay':
      return `a step of ${show(fault.step, 'ns')} is longer than the ${show(fault.delay, 'ns')} that a wave needs along ${name(fault.element)}`;
    case 'too-many-steps':
      return `${count(fault.steps)} steps of ${show(fault.step, 'ns')} are more than the ${fault.limit} that are allowed: a shorter duration, or a longer shortest line`;
    case 'too-many-values':
      return `${count(fault.steps)} steps of ${show(fault.step, 'ns')} with ${fault.observed} voltages and currents to be kept are more than the ${fault.limit} values that are allowed: a shorter duration, a longer shortest line, or fewer nodes to observe`;
    case 'line-too-long':
      return `a wave needs ${show(fault.delay, 'us')} along ${name(fault.element)}, or ${count(fault.steps)} steps of ${show(fault.step, 'ns')}; with all lines more than the ${fault.limit} that are allowed: a shorter line, a longer shortest line or front, or a longer step`;
    case 'too-much-work':
      return `${count(fault.steps)} steps of ${show(fault.step, 'ns')} with ${fault.elements} elements take too long (${fault.limit} are allowed in all): a shorter duration, a longer shortest line, or fewer elements`;
    case 'values-too-far-apart':
      return `the values of ${listOf([...new Set(fault.elements)].map(name))} lie too far apart: beside the one the other is lost in rounding`;
    case 'not-converged':
      return `no solution was found at ${name(fault.element)} after ${show(fault.time, 'us')}: at ${show(fault.voltage, 'kV')} and ${show(fault.current, 'A')} the voltages differ by ${show(fault.residual, 'V')} after ${fault.iterations} iterations`;
    case 'energy-imbalance':
      return `the balance of energy is open by ${show(fault.relative, '%')} (limit ${show(fault.limit, '%')}) with steps of ${show(fault.step, 'ns')}: ${show(fault.supplied, 'J')} supplied, ${show(fault.accounted, 'J')} accounted for`;
    case 'step-not-settled':
      return `after ${fault.halvings} halvings of the step, down to ${show(fault.step, 'ns')}, a peak still changes by ${show(fault.change, '%')} (tolerance ${show(fault.tolerance, '%')})`;
  }
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

function wordInvalidValue(
  fault: Extract<SolverProblem, { code: 'invalid-value' }>,
  name: NameElement,
): string {
  const quantity = fault.quantity.replaceAll('_', ' ');
  if (!Number.isFinite(fault.value)) {
    return `${name(fault.element)}: its ${quantity} is beyond the numbers that can be computed with`;
  }
  const value = fault.quantity.endsWith('inductance') ? show(fault.value, 'uH') : String(fault.value);
  return `${name(fault.element)}: ${quantity} of ${value} must be ${REQUIREMENTS[fault.requirement]}`;
}

/** '120000', '3.4e21' */
function count(number: number): string {
  return Number.isFinite(number) ? String(Number(number.toPrecision(6))) : 'countless';
}

function show(si: number, unit: string): string {
  if (!Number.isFinite(si)) return 'an amount beyond all numbers';
  const reading = readUnit(unit);
  if (!reading.ok) throw new Error(`no unit '${unit}'`);
  return displaySi(si, reading.value).text;
}

function listOf(items: readonly string[]): string {
  return items.length < 2 ? (items[0] ?? '') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;
}
