import type { EvaluatedGiven } from '../engine/definition/evaluated.ts';
import type { EvaluatedBlock } from '../evaluation/evaluated-note.ts';
import { listInherited } from '../evaluation/inherit/list-inherited.ts';
import type { BlockAction, FormulaBlock, TextWithValues } from '../source/note-source.ts';
import { ENGLISH } from '../words/words.ts';

/** What the author wrote about a block beside its values, by names in words. */
export function describeBlock(block: EvaluatedBlock | undefined): ReadonlyMap<string, string> {
  if (!block) return new Map();
  const { source, evaluated, accepted } = block;
  const inherited = listInherited(source);
  const facts: [string, string | undefined][] = [
    ['title', ENGLISH.word(block.title)],
    ['case', block.case],
    ['based on', source.basedOn?.name],
    ['calculation', evaluated.calculation],
    // What is taken over from a base changes there.
    ...describeGivens(evaluated.givens.filter(({ name }) => !inherited.has(name))),
    ...accepted.map(({ caution, by, reason }): [string, string] => [
      `accepted caution ${caution}`,
      `${by}: ${reason}`,
    ]),
    ...(source.action ? describeAction(source.action) : []),
    ...(source.kind === 'formula' ? describeOwn(source) : []),
  ];
  return new Map(facts.filter((fact): fact is [string, string] => fact[1] !== undefined));
}

/** Where the values of givens come from. */
export function describeGivens(givens: readonly EvaluatedGiven[]): [string, string | undefined][] {
  return givens.flatMap((given): [string, string | undefined][] => [
    [
      `source of ${given.name}`,
      given.origin === 'default' || given.source === undefined ? undefined : ENGLISH.word(given.source),
    ],
    [`origin of ${given.name}`, wordOrigin(given.origin, given.written)],
  ]);
}

/** As it is written: a value that stands in it and changes is told where it changes. */
export function describeAction({
  what,
  where,
  owner,
  due,
  proof,
}: BlockAction): [string, string | undefined][] {
  const written = (text: TextWithValues | undefined): string | undefined =>
    text?.map((part) => (typeof part === 'string' ? part : `{{ ${part.target} }}`)).join('');
  return [
    ['action', written(what)],
    ['place of the action', written(where)],
    ['owner of the action', written(owner)],
    ['day of the action', due],
    ['proof of the action', written(proof)],
  ];
}

/** Nothing for what was simply entered. */
function wordOrigin(
  origin: 'given' | 'default' | 'reference' | 'formula',
  written: string | undefined,
): string | undefined {
  if (origin === 'given') return undefined;
  return written === undefined ? origin : `${origin} ${written}`;
}

function describeOwn({ purpose, given, steps, checks }: FormulaBlock): [string, string | undefined][] {
  return [
    ['purpose', purpose],
    ...given.flatMap(({ name, symbol, meaning }): [string, string][] => [
      [`symbol of ${name}`, symbol],
      [`meaning of ${name}`, meaning],
    ]),
    ...steps.flatMap(
      ({ name, symbol, meaning, formula, source, numeric }): [string, string | undefined][] => [
        [`symbol of ${name}`, symbol],
        [`meaning of ${name}`, meaning],
        [`formula of ${name}`, formula],
        [`source of ${name}`, source],
        [
          `units of numbers in ${name}`,
          numeric &&
            Object.entries(numeric)
              .map(([symbolName, unit]) => `${symbolName} in ${unit}`)
              .join(', '),
        ],
      ],
    ),
    ...checks.flatMap(
      ({ name, criterion, value, relation, limit, source, remedies }): [string, string | undefined][] => [
        [`criterion of ${name}`, criterion],
        [`judged by ${name}`, `${value} ${relation} ${limit}`],
        [`source of check ${name}`, source],
        [`remedies of ${name}`, remedies.length > 0 ? remedies.join('; ') : undefined],
      ],
    ),
  ];
}
