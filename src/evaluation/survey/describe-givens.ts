import { CALCULATIONS } from '../../engine/calculations/registry.ts';
import type { GivenDefinition } from '../../engine/definition/definition.ts';
import type { SurveySketch } from '../../engine/definition/survey-sketch.ts';
import type { Block, CalcBlock, NoteSource } from '../../source/note-source.ts';

/** What a form says of a given, whatever calculation or own formulas ask for it. */
export interface DescribedGiven {
  readonly symbol: string;
  readonly meaning: string;
  readonly unit: string;
  readonly options: readonly { readonly option: string; readonly means: string }[];
  readonly byDefault?: string;
}

/** The calculation over whose givens a schedule runs. */
export interface DescribedCalculation {
  readonly title: string;
  readonly givens: ReadonlyMap<string, DescribedGiven>;
  readonly sketch?: SurveySketch;
  /** The bases from which its rows take givens, the nearest first. */
  readonly bases: readonly Block[];
}

/** Finds the calculation of what a schedule's rows have in common; undefined where that is at fault. */
export function describeCalculation(
  common: CalcBlock,
  { blocks }: Pick<NoteSource, 'blocks'>,
): DescribedCalculation | undefined {
  const bases: Block[] = [];
  let base = blocks.find(({ id }) => id === common.basedOn?.name);
  while (base && !bases.includes(base)) {
    bases.push(base);
    const next = base.kind === 'calc' ? base.basedOn?.name : undefined;
    base = blocks.find(({ id }) => id === next);
  }
  const last = bases.at(-1);
  if (last?.kind === 'formula') {
    const givens = new Map(
      last.given.map(({ name, symbol, meaning, unit }) => [name, { symbol, meaning, unit, options: [] }]),
    );
    return { title: last.title ?? last.id, givens, bases };
  }
  const name = common.calculation || (last?.kind === 'calc' ? last.calculation : '');
  const definition = CALCULATIONS.get(name)?.definition;
  if (!definition) return undefined;
  const givens = new Map(Object.entries(definition.givens).map(([key, given]) => [key, describe(given)]));
  return {
    title: definition.title,
    givens,
    bases,
    ...(definition.sketch ? { sketch: definition.sketch } : {}),
  };
}

function describe(given: GivenDefinition): DescribedGiven {
  const { meaning } = given;
  if (given.type === 'choice') {
    const options = Object.entries(given.options).map(([option, means]) => ({ option, means }));
    const byDefault = given.default ? { byDefault: given.default.value } : {};
    return { symbol: given.symbol, meaning, unit: '', options, ...byDefault };
  }
  const unit = 'unit' in given && given.unit !== '1' ? given.unit : '';
  return { symbol: 'symbol' in given ? given.symbol : '', meaning, unit, options: [] };
}
