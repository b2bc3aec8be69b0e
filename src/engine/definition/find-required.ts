import type { CompiledCalculation, CompiledStep, CompiledVariant } from './compiled.ts';
import { variantsIn } from './expand-editions.ts';
import { mayBeLeftOut } from './rows.ts';

type Unfinished = Omit<CompiledCalculation, 'required'>;

/**
 * Givens without a default that a step needs whatever was chosen, and that no step finds where they are absent. Where there
 * are editions, those that every edition needs.
 */
export function findRequired(calculation: Unfinished): Set<string> {
  const alternative = new Set(calculation.alternatives.flatMap((a) => a.oneOf));
  const found = new Set(calculation.steps.map((step) => step.name));
  const givens = namesNeeded(calculation).flatMap(
    (name) => calculation.givens.get(name) ?? calculation.givens.get(name.split('.')[0]!) ?? [],
  );
  return new Set(
    givens
      .filter(
        ({ name, definition }) =>
          !alternative.has(name) &&
          !found.has(name) &&
          !('default' in definition && definition.default) &&
          !(definition.type === 'rows' && mayBeLeftOut(definition)),
      )
      .map(({ name }) => name),
  );
}

function namesNeeded(calculation: Unfinished): readonly string[] {
  const [first, ...others] = Object.keys(calculation.definition.editions?.of ?? {}).map((edition) =>
    namesNeededIn(calculation, edition),
  );
  if (!first) return namesNeededIn(calculation);
  return first.filter((name) => others.every((names) => names.includes(name)));
}

/** The names that every evaluation needs, or every one by an edition. */
function namesNeededIn(calculation: Unfinished, edition?: string): readonly string[] {
  const { definition } = calculation;
  const always = edition === undefined ? undefined : `${definition.editions!.by} is ${edition}`;
  return calculation.steps
    .filter((step) => !step.definition.optional)
    .flatMap((step) => {
      const all = step.work.kind === 'formula' ? step.work.variants : [];
      const variants = edition === undefined ? all : variantsIn(definition, edition, step.name, all);
      return [
        ...(step.when && step.when.text !== always ? [] : alwaysNeeded(step, variants)),
        ...choicesAsked(calculation, step, variants),
      ];
    });
}

function alwaysNeeded(step: CompiledStep, [first, ...rest]: readonly CompiledVariant[]): readonly string[] {
  if (step.work.kind === 'solver') return step.work.step.needs;
  if (step.work.kind === 'table') return step.work.step.table.by;
  if (!first) return [];
  return first.formula.names.filter((name) => rest.every((variant) => variant.formula.names.includes(name)));
}

/** The choices by which a step, or its first variant, is chosen: without them nothing can be decided. */
function choicesAsked(
  calculation: Unfinished,
  step: CompiledStep,
  [first]: readonly CompiledVariant[],
): readonly string[] {
  return [...(step.when?.names ?? []), ...(first?.when?.names ?? [])].filter(
    (name) => calculation.givens.get(name)?.definition.type === 'choice',
  );
}
