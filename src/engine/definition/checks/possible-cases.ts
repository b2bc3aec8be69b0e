import type { Formula, Node } from '../../../formula/formula.ts';
import type { CompiledCalculation } from '../compiled.ts';

/** What was chosen, by name; what is not in it may be anything. */
export type Chosen = ReadonlyMap<string, string>;

/** So many combinations of options are gone through; a condition over more is taken to be possible. */
const MOST_CASES = 20000;

/** The options of a choice, be it given, made by a step, or in a column: what is asked of each row is asked of one. */
export function optionsOf(calculation: CompiledCalculation, name: string): readonly string[] {
  const symbol = calculation.symbols.get(name);
  return symbol?.type === 'choice' || symbol?.type === 'choices' ? symbol.options : [];
}

/**
 * Whether `test` holds for some combination of the options of every choice in the conditions, those of `fixed` as they are.
 * A choice that is one of several alternatives may be absent: its options are left open.
 */
export function someCase(
  calculation: CompiledCalculation,
  conditions: readonly (Formula | undefined)[],
  fixed: Chosen,
  test: (chosen: Chosen) => boolean,
): boolean {
  const open = new Set(calculation.alternatives.flatMap(({ oneOf }) => oneOf));
  const names = [...new Set(conditions.flatMap((condition) => condition?.names ?? []))].filter(
    (name) => !fixed.has(name) && !open.has(name) && optionsOf(calculation, name).length > 0,
  );
  const cases = names.reduce((product, name) => product * optionsOf(calculation, name).length, 1);
  if (cases > MOST_CASES) return true;
  const chosen = new Map(fixed);
  const visit = (i: number): boolean => {
    const name = names[i];
    if (name === undefined) return test(chosen);
    return optionsOf(calculation, name).some((option) => {
      chosen.set(name, option);
      return visit(i + 1);
    });
  };
  return visit(0);
}

/** Whether a condition is not sure to fail with these options; none at all holds. */
export function mayHold(condition: Formula | undefined, chosen: Chosen): boolean {
  return !condition || decide(condition.root, condition.text, chosen) !== false;
}

/** Whether a condition is sure to hold with these options, where all of its values are there; none at all does. */
export function mustHold(condition: Formula | undefined, chosen: Chosen): boolean {
  return !condition || decide(condition.root, condition.text, chosen) === true;
}

/** True or false where the options alone decide, else undefined. */
function decide(node: Node, text: string, chosen: Chosen): boolean | undefined {
  switch (node.type) {
    case 'parentheses':
      return decide(node.inner, text, chosen);
    case 'not': {
      const inner = decide(node.operand, text, chosen);
      return inner === undefined ? undefined : !inner;
    }
    case 'logic': {
      const sides = [decide(node.left, text, chosen), decide(node.right, text, chosen)];
      const deciding = node.operator === 'or';
      if (sides.includes(deciding)) return deciding;
      return sides.includes(undefined) ? undefined : !deciding;
    }
    case 'choice': {
      const option = chosen.get(node.name);
      return option === undefined ? undefined : option === node.option;
    }
    case 'comparison': {
      const [left, right] = [node.left, node.right].map(({ span }) => text.slice(span.start, span.end));
      return left === right ? ['<=', '>=', '='].includes(node.operator) : undefined;
    }
    default:
      return undefined;
  }
}
