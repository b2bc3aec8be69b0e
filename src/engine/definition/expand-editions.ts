import { nearestName } from '../../diagnostics/nearest-name.ts';
import { problem } from '../../diagnostics/problem.ts';
import type {
  CalculationDefinition,
  EditionFormula,
  EditionStep,
  PlainDefinition,
  PlainStep,
  VariantStep,
} from './definition.ts';
import type { DefinitionFault } from './definition-fault.ts';

/** A definition in which every formula of an edition stands as a variant of its step, under the condition of that edition. */
export interface Expansion {
  readonly definition: PlainDefinition;
  readonly faults: readonly DefinitionFault[];
  /** Where the variant of a step was written: 'steps.resistance.3' -> 'editions.bs-7430-2011.resistance.0'. */
  readonly places: ReadonlyMap<string, string>;
}

/** The formulas that an edition gives for a step, one or several. */
export function formulasOf(
  formulas: EditionFormula | readonly EditionFormula[] | undefined,
): readonly EditionFormula[] {
  if (formulas === undefined) return [];
  return 'formula' in formulas ? [formulas] : formulas;
}

/** Those of the variants of a step that count in one edition: its own, and those for all editions, which stand behind. */
export function variantsIn<V>(
  { editions }: CalculationDefinition,
  edition: string,
  step: string,
  variants: readonly V[],
): readonly V[] {
  const owners = Object.entries(editions?.of ?? {}).flatMap(([name, { steps }]) =>
    formulasOf(steps[step]).map(() => name),
  );
  return variants.filter((_, i) => (owners[i] ?? edition) === edition);
}

/** Puts the formulas of the editions into their steps; those that a step has for all editions come behind. */
export function expandEditions(definition: CalculationDefinition): Expansion {
  const places = new Map<string, string>();
  const steps = Object.entries(definition.steps).map(([name, step]): [string, PlainStep] =>
    'byEdition' in step ? [name, expandStep(definition, name, step, places)] : [name, step],
  );
  return {
    definition: { ...definition, steps: Object.fromEntries(steps) },
    faults: checkEditions(definition),
    places,
  };
}

function expandStep(
  { editions, givens }: CalculationDefinition,
  name: string,
  { byEdition: _, variants = [], ...step }: EditionStep,
  places: Map<string, string>,
): VariantStep {
  const by = editions && givens[editions.by];
  // A part of no option is told once, by itself: none of its conditions could hold.
  const parts = Object.entries(editions?.of ?? {}).filter(
    ([edition]) => by?.type !== 'choice' || edition in by.options,
  );
  const own = parts.flatMap(([edition, { basis, steps }]) =>
    formulasOf(steps[name]).map((formula, i) => ({ edition, basis, formula, i })),
  );
  for (const [at, { edition, i }] of own.entries()) {
    places.set(`steps.${name}.${at}`, `editions.${edition}.${name}.${i}`);
  }
  return {
    ...step,
    variants: [
      ...own.map(({ edition, basis, formula }) => ({
        basis,
        ...formula,
        when: conditionOf(editions!.by, edition, formula.when),
      })),
      ...variants,
    ],
  };
}

function conditionOf(by: string, edition: string, when: string | undefined): string {
  return when === undefined ? `${by} is ${edition}` : `${by} is ${edition} and (${when})`;
}

/** Editions by what is no choice, of no option or of not all, and formulas for steps that do not go by edition. */
function checkEditions({ editions, givens, steps }: CalculationDefinition): DefinitionFault[] {
  const byEdition = Object.entries(steps).flatMap(([name, step]) => ('byEdition' in step ? [name] : []));
  const unknown = (where: string, name: string, what: string, known: readonly string[]) =>
    known.includes(name)
      ? []
      : [
          {
            where,
            problem: problem('unknown-part', { name, what, nearest: nearestName(name, known), known }),
          },
        ];
  const idle = byEdition
    .filter((name) => !Object.values(editions?.of ?? {}).some((edition) => name in edition.steps))
    .map((name) => ({ where: `steps.${name}`, problem: problem('step-of-no-edition', { name }) }));
  if (!editions) return idle;
  const choices = Object.entries(givens).flatMap(([name, { type }]) => (type === 'choice' ? [name] : []));
  const given = givens[editions.by];
  if (given?.type !== 'choice') return [...idle, ...unknown('editions.by', editions.by, 'a choice', choices)];
  const options = Object.keys(given.options);
  return [
    ...idle,
    ...options
      .filter((option) => !(option in editions.of))
      .map((option) => ({
        where: 'editions.of',
        problem: problem('edition-without-part', { option, by: editions.by }),
      })),
    ...Object.entries(editions.of).flatMap(([edition, part]) => [
      ...unknown('editions.of', edition, `an option of ${editions.by}`, options),
      ...Object.keys(part.steps).flatMap((name) =>
        unknown(`editions.${edition}`, name, 'a step that goes by edition', byEdition),
      ),
    ]),
  ];
}
