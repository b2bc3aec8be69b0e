import { describe, expect, test } from 'vitest';
import { wordMessage } from '../../../src/diagnostics/messages.ts';
import { DOMAINS } from '../../../src/engine/calculations/registry.ts';
import type { CompiledCalculation } from '../../../src/engine/definition/compiled.ts';
import type { EvidenceGiven, QuantityGiven, ValueRange } from '../../../src/engine/definition/definition.ts';
import { runCalculation } from '../../../src/engine/definition/run-calculation.ts';
import { evidenceInputs } from '../../../src/engine/definition/run-evidence.ts';
import { readQuantity } from '../../../src/quantity/read-quantity.ts';
import { spread } from '../../support/at-length.ts';
import type { CaseGiven } from './run-case.ts';

/** Every end of every range: beyond it an error or a printed caution. Not those that simulate: minutes. */
const SIMULATED = new Set(['surge-at-terminals', 'surge-network', 'surge-statistics']);

for (const { calculations } of DOMAINS) {
  for (const calculation of calculations) {
    if (SIMULATED.has(calculation.definition.name)) continue;
    const ends = endsOf(calculation);
    if (ends.length === 0) continue;
    describe(calculation.definition.name, () => {
      test.each(spread(ends, 4))('$given beyond $end ($kind)', ({ given, kind, beyond }) => {
        const answers = casesWith(calculation, given, beyond, kind).map((written) =>
          answer(calculation, written),
        );
        expect(answers.length).toBeGreaterThan(0);
        for (const { refused, cautions } of answers) {
          if (kind === 'permitted') {
            expect(refused).toMatch(
              new RegExp(`'${given.split('.').at(-1)}' is .* outside what is permitted`),
            );
          } else if (refused === '') expect(cautions).toContain(`usual-range-${given}`);
        }
        if (kind === 'usual') expect(answers.some(({ refused }) => refused === '')).toBe(true);
      });
    });
  }
}

interface End {
  readonly given: string;
  readonly kind: 'permitted' | 'usual';
  readonly end: string;
  readonly beyond: string;
}

function endsOf({ definition }: CompiledCalculation): End[] {
  return Object.entries(definition.givens).flatMap(([name, given]): End[] => {
    if (given.type === 'rows') {
      return Object.entries(given.columns).flatMap(([column, inner]) =>
        inner.type === 'quantity' ? endsOfGiven(`${name}.${column}`, inner) : [],
      );
    }
    return given.type === 'quantity' || given.type === 'list' ? endsOfGiven(name, given) : [];
  });
}

function endsOfGiven(
  given: string,
  { permitted, usual, whole }: Pick<QuantityGiven, 'permitted' | 'usual' | 'whole'>,
): End[] {
  const of = (kind: End['kind'], range: ValueRange | undefined) =>
    Object.entries(range ?? {})
      .filter(([side]) => side !== 'because' && side !== 'orNone')
      .map(([side, end]) => ({ given, kind, end, beyond: beyondEnd(side, end, whole ? 1 : 1e-3) }));
  return [...of('permitted', permitted), ...of('usual', usual)];
}

/** The end itself where the range excludes it, else a value a little beyond: by this part of the end. */
function beyondEnd(side: string, end: string, part: number): string {
  if (side === 'above' || side === 'below') return end;
  const reading = readQuantity(end);
  if (!reading.ok) throw new Error(`'${end}' cannot be read`);
  const [, digits, unit] = /^(\S+)\s*(.*)$/.exec(end)!;
  const value = Number(digits);
  const shift = value === 0 ? part : Math.abs(value) * part;
  return `${side === 'from' ? value - shift : value + shift} ${unit}`.trim();
}

/**
 * The evidence of the calculation, with this value in place of the given; where none writes it, or all that do stand under
 * limits that refuse it, it is added to the others.
 */
function casesWith({ definition }: CompiledCalculation, name: string, value: string, kind: End['kind']) {
  const [outer, column] = name.split('.') as [string, string | undefined];
  const written = definition.evidence.map(({ given }) => given);
  const having = written
    .filter((given) => outer in given)
    .flatMap((given) => replaceIn(given[outer]!, column, value).map((put) => ({ ...given, [outer]: put })));
  if (having.length > 0 && (kind === 'permitted' || column !== undefined)) return having;
  // Of alternatives only one is written: the value takes the place of the other.
  const beside = definition.alternatives?.find(({ oneOf }) => oneOf.includes(outer))?.oneOf ?? [];
  const others = written
    .filter((given) => !(outer in given))
    .map((given) => Object.fromEntries(Object.entries(given).filter(([name]) => !beside.includes(name))));
  return [...having, ...others.map((given): CaseGiven => ({ ...given, [outer]: value }))];
}

/** The value in place of the given, or of the first or the last item of its list or table. */
function replaceIn(old: EvidenceGiven, column: string | undefined, value: string): EvidenceGiven[] {
  if (!Array.isArray(old)) return [value];
  const put = (item: unknown) =>
    column === undefined
      ? value
      : { ...(item as Readonly<Record<string, string | number>>), [column]: value };
  return [
    [put(old[0]), ...old.slice(1)],
    [...old.slice(0, -1), put(old.at(-1))],
  ];
}

function answer(calculation: CompiledCalculation, given: CaseGiven) {
  try {
    // Neither limiting values nor a figure: they change nothing of what is said of givens.
    const { figure: _, ...rest } = calculation.definition;
    const outcome = runCalculation(
      { ...calculation, definition: rest, limiting: [] },
      evidenceInputs(calculation, given),
    );
    if (outcome.ok) return { refused: '', cautions: outcome.evaluated.cautions.map(({ id }) => id) };
    const faults = outcome.faults.map(
      ({ problem }) => wordMessage(problem.code, problem.data as never).message,
    );
    return { refused: faults.join('; '), cautions: [] };
  } catch (fault) {
    return { refused: String(fault), cautions: [] };
  }
}
