import { evaluateCondition } from '../../formula/evaluate-formula.ts';
import type { Formula } from '../../formula/formula.ts';
import type { CompiledCalculation, CompiledStep, CompiledVariant } from './compiled.ts';
import { type Computation, decide } from './computation.ts';

/** What is to be done about a step, at the values so far. */
export type StepPlan =
  /** It is given, or does not apply. */
  | { readonly do: 'nothing' }
  /** These names are absent that it needs. */
  | { readonly do: 'without'; readonly missing: readonly string[] }
  /** It has these words in place of a number. */
  | { readonly do: 'say'; readonly words: string }
  /** It is to be worked: by this variant of its formula, where it has one. */
  | { readonly do: 'work'; readonly variant: CompiledVariant | undefined };

const NOTHING: StepPlan = { do: 'nothing' };

/** Decides what is to be done about a step. A condition that cannot be evaluated is a fault, which is added to the state. */
export function planStep(calculation: CompiledCalculation, step: CompiledStep, state: Computation): StepPlan {
  // What is given is not worked out.
  if (calculation.givens.has(step.name) && state.values.has(step.name)) return NOTHING;
  const asked = step.when && undecidedGiven(calculation, step.when, state, 'choice');
  if (asked !== undefined) return { do: 'without', missing: [asked] };
  if (step.when && !decide(step.when, state, step.name)) return NOTHING;
  const words = wordsOf(step, state);
  if (words !== undefined) return { do: 'say', words };
  if (step.work.kind !== 'formula') return planWork(calculation, step, undefined, state);
  const { variants } = step.work;
  const undecided = undecidedVariant(calculation, variants, state);
  if (undecided !== undefined) return { do: 'without', missing: [undecided] };
  const variant = chooseVariant(step, variants, state);
  return variant ? planWork(calculation, step, variant, state) : planWithoutVariant(variants, state);
}

function planWork(
  calculation: CompiledCalculation,
  step: CompiledStep,
  variant: CompiledVariant | undefined,
  state: Computation,
): StepPlan {
  const names = needed(step, variant);
  // A step that builds on one without a number has the same words in place of its own.
  const spoken = names.find((name) => state.words.has(name));
  if (spoken !== undefined) return { do: 'say', words: state.words.get(spoken)! };
  const missing = names.filter((name) => !isPresent(calculation, name, state));
  return missing.length > 0 ? { do: 'without', missing } : { do: 'work', variant };
}

/** That no formula was chosen may be for want of a number in whose place there are words. */
function planWithoutVariant(variants: readonly CompiledVariant[], state: Computation): StepPlan {
  const behind = undecidedName(variants, state);
  const words = behind === undefined ? undefined : state.words.get(behind);
  return words === undefined ? NOTHING : { do: 'say', words };
}

/** Every name that a step may use: by whichever variant, condition or key. */
export function stepNeeds(step: CompiledStep): readonly string[] {
  const conditions = [
    step.when,
    ...(step.work.kind === 'formula' ? step.work.variants.map((v) => v.when) : []),
  ];
  const works =
    step.work.kind === 'formula'
      ? step.work.variants.flatMap((v) => v.formula.names)
      : needed(step, undefined);
  return [...works, ...conditions.flatMap((condition) => condition?.names ?? [])];
}

/** What a step needs to be present before it is tried. Names inside `given` conditions may be absent. */
export function needed(step: CompiledStep, variant: CompiledVariant | undefined): readonly string[] {
  if (variant) return variant.formula.names;
  if (step.work.kind === 'solver') return step.work.step.needs;
  return step.work.kind === 'table' ? step.work.step.table.by : [];
}

function isPresent(calculation: CompiledCalculation, name: string, state: Computation): boolean {
  if (state.values.has(name)) return true;
  // Rows stand in the values by their columns.
  const given = calculation.givens.get(name);
  return (
    given?.definition.type === 'rows' && [...state.values.keys()].some((key) => key.startsWith(`${name}.`))
  );
}

function wordsOf(step: CompiledStep, state: Computation): string | undefined {
  return step.words.find(({ when }) => allPresent(when, state) && decide(when, state, step.name))?.says;
}

function allPresent(condition: Formula, state: Computation): boolean {
  return condition.names.every((name) => state.values.has(name));
}

/** The absent given that keeps the variant from being chosen, where one does. */
export function undecidedVariant(
  calculation: CompiledCalculation,
  variants: readonly CompiledVariant[],
  state: Computation,
): string | undefined {
  for (const { when } of variants) {
    if (!when) return undefined;
    const absent = undecidedGiven(calculation, when, state);
    if (absent !== undefined) return absent;
    const reading = evaluateCondition(when, state.values);
    if (reading.ok && reading.value) return undefined;
  }
  return undefined;
}

/** The absent name for want of which the first of some conditions cannot be decided. */
function undecidedName(variants: readonly CompiledVariant[], state: Computation): string | undefined {
  for (const { when } of variants) {
    const reading = when && evaluateCondition(when, state.values);
    if (reading && !reading.ok && reading.problem.code === 'absent-value') return reading.problem.data.name;
  }
  return undefined;
}

/** The absent given for want of which a condition cannot be decided; `given x` is always decided. */
function undecidedGiven(
  calculation: CompiledCalculation,
  condition: Formula,
  state: Computation,
  type?: 'choice',
): string | undefined {
  const reading = evaluateCondition(condition, state.values);
  if (reading.ok || reading.problem.code !== 'absent-value') return undefined;
  const { name } = reading.problem.data;
  // One of several alternatives may be absent: its conditions then do not hold.
  if (calculation.alternatives.some(({ oneOf }) => oneOf.includes(name))) return undefined;
  const given = calculation.givens.get(name);
  return given && (type === undefined || given.definition.type === type) ? name : undefined;
}

function chooseVariant(
  step: CompiledStep,
  variants: readonly CompiledVariant[],
  state: Computation,
): CompiledVariant | undefined {
  return variants.find((variant) => !variant.when || decide(variant.when, state, step.name));
}
