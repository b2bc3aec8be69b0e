import { type Problem, problem } from '../../../diagnostics/problem.ts';
import type { Formula } from '../../../formula/formula.ts';
import type { CompiledCalculation, CompiledStep } from '../compiled.ts';
import type { DefinitionFault } from '../definition-fault.ts';
import { mayHold, mustHold, someCase } from './possible-cases.ts';

interface PlacedCondition {
  readonly where: string;
  readonly condition: Formula;
  /** Conditions that hold wherever it is asked. */
  readonly under: readonly (Formula | undefined)[];
}

/** Conditions that depend on nothing, that can never hold, or that limit nothing; formulas that are never reached. */
export function checkConditions(calculation: CompiledCalculation): DefinitionFault[] {
  return [
    ...conditionsOf(calculation).flatMap((placed) => checkCondition(calculation, placed)),
    ...calculation.validity.flatMap(({ id, condition }) => checkLimit(calculation, id, condition)),
    ...calculation.steps.flatMap((step) => checkVariants(calculation, step)),
  ];
}

function conditionsOf(calculation: CompiledCalculation): PlacedCondition[] {
  const place = (where: string, condition: Formula | undefined, ...under: (Formula | undefined)[]) =>
    condition ? [{ where, condition, under }] : [];
  return [
    ...calculation.alternatives.flatMap(({ when }, i) => place(`alternatives.${i}`, when)),
    ...calculation.steps.flatMap(({ name, when, words, work }) => [
      ...place(`steps.${name}.when`, when),
      ...words.flatMap((word) => place(`steps.${name}.words`, word.when, when)),
      ...(work.kind === 'formula' ? work.variants : []).flatMap((variant, i) =>
        place(`steps.${name}.${i}`, variant.when, when),
      ),
    ]),
    ...calculation.checks.flatMap(({ name, when, candidates, forces, remedies }) => [
      ...place(`checks.${name}.when`, when),
      ...candidates
        .slice(1)
        .flatMap((candidate, i) => place(`checks.${name}.competing.${i}.when`, candidate.when, when)),
      ...forces.flatMap((force) => place(`checks.${name}.force`, force.when, when)),
      ...remedies.flatMap((remedy) => place(`checks.${name}.remedies`, remedy.when, when)),
    ]),
    ...calculation.cautions.flatMap(({ id, when }) => place(`cautions.${id}`, when)),
    ...calculation.limiting.flatMap(({ when }, i) => place(`limiting.${i}`, when)),
  ];
}

function checkCondition(
  calculation: CompiledCalculation,
  { where, condition, under }: PlacedCondition,
): DefinitionFault[] {
  const all = [condition, ...under];
  if (condition.names.length === 0) return [{ where, problem: namesNothing(condition) }];
  const can = someCase(calculation, all, new Map(), (chosen) => all.every((one) => mayHold(one, chosen)));
  return can ? [] : [{ where, problem: problem('never-holds', { condition: condition.text }) }];
}

function namesNothing({ text }: Formula): Problem {
  return problem('names-nothing', { condition: text });
}

/** A limit of validity must be one that can be kept and broken. */
function checkLimit(calculation: CompiledCalculation, id: string, condition: Formula): DefinitionFault[] {
  const where = `validity.${id}`;
  if (condition.names.length === 0) return [{ where, problem: namesNothing(condition) }];
  const data = { condition: condition.text };
  const some = (test: Parameters<typeof someCase>[3]) => someCase(calculation, [condition], new Map(), test);
  if (!some((chosen) => mayHold(condition, chosen)))
    return [{ where, problem: problem('never-holds', data) }];
  return some((chosen) => !mustHold(condition, chosen))
    ? []
    : [{ where, problem: problem('always-holds', data) }];
}

/** Formulas before which another always holds where theirs would. */
function checkVariants(calculation: CompiledCalculation, step: CompiledStep): DefinitionFault[] {
  if (step.work.kind !== 'formula') return [];
  const { variants } = step.work;
  return variants.flatMap(({ when, formula }, i) => {
    const before = variants.slice(0, i).map((variant) => variant.when);
    const all = [step.when, when, ...before];
    // That it can never hold at all is told of the condition itself.
    if (
      !someCase(calculation, all, new Map(), (chosen) => mayHold(step.when, chosen) && mayHold(when, chosen))
    )
      return [];
    const isReached = someCase(
      calculation,
      all,
      new Map(),
      (chosen) =>
        mayHold(step.when, chosen) && mayHold(when, chosen) && !before.some((one) => mustHold(one, chosen)),
    );
    const where = `steps.${step.name}.${i}`;
    return isReached ? [] : [{ where, problem: problem('never-reached', { formula: formula.text }) }];
  });
}
