import type { Node } from '../../formula/formula.ts';
import { isPure } from '../../quantity/dimension.ts';
import { USUAL_DIGITS } from '../../quantity/display.ts';
import { fromSi } from '../../quantity/quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import type { CompiledStep } from './compiled.ts';
import { displayJudged } from './display-judged.ts';
import { enteredAs } from './entered-as.ts';
import type { Judgement } from './judge-check.ts';
import { isWords, pointsOver } from './rows.ts';
import {
  declaredDigits,
  digitsOf,
  recomputes,
  type ShowContext,
  saysNumberOnly,
  showResult,
  unitOf,
} from './show-step.ts';
import { sidesOf } from './sides-of-check.ts';
import type { ResultValue } from './value.ts';
import { digitsIn, hasFewDigits, MOST_DIGITS } from './written-digits.ts';

/**
 * The names whose values need more digits than usual, so that each check reads as it was judged and each line recomputes from its printed
 * numbers to its printed result within one unit of its last digit. A value has these digits wherever it stands: it is printed in one way.
 *
 * @param asked the digits that others need who take values over from here
 */
export function findDigits(
  context: Omit<ShowContext, 'digits'>,
  judgements: readonly Judgement[],
  asked: ReadonlyMap<string, number> = new Map(),
): ReadonlyMap<string, number> {
  const digits = new Map(asked);
  const { calculation, inputs, state, powers } = context;
  const growing: ShowContext = { calculation, inputs, state, powers, digits };
  raiseForChecks(digits, growing, judgements);
  // The last line first: what it needs of an earlier one is known before that one is looked at. Then again, since more digits for one line
  // may take a value further from what another was content with.
  const steps = [...context.calculation.steps].reverse();
  let before: number;
  do {
    before = countDigits(digits);
    for (const step of steps) {
      raiseForLine(digits, growing, step);
      raiseExactSum(digits, growing, step);
      raiseWhatIsHandedOn(digits, growing, step);
    }
  } while (countDigits(digits) > before);
  return digits;
}

const countDigits = (digits: ReadonlyMap<string, number>): number =>
  [...digits.values()].reduce((sum, count) => sum + count, 0);

/** What a check compares directly. */
function raiseForChecks(
  digits: Map<string, number>,
  context: ShowContext,
  judgements: readonly Judgement[],
): void {
  for (const judgement of judgements) {
    const { check, value, limit, candidate } = judgement;
    if (value === undefined || limit === undefined) continue;
    const sides = sidesOf(context, judgement);
    const needed = displayJudged(
      value,
      limit,
      { unit: check.unit, relation: check.definition.relation },
      sides,
    ).digits;
    for (const side of ['value', 'limit'] as const) {
      const { root } = candidate[side];
      if (root.type === 'name' && needed[side] > sides[side].digits) raise(digits, root.name, needed[side]);
    }
  }
}

function raise(digits: Map<string, number>, name: string, to: number): void {
  digits.set(name, Math.max(to, digits.get(name) ?? 0));
}

function raiseForLine(digits: Map<string, number>, context: ShowContext, step: CompiledStep): void {
  const variant = context.state.variants.get(step.name);
  if (!variant || saysNumberOnly(variant.formula.root)) return;
  // What comes from elsewhere has as few as possible, for there it is printed too; then what has a unit: it is read, and a factor only computed with.
  const rank = (name: string) =>
    context.inputs.has(name) ? 0 : isPure(unitOf(context.calculation, name).dimension) ? 2 : 1;
  const names = variant.formula.names
    .filter((name) => canHaveMore(context, name, variant.numeric?.get(name)))
    .sort((a, b) => rank(a) - rank(b));
  if (names.length === 0) return;
  const lines = linesOf(context, step, showResult(context, step));
  const agrees = (trial: ReadonlyMap<string, number>) =>
    lines.every(({ displayed, point }) =>
      recomputes({ ...context, digits: trial }, step, variant, displayed, point),
    );
  if (agrees(digits)) return;
  for (const [name, needed] of leastDigits(digits, names, agrees)) raise(digits, name, needed);
}

/** What is handed on unchanged is one number, and has the digits with which it stands in either place. */
function raiseWhatIsHandedOn(digits: Map<string, number>, context: ShowContext, step: CompiledStep): void {
  const root = context.state.variants.get(step.name)?.formula.root;
  const value = root?.type === 'name' ? context.state.values.get(root.name) : undefined;
  // What was entered is printed as it was entered, unless that has too many digits in the unit of the step.
  if (root?.type !== 'name' || typeof value !== 'number' || enteredAs(context, root.name, 0)) return;
  const own = digitsOf(context, step.name, declaredDigits(context, step));
  const origin = context.calculation.steps.find(({ name }) => name === root.name);
  const from = digitsOf(context, root.name, origin && declaredDigits(context, origin));
  if (from > own) raise(digits, step.name, from);
  else if (own > from) raise(digits, root.name, own);
}

/** What is only added up of entered numbers is as exact as these: 1.5 m, 0.25 m and 11 m are 12.75 m, in whatever calculation they are added. */
function raiseExactSum(digits: Map<string, number>, context: ShowContext, step: CompiledStep): void {
  const root = context.state.variants.get(step.name)?.formula.root;
  const value = context.state.values.get(step.name);
  if (typeof value !== 'number' || root?.type !== 'binary' || !isSumOfEntered(root, context)) return;
  const needed = digitsIn(fromSi(value, step.unit));
  if (needed <= MOST_OF_A_SUM) raise(digits, step.name, needed);
}

/** More digits has a sum of numbers that differ too much in size for all of them to matter. */
const MOST_OF_A_SUM = 5;

function isSumOfEntered(node: Node, context: ShowContext): boolean {
  if (node.type === 'name') return enteredAs(context, node.name, 0) !== undefined;
  return (
    node.type === 'binary' &&
    (node.operator === '+' || node.operator === '-') &&
    isSumOfEntered(node.left, context) &&
    isSumOfEntered(node.right, context)
  );
}

/** A value that was entered is printed with all its digits already, unless a formula takes it converted to a number that has many. */
function canHaveMore(context: ShowContext, name: string, numeric: Unit | undefined): boolean {
  const value = context.state.values.get(name);
  if (typeof value === 'string' || value === undefined || isWords(value)) return false;
  if (!enteredAs(context, name, 0)) return true;
  if (!numeric) return false;
  const numbers = typeof value === 'number' ? [value] : value;
  return numbers.some((si) => !hasFewDigits(fromSi(si, numeric)));
}

function linesOf({ calculation, state }: ShowContext, { over }: CompiledStep, result?: ResultValue) {
  if (result?.type === 'number') return [{ displayed: result.displayed, point: undefined }];
  if (result?.type !== 'list') return [];
  const points = pointsOver(calculation, over, state.values);
  return result.items.map(({ displayed }, row) => ({ displayed, point: points[row] }));
}

/** As many for all as it takes, and then of each as few as will do; none where no number of digits would do. */
function leastDigits(
  digits: ReadonlyMap<string, number>,
  names: readonly string[],
  agrees: (trial: ReadonlyMap<string, number>) => boolean,
): ReadonlyMap<string, number> {
  const own = (name: string) => digits.get(name) ?? 0;
  const withAll = (all: number) =>
    new Map([...digits, ...names.map((name) => [name, Math.max(all, own(name))] as const)]);
  let all = USUAL_DIGITS + 1;
  while (all < MOST_DIGITS && !agrees(withAll(all))) all += 1;
  const found = withAll(all);
  if (!agrees(found)) return new Map();
  for (const name of names) {
    for (let fewer = own(name); fewer < found.get(name)!; fewer++) {
      if (!agrees(new Map([...found, [name, fewer]]))) continue;
      found.set(name, fewer);
      break;
    }
  }
  return new Map(names.map((name) => [name, found.get(name)!]));
}
