import { evaluateFormula } from '../../formula/evaluate-formula.ts';
import type { FormulaValue, FormulaValues, Node, RowPoint, ShownValues } from '../../formula/formula.ts';
import { isSameMath, type MathPiece, quantityPiece } from '../../formula/math-piece.ts';
import { symbolAtRow } from '../../formula/symbol-at-row.ts';
import { typesetFormula, typesetNumbers } from '../../formula/typeset-formula.ts';
import {
  type Displayed,
  displayEntered,
  displaySi,
  displayValue,
  USUAL_DIGITS,
  withPowerOfTen,
} from '../../quantity/display.ts';
import { fromSi, quantity, toSi } from '../../quantity/quantity.ts';
import { PURE_UNIT, type Unit } from '../../quantity/unit.ts';
import { say, type Text } from '../../words/sentence.ts';
import type { CompiledCalculation, CompiledStep, CompiledVariant } from './compiled.ts';
import type { Computation } from './computation.ts';
import { enteredAs } from './entered-as.ts';
import type { EvaluatedStep } from './evaluated.ts';
import type { SafeSide } from './find-roundings.ts';
import type { Inputs } from './inputs.ts';
import { once } from './once.ts';
import { ownMeaning, ownOption, ownText, ownWords } from './own-text.ts';
import { isNumbers, isWords, pointsOver, rowIndexOf } from './rows.ts';
import { numberShown, type ResultValue } from './value.ts';
import { digitsIn, hasFewDigits } from './written-digits.ts';

/** What a step needs to be shown: its calculation, the computed values, and the digits that checks ask for. */
export interface ShowContext {
  readonly calculation: CompiledCalculation;
  readonly inputs: Inputs;
  readonly state: Computation;
  /** Names whose values print with more digits than usual everywhere: a check or a line would read wrong without them (`find-digits.ts`). */
  readonly digits: ReadonlyMap<string, number>;
  /** Names of results that are written with a power of ten, as what they are compared with (`find-powers.ts`). */
  readonly powers: ReadonlySet<string>;
}

/** One line of the calculation as it is printed, with its result; undefined where the step was left out. */
export function showStep(
  context: ShowContext,
  step: CompiledStep,
  result: ResultValue | undefined,
): EvaluatedStep | undefined {
  if (!result) return undefined;
  const { definition } = step;
  const variant = context.state.variants.get(step.name);
  const { calculation } = context;
  const meaning = ownText(calculation, `steps.${step.name}.meaning`, definition.meaning);
  const common = {
    name: step.name,
    symbol: definition.symbol,
    meaning,
    uses: variant?.formula.names ?? namesOf(step),
    ...(step.over === undefined ? {} : { over: step.over }),
    ...('resultOf' in definition ? { resultOf: definition.resultOf } : {}),
    ...(definition.bookkeeping ? { bookkeeping: true as const } : {}),
    result,
  };
  const note = sayNote(calculation, step, variant);
  const noted = note === undefined ? {} : { note };
  if (variant) {
    const formula = typesetFormula(variant.formula, context.calculation.symbols);
    const shown = once(() => showNumbers(context, step, variant, formula, result));
    return {
      ...common,
      ...noted,
      kind: 'formula',
      basis: variant.basis,
      formula,
      get numbers() {
        return shown().numbers;
      },
      get rows() {
        return shown().rows;
      },
      ...numericUnits(context.calculation, variant),
    };
  }
  return {
    ...common,
    ...noted,
    kind: step.work.kind === 'table' ? 'table' : 'solver',
    basis:
      step.words.find(({ says }) => says === context.state.words.get(step.name))?.basis ?? definition.basis,
    ...originOf(context, step, result),
  };
}

/** What a step that is no formula reads. */
function namesOf({ work }: CompiledStep): readonly string[] {
  if (work.kind === 'table') return work.step.table.by;
  return work.kind === 'solver' ? [...work.step.needs, ...(work.step.mayUse ?? [])] : [];
}

/** The numbers put in: of a step over rows in a line for each of them. */
function showNumbers(
  context: ShowContext,
  step: CompiledStep,
  variant: CompiledVariant,
  formula: MathPiece,
  result: ResultValue,
): Pick<EvaluatedStep, 'numbers' | 'rows'> {
  if (saysNumberOnly(variant.formula.root)) return {};
  if (result.type === 'number') {
    const numbers = putNumbersIn(context, variant);
    // What the formula or the result says already need not stand a second time.
    const repeats = [formula, quantityPiece(result.displayed)].some((said) => isSameMath(said, numbers));
    return repeats ? {} : { numbers };
  }
  if (result.type !== 'list') return {};
  const { symbol } = step.definition;
  const points = pointsOver(context.calculation, step.over, context.state.values);
  const index = rowIndexOf(context.calculation.definition.givens, step.over!)!.index;
  const rows = result.items.map((_, row) => ({
    symbol: symbolAtRow(symbol, index, row),
    numbers: putNumbersIn(context, variant, points[row]),
  }));
  return { rows };
}

/** A value that is handed on or read from cases would stand twice: as the number put in, and as the result. */
export function saysNumberOnly(node: Node): boolean {
  if (node.type === 'cases') {
    return node.cases.every(({ value }) => isNumber(value)) && (!node.otherwise || isNumber(node.otherwise));
  }
  return node.type === 'name' || isNumber(node);
}

function isNumber({ type }: Node): boolean {
  return type === 'number' || type === 'quantity';
}

/** The remark of the variant that was used, else that of the step. */
function sayNote(
  calculation: CompiledCalculation,
  { name, definition, work }: CompiledStep,
  variant: CompiledVariant | undefined,
): Text | undefined {
  if (variant?.note !== undefined && work.kind === 'formula') {
    return ownText(
      calculation,
      `steps.${name}.variants.${work.variants.indexOf(variant)}.note`,
      variant.note,
    );
  }
  const { note } = definition;
  return note === undefined ? undefined : ownText(calculation, `steps.${name}.note`, note);
}

function originOf(
  context: ShowContext,
  step: CompiledStep,
  result: ResultValue,
): Pick<EvaluatedStep, 'origin' | 'asGiven' | 'keys'> {
  if (result.type === 'words') return {};
  const { calculation } = context;
  if (calculation.givens.has(step.name) && context.inputs.has(step.name)) {
    return { origin: say('step.as-given', {}), asGiven: true };
  }
  if (step.work.kind === 'solver') {
    const { method } = step.work.step;
    return method === undefined ? {} : { origin: ownText(calculation, `steps.${step.name}.method`, method) };
  }
  if (step.work.kind !== 'table') return {};
  const keys = step.work.step.table.by.map((name) => {
    const value = context.state.values.get(name);
    const options = typeof value === 'object' ? value : [value];
    const chosen = options.map((option) => ownOption(calculation, name, String(option)));
    return { meaning: ownMeaning(calculation, name), options: chosen };
  });
  const said = keys.map(({ meaning, options }) =>
    say('step.key', { meaning, options: options.map(({ option }) => option) }),
  );
  return { origin: say('step.from-table', { keys: said }), keys };
}

/** The result of a step as it is printed; undefined where the step was left out. */
export function showResult(context: ShowContext, step: CompiledStep): ResultValue | undefined {
  const words = context.state.words.get(step.name);
  if (words !== undefined) {
    return { type: 'words', words: ownWords(context.calculation, words), unit: step.unit };
  }
  const value = context.state.values.get(step.name);
  if (value === undefined) return undefined;
  if (typeof value === 'string') return { type: 'choice', choice: value };
  const digits = () => digitsOf(context, step.name, declaredDigits(context, step));
  if (typeof value === 'number') {
    const entered = enteredAs(context, step.name, undefined);
    const display = () =>
      entered
        ? displayEntered(entered)
        : notated(
            context,
            step.name,
            displaySi(value, step.unit, { digits: digits(), ...directionOf(context, step.name) }),
          );
    return numberShown(value, step.unit, display, entered);
  }
  if (value.length === 0 || !isNumbers(value)) return undefined;
  const rounding = { digits: digits(), ...directionOf(context, step.name) };
  const items = value.map((si, row) => {
    const entered = enteredAs(context, step.name, row);
    return {
      si,
      displayed: entered
        ? displayEntered(entered)
        : notated(context, step.name, displaySi(si, step.unit, rounding)),
      ...(entered ? { entered } : {}),
    };
  });
  return { type: 'list', items, unit: step.unit };
}

/** The side to which a value is rounded wherever it stands in this calculation: by what it is here, else by what it is where it comes from. */
export function directionOf(
  { calculation, inputs }: Pick<ShowContext, 'calculation' | 'inputs'>,
  name: string,
): { direction?: SafeSide } {
  const direction = calculation.roundings.get(name) ?? inputs.get(name)?.rounded;
  return direction ? { direction } : {};
}

/** The digits that a step declares; a factor from a table loses none of its own by that. */
export function declaredDigits(context: ShowContext, step: CompiledStep): number | undefined {
  const { digits } = step.definition;
  const value = context.state.values.get(step.name);
  if (digits === undefined || step.work.kind !== 'table' || value === undefined) return digits;
  const numbers = typeof value === 'object' ? value : [value];
  return Math.max(
    digits,
    ...numbers.map((number) => (typeof number === 'number' ? digitsIn(fromSi(number, step.unit)) : 0)),
  );
}

/** Never fewer than those with which it stands where it was taken over from. */
export function digitsOf(context: ShowContext, name: string, declared = USUAL_DIGITS): number {
  return Math.max(declared, context.digits.get(name) ?? 0, context.inputs.get(name)?.digits ?? 0);
}

function numericUnits(calculation: CompiledCalculation, variant: CompiledVariant): Partial<EvaluatedStep> {
  if (!variant.numeric) return {};
  const used = variant.formula.names.filter((name) => variant.numeric!.has(name));
  return {
    numericUnits: used.map((name) => ({
      tex: calculation.symbols.get(name)?.tex ?? name,
      unit: variant.numeric!.get(name)!.print,
    })),
  };
}

/** The formula with numbers put in, each as it is printed wherever it stands. */
function putNumbersIn(context: ShowContext, variant: CompiledVariant, rows?: RowPoint): MathPiece {
  const { symbols } = context.calculation;
  const { shown } = asPrinted(context, variant);
  return typesetNumbers(variant.formula, symbols, shown, context.state.values, {
    numeric: variant.numeric,
    rows,
  });
}

/** Whether a line recomputed from its printed numbers gives its printed result within one unit of its last digit. */
export function recomputes(
  context: ShowContext,
  { unit }: CompiledStep,
  variant: CompiledVariant,
  printed: Displayed,
  rows: RowPoint | undefined,
): boolean {
  const { formula, numeric } = variant;
  const recomputed = evaluateFormula(formula, asPrinted(context, variant).values, { numeric, rows });
  if (!recomputed.ok) return false;
  const value = numeric ? recomputed.value : fromSi(recomputed.value, unit);
  return Math.abs(value - printed.value) <= printed.lastDigit * (1 + 1e-9);
}

/** Every name of the formula as printed, and the SI values that a reader would take from the print. */
function asPrinted(
  context: ShowContext,
  variant: CompiledVariant,
): { shown: ShownValues; values: FormulaValues } {
  const shown = new Map<string, Displayed | readonly Displayed[] | string | readonly string[]>();
  const values = new Map<string, FormulaValue>(context.state.values);
  for (const name of variant.formula.names) {
    const value = context.state.values.get(name);
    if (value === undefined) continue;
    const numeric = variant.numeric?.get(name);
    if (typeof value === 'string') shown.set(name, value);
    else if (typeof value === 'number') {
      const one = showOne(context, name, value, numeric);
      shown.set(name, one.displayed);
      values.set(name, one.si);
    } else if (isWords(value)) shown.set(name, value);
    else if (isNumbers(value)) {
      const items = value.map((si, i) => showOne(context, name, si, numeric, i));
      shown.set(
        name,
        items.map((item) => item.displayed),
      );
      values.set(
        name,
        items.map((item) => item.si),
      );
    }
  }
  return { shown, values };
}

/** A computed value in the notation in which it is compared. */
function notated({ powers }: ShowContext, name: string, displayed: Displayed): Displayed {
  return powers.has(name) ? withPowerOfTen(displayed) : displayed;
}

/** A value as printed in a sentence or figure: as entered where it was entered, else rounded. */
export function displayIn(context: ShowContext, name: string, si: number, index?: number): Displayed {
  return showOne(context, name, si, undefined, index).displayed;
}

/** A value as printed in a line: as entered where it was entered, else rounded. */
function showOne(
  context: ShowContext,
  name: string,
  si: number,
  numeric: Unit | undefined,
  index?: number,
): { displayed: Displayed; si: number } {
  const step = context.calculation.steps.find((other) => other.name === name);
  // A coefficient such as 0.06 or a number of things stands with the digits it is declared to have, as long as that does.
  const declared = step ? declaredDigits(context, step) : undefined;
  const rounding = {
    digits: digitsOf(context, name, declared),
    ...directionOf(context, name),
  };
  const entered = enteredAs(context, name, index);
  if (numeric) {
    const value = fromSi(si, numeric);
    const displayed =
      entered && hasFewDigits(value)
        ? displayEntered(quantity(value, PURE_UNIT))
        : displayValue(value, PURE_UNIT, rounding);
    return { displayed, si: toSi(displayed.value, numeric) };
  }
  const displayed = entered
    ? displayEntered(entered)
    : notated(context, name, displaySi(si, shownUnit(context, name), rounding));
  return { displayed, si: toSi(displayed.value, displayed.unit) };
}

/** The unit in which a value is printed: one that was taken over keeps the unit in which it stands where it comes from. */
export function shownUnit({ calculation, inputs }: ShowContext, name: string): Unit {
  const input = inputs.get(name);
  return input?.value.type === 'quantity' ? input.value.quantity.unit : unitOf(calculation, name);
}

export function unitOf(calculation: CompiledCalculation, name: string): Unit {
  const given = calculation.givens.get(name);
  if (given) return given.unit;
  const [rows, column] = name.split('.');
  const columnUnit =
    column === undefined ? undefined : calculation.givens.get(rows!)?.columnUnits.get(column);
  return columnUnit ?? calculation.steps.find((s) => s.name === name)?.unit ?? PURE_UNIT;
}
