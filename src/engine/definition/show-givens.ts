import { type Displayed, displayEntered, displaySi, USUAL_DIGITS } from '../../quantity/display.ts';
import type { Quantity } from '../../quantity/quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import { mergeKinds, withKind } from '../../quantity/voltage-kind.ts';
import type { CompiledCalculation, CompiledGiven } from './compiled.ts';
import type { EvaluatedGiven } from './evaluated.ts';
import { isUsed, namesAsked } from './find-unused.ts';
import { declaredKinds } from './infer-kinds.ts';
import type { GivenInput } from './inputs.ts';
import { saySpan } from './judge-over-range.ts';
import { laterFields } from './later-fields.ts';
import { once } from './once.ts';
import { ownMeaning, ownOption } from './own-text.ts';
import { showTable, startsWithName } from './show-given-table.ts';
import { digitsOf, directionOf, type ShowContext } from './show-step.ts';
import type { Value } from './value.ts';

type Row = Readonly<Record<string, Quantity | string>>;

/** The table of givens, in the order of the definition. A default that nothing here looks at is left out. */
export function showGivens(context: ShowContext): EvaluatedGiven[] {
  const { calculation, inputs, state } = context;
  const used = once(() => namesAsked(calculation, state));
  return [...calculation.givens.values()].flatMap((given) => {
    const input = inputs.get(given.name);
    if (!input || (input.origin === 'default' && !isUsed(given.name, used()))) return [];
    const { direction } = directionOf(context, given.name);
    const rounded = input.computed && direction ? { ...input, rounded: direction } : input;
    return [showGiven(calculation, given, rounded, () => digitsOf(context, given.name))];
  });
}

function showGiven(
  calculation: CompiledCalculation,
  given: CompiledGiven,
  input: GivenInput,
  digits: () => number,
): EvaluatedGiven {
  const { definition, name } = given;
  const value = withDeclaredKinds(given, input.value);
  const { range } = input;
  const own = {
    name,
    symbol: definition.type === 'rows' ? '' : definition.symbol,
    meaning: ownMeaning(calculation, name),
    value,
    source: input.source,
    ...(input.basis ? { basis: input.basis } : {}),
    ...(value.type === 'choice' ? { chosen: ownOption(calculation, name, value.choice) } : {}),
    origin: input.origin,
    computed: input.computed === true,
    ...(input.rounded ? { rounded: input.rounded } : {}),
    ...(input.written === undefined ? {} : { written: input.written }),
    ...(input.item ? { item: input.item } : {}),
    ...(range ? { range: { lowSi: range.low.si, highSi: range.high.si, print: saySpan(range) } } : {}),
  };
  return printedLater(own, () => ({
    ...wordValue(given, { ...input, value }, digits()),
    digits: input.computed && digits() > USUAL_DIGITS ? digits() : undefined,
    table: showTable(calculation, given, value, (quantity, unit) =>
      showQuantity(quantity, unit, input, digits()),
    ),
  }));
}

type Printed = Pick<EvaluatedGiven, 'print' | 'text' | 'items' | 'digits' | 'table'>;

/** What a given looks like in print takes longer than all else, and is asked of those alone that are printed. */
const printedLater = laterFields<Printed>('print', 'text', 'items', 'digits', 'table');

/** The value with the kind in which it enters: what its author states, and else what the calculation declares. */
function withDeclaredKinds(given: CompiledGiven, value: Value): Value {
  const { name } = given;
  const declared = declaredKinds(given);
  const merge = (quantity: Quantity, of: string): Quantity => {
    const kind = mergeKinds(quantity.kind, declared.find(([one]) => one === of)?.[1]);
    return kind ? { ...quantity, kind } : quantity;
  };
  switch (value.type) {
    case 'quantity':
      return { type: 'quantity', quantity: merge(value.quantity, name) };
    case 'list':
      return { type: 'list', items: value.items.map((item) => merge(item, name)) };
    case 'rows': {
      const cells = (row: Row): Row =>
        Object.fromEntries(
          Object.entries(row).map(([column, cell]) => [
            column,
            typeof cell === 'string' ? cell : merge(cell, `${name}.${column}`),
          ]),
        );
      return { type: 'rows', rows: value.rows.map(cells) };
    }
    case 'choice':
      return value;
  }
}

/** A value that was entered keeps its digits; one that was computed elsewhere is rounded. */
function showQuantity(
  quantity: Quantity,
  unit: Unit,
  { computed, rounded }: GivenInput,
  digits: number,
): Displayed {
  const direction = rounded ? { direction: rounded } : {};
  return computed ? displaySi(quantity.si, unit, { digits, ...direction }) : displayEntered(quantity);
}

/** A value as printed and as text; of a list also its items. */
interface ValueWords {
  readonly print: string;
  readonly text: string;
  readonly items?: readonly Displayed[];
}

function wordValue(given: CompiledGiven, input: GivenInput, digits: number): ValueWords {
  const show = (quantity: Quantity, unit: Unit) => showQuantity(quantity, unit, input, digits);
  const { value } = input;
  switch (value.type) {
    case 'quantity':
      return show(value.quantity, value.quantity.unit);
    case 'choice':
      return { print: value.choice, text: value.choice };
    case 'list': {
      const items = value.items.map((item) => show(item, given.unit));
      return {
        print: items.map((i) => i.print).join('; '),
        text: items.map((i) => i.text).join('; '),
        items,
      };
    }
    case 'rows': {
      if (value.rows.length === 0) return { print: '', text: 'none' };
      // In the table of a note each voltage and current stands with its kind, in a row as anywhere else.
      const showCell = (quantity: Quantity, unit: Unit, form: 'print' | 'text') =>
        form === 'text' ? show(quantity, unit).text : withKind(show(quantity, unit).print, quantity.kind);
      const cell = (row: Readonly<Record<string, Quantity | string>>, form: 'print' | 'text') =>
        Object.entries(row)
          .map(([column, v]) => {
            const words = typeof v === 'string' ? v : showCell(v, given.columnUnits.get(column)!, form);
            return isNamed(given, column) ? `${column.replaceAll('_', ' ')} ${words}` : words;
          })
          .join(', ');
      const numbered = value.rows.length > 1 && !startsWithName(given);
      const lines = (form: 'print' | 'text') =>
        value.rows.map((row, i) => (numbered ? `${i + 1}: ` : '') + cell(row, form)).join('; ');
      return { print: lines('print'), text: lines('text') };
    }
  }
}

/** A number or choice does not tell by itself what it is, nor does a value that need not be in every row. */
function isNamed({ definition }: CompiledGiven, name: string): boolean {
  const column = definition.type === 'rows' ? definition.columns[name] : undefined;
  return column !== undefined && (column.type !== 'name' || column.optional === true);
}
