import type { Code } from '../../diagnostics/messages.ts';
import { nearestName } from '../../diagnostics/nearest-name.ts';
import { type Problem, problem, type Reading } from '../../diagnostics/problem.ts';
import { bindRows } from '../../formula/bind-rows.ts';
import { findUnitNamed } from '../../formula/find-unit-named.ts';
import type { Formula, RowIndex, SymbolInfo } from '../../formula/formula.ts';
import { checkCondition, inferDimension, type NumericOptions } from '../../formula/infer-dimension.ts';
import { parseCondition, parseFormula } from '../../formula/parse-formula.ts';
import { reservedAs } from '../../formula/words.ts';
import { nameDimension, PURE_NUMBER, sameDimension } from '../../quantity/dimension.ts';
import { readQuantity } from '../../quantity/read-quantity.ts';
import { PURE_UNIT, readUnit, type Unit } from '../../quantity/unit.ts';
import type { VoltageKind } from '../../quantity/voltage-kind.ts';
import { checkDefinition } from './check-definition.ts';
import type {
  CompiledCalculation,
  CompiledCheck,
  CompiledGiven,
  CompiledStep,
  CompiledVariant,
  SolverNeeds,
  StepWork,
} from './compiled.ts';
import type {
  CalculationDefinition,
  CheckDefinition,
  ChoiceGiven,
  GivenDefinition,
  NumericSymbols,
  PlainDefinition,
  PlainStep,
  QuantityGiven,
  ResultStep,
  TableStep,
} from './definition.ts';
import type { DefinitionFault } from './definition-fault.ts';
import { expandEditions } from './expand-editions.ts';
import { findRequired } from './find-required.ts';
import { findRoundings } from './find-roundings.ts';
import { inferKinds } from './infer-kinds.ts';
import { rowIndexOf } from './rows.ts';

/** In place of a unit that could not be read. */
const UNREAD: Unit = { ...PURE_UNIT };

export type Compilation =
  | { readonly ok: true; readonly calculation: CompiledCalculation }
  | { readonly ok: false; readonly faults: readonly DefinitionFault[] };

/**
 * Parses and checks every formula, condition and unit of a definition, and looks for every other mistake in it. Collects all
 * faults but those of the kinds in `toldElsewhere`.
 */
export function compileDefinition(
  definition: CalculationDefinition,
  toldElsewhere: readonly Code[] = [],
): Compilation {
  const expansion = expandEditions(definition);
  const compiler = new Compiler(expansion.definition);
  const calculation = compiler.compile();
  const found = checkDefinition(calculation).filter(({ problem: { code } }) => !toldElsewhere.includes(code));
  // Kinds can be inferred where every name and dimension is in order.
  const kinds = compiler.faults.length > 0 ? [] : inferKinds(calculation, new Map());
  const faults = [...expansion.faults, ...compiler.faults, ...found, ...kinds].map((fault) => ({
    ...fault,
    where: placeOf(fault.where, expansion.places),
  }));
  return faults.length > 0 ? { ok: false, faults } : { ok: true, calculation };
}

/** Where a part was written that was put into a step from an edition. */
function placeOf(where: string, places: ReadonlyMap<string, string>): string {
  const [variant] = /^steps\.[^.]+\.\d+/.exec(where) ?? [];
  const place = variant === undefined ? undefined : places.get(variant);
  return place === undefined ? where : where.replace(variant!, place);
}

class Compiler {
  readonly faults: DefinitionFault[] = [];
  readonly #definition: PlainDefinition;
  readonly #symbols = new Map<string, SymbolInfo>();
  readonly #units = new Map<string, Unit>();
  readonly #names: ReadonlySet<string>;

  constructor(definition: PlainDefinition) {
    this.#definition = definition;
    this.#names = new Set([...Object.keys(definition.givens), ...Object.keys(definition.steps)]);
  }

  compile(): CompiledCalculation {
    const definition = this.#definition;
    this.#checkNames();
    const givens = new Map(
      Object.entries(definition.givens).map(([name, given]) => [name, this.#given(name, given)]),
    );
    // Conditions of alternatives may ask for givens only; steps may use what stands before them.
    const alternatives = (definition.alternatives ?? []).map(({ when, ...rest }, i) => ({
      ...rest,
      ...this.#condition(`alternatives.${i}`, when),
    }));
    const steps = Object.entries(definition.steps).map(([name, step]) => this.#step(name, step));
    const checks = Object.entries(definition.checks ?? {}).map(([name, check]) => this.#check(name, check));
    const calculation: Omit<CompiledCalculation, 'required'> = {
      definition,
      symbols: this.#symbols,
      givens,
      alternatives,
      steps,
      checks,
      roundings: findRoundings({ checks, steps }),
      validity: Object.entries(definition.validity ?? {}).map(([id, v]) => ({
        id,
        ...v,
        condition: this.#condition(`validity.${id}`, v.requires, v.over).when ?? EMPTY,
      })),
      cautions: Object.entries(definition.cautions ?? {}).map(([id, caution]) => ({
        id,
        definition: caution,
        ...this.#condition(`cautions.${id}`, caution.when, caution.over),
      })),
      limiting: (definition.limiting ?? []).map((limiting, i) => ({
        definition: limiting,
        ...this.#condition(`limiting.${i}`, limiting.when),
      })),
    };
    return { ...calculation, required: findRequired(calculation) };
  }

  /** Words that the language of formulas would read as something else than the value. */
  #checkNames(): void {
    const { givens, steps } = this.#definition;
    for (const [part, names] of Object.entries({ givens: Object.keys(givens), steps: Object.keys(steps) })) {
      for (const name of names) {
        const as = reservedAs(name);
        const instead = `${name}_value`;
        if (as) this.#fault(`${part}.${name}.name`, problem('reserved-name', { name, as, instead }));
      }
    }
  }

  #checkUnits(where: string, formula: Formula): void {
    const found = findUnitNamed(formula, this.#names);
    if (found) {
      this.#fault(where, problem('unit-or-name', { text: found.text, name: found.name }, found.span));
    }
  }

  #given(name: string, given: GivenDefinition): CompiledGiven {
    const where = `givens.${name}`;
    const columnUnits = new Map<string, Unit>();
    if (given.type === 'choice') {
      this.#symbols.set(name, { type: 'choice', tex: given.symbol, options: Object.keys(given.options) });
      return { name, definition: given, unit: PURE_UNIT, columnUnits };
    }
    if (given.type === 'rows') {
      for (const [column, inner] of Object.entries(given.columns)) {
        const unit =
          inner.type === 'quantity' ? this.#unit(`${where}.columns.${column}`, inner.unit) : undefined;
        if (unit) columnUnits.set(column, unit);
        // A list with gaps is not for formulas.
        if (inner.optional || inner.type === 'name') continue;
        this.#units.set(`${name}.${column}`, unit ?? PURE_UNIT);
        this.#symbols.set(`${name}.${column}`, this.#columnSymbol(name, inner, unit));
      }
      return { name, definition: given, unit: PURE_UNIT, columnUnits };
    }
    if (given.type === 'names') return { name, definition: given, unit: PURE_UNIT, columnUnits };
    const unit = this.#unit(where, given.unit);
    this.#units.set(name, unit);
    const type = given.type === 'list' ? 'list' : 'number';
    this.#symbols.set(name, { type, tex: given.symbol, dimension: unit.dimension });
    return { name, definition: given, unit, columnUnits };
  }

  #columnSymbol(table: string, column: QuantityGiven | ChoiceGiven, unit: Unit | undefined): SymbolInfo {
    const rows = rowIndexOf(this.#definition.givens, table);
    const tex = column.symbol;
    if (column.type === 'choice') {
      const options = Object.keys(column.options);
      return rows ? { type: 'choices', tex, options, rows } : { type: 'choice', tex, options };
    }
    const { dimension } = unit ?? PURE_UNIT;
    return rows ? { type: 'list', tex, dimension, rows } : { type: 'number', tex, dimension };
  }

  #step(name: string, step: PlainStep): CompiledStep {
    const where = `steps.${name}`;
    const unit = this.#unit(where, step.unit);
    const over = overOf(step);
    const tables = Object.keys(this.#definition.givens).filter((key) => this.#rows(key)?.table === key);
    if (over !== undefined && !tables.includes(over)) {
      const nearest = nearestName(over, tables);
      this.#fault(`${where}.over`, problem('unknown-table', { name: over, nearest, known: tables }));
    }
    const compiled: CompiledStep = {
      name,
      definition: step,
      unit,
      ...(over === undefined ? {} : { over }),
      ...this.#condition(`${where}.when`, step.when),
      words: (step.words ?? []).flatMap(({ when, says, basis = step.basis }) => {
        const condition = this.#condition(`${where}.words`, when).when;
        return condition ? [{ when: condition, says, basis }] : [];
      }),
      work: this.#work(where, step, unit),
    };
    const known = this.#symbols.get(name);
    const symbol = this.#stepSymbol(step, unit);
    if (known && !(name in this.#definition.givens && meansOneValue(known, symbol))) {
      this.#fault(where, problem('duplicate-name', { name }));
    }
    this.#units.set(name, unit);
    this.#symbols.set(name, symbol);
    return compiled;
  }

  #stepSymbol(step: PlainStep, unit: Unit): SymbolInfo {
    const gives = 'solve' in step || 'resultOf' in step ? step.gives : undefined;
    if (gives === 'list') return { type: 'list', tex: step.symbol, dimension: unit.dimension };
    if (gives) return { type: 'choice', tex: step.symbol, options: gives.options };
    const over = overOf(step);
    const rows = over === undefined ? undefined : this.#rows(over);
    if (rows) return { type: 'list', tex: step.symbol, dimension: unit.dimension, rows };
    return { type: 'number', tex: step.symbol, dimension: unit.dimension };
  }

  #rows(table: string): RowIndex | undefined {
    return rowIndexOf(this.#definition.givens, table);
  }

  #work(where: string, step: PlainStep, unit: Unit): StepWork {
    if ('table' in step) {
      this.#tableKeys(where, step);
      return { kind: 'table', step, values: this.#tableValues(where, step.table.values, unit) };
    }
    if ('solve' in step) {
      this.#solverNames(where, step);
      return { kind: 'solver', step };
    }
    if ('resultOf' in step) return this.#resultWork(where, step);
    const variants = 'variants' in step ? step.variants : [step];
    return {
      kind: 'formula',
      variants: variants.flatMap((variant, i) => this.#variant(`${where}.${i}`, step, variant, unit)),
    };
  }

  #resultWork(where: string, { resultOf, method, says = [] }: ResultStep): StepWork {
    const solutions = this.#definition.solutions ?? {};
    const solution = solutions[resultOf];
    if (!solution) {
      const nearest = nearestName(resultOf, Object.keys(solutions));
      this.#fault(`${where}.resultOf`, problem('unknown-symbol', { name: resultOf, nearest }));
      return { kind: 'formula', variants: [] };
    }
    this.#solverNames(`solutions.${resultOf}`, solution);
    const { needs, mayUse = [], solve } = solution;
    return {
      kind: 'solver',
      step: { needs, mayUse, says, ...(method === undefined ? {} : { method }) },
      solution: { name: resultOf, solve },
    };
  }

  #solverNames(where: string, { needs, mayUse = [] }: Pick<SolverNeeds, 'needs' | 'mayUse'>): void {
    const tables = Object.entries(this.#definition.givens).flatMap(([name, { type }]) =>
      type === 'rows' || type === 'names' ? [name] : [],
    );
    const known = [...this.#symbols.keys(), ...tables];
    for (const name of [...needs, ...mayUse]) {
      if (known.includes(name)) continue;
      this.#fault(where, problem('unknown-symbol', { name, nearest: nearestName(name, known) }));
    }
  }

  #variant(
    where: string,
    step: PlainStep,
    variant: {
      readonly when?: string;
      readonly formula: string;
      readonly numeric?: NumericSymbols;
      readonly basis?: CompiledVariant['basis'];
      readonly note?: string;
      readonly acrossKinds?: string;
      readonly voltage?: VoltageKind;
    },
    unit: Unit,
  ): CompiledVariant[] {
    const over = overOf(step);
    const formula = this.#formula(where, variant.formula, over);
    if (!formula) return [];
    const numeric = variant.numeric
      ? new Map(Object.entries(variant.numeric).map(([n, u]) => [n, this.#unit(where, u)]))
      : undefined;
    const note = variant.note ?? step.note;
    const acrossKinds = variant.acrossKinds ?? step.acrossKinds;
    const voltage = variant.voltage ?? step.voltage;
    // The condition of a step stands on the step; a variant of its own has one besides.
    const condition = 'variants' in step ? this.#condition(where, variant.when) : {};
    this.#checkDimension(where, formula, numeric ? PURE_UNIT : unit, { numeric, over });
    return [
      {
        formula,
        basis: variant.basis ?? step.basis,
        ...condition,
        ...(numeric ? { numeric } : {}),
        ...(note === undefined ? {} : { note }),
        ...(acrossKinds === undefined ? {} : { acrossKinds }),
        ...(voltage ? { voltage } : {}),
      },
    ];
  }

  #check(name: string, check: CheckDefinition): CompiledCheck {
    const where = `checks.${name}`;
    const own = this.#candidate(where, check.value, check.limit);
    const competing = (check.competing ?? []).map(({ value, limit, meaning, when }, i) => ({
      ...this.#candidate(`${where}.competing.${i}`, value, limit ?? check.limit),
      meaning,
      ...this.#condition(`${where}.competing.${i}.when`, when),
    }));
    for (const [i, { value }] of competing.entries()) {
      this.#requireLike(`${where}.competing.${i}.value`, 'compared', own.value, value);
    }
    const forces = typeof check.force === 'string' ? [{ force: check.force }] : check.force;
    return {
      name,
      definition: check,
      candidates: [own, ...competing],
      unit: this.#unitOf(own.value) ?? this.#unitOf(own.limit) ?? PURE_UNIT,
      ...this.#condition(`${where}.when`, check.when),
      forces: forces.map((f) => ({
        force: f.force,
        basis: ('basis' in f ? f.basis : undefined) ?? check.basis,
        ...this.#condition(`${where}.force`, 'when' in f ? f.when : undefined),
      })),
      remedies: check.remedies.map((r) =>
        typeof r === 'string'
          ? { text: r }
          : { text: r.text, ...this.#condition(`${where}.remedies`, r.when) },
      ),
    };
  }

  #candidate(where: string, valueText: string, limitText: string): { value: Formula; limit: Formula } {
    const value = this.#formula(`${where}.value`, valueText) ?? EMPTY;
    const limit = this.#formula(`${where}.limit`, limitText) ?? EMPTY;
    this.#dimension(`${where}.value`, value);
    this.#dimension(`${where}.limit`, limit);
    this.#requireLike(`${where}.limit`, 'compared', value, limit);
    return { value, limit };
  }

  /** Two formulas that stand side by side have one dimension. */
  #requireLike(where: string, doing: string, left: Formula, right: Formula): void {
    const [a, b] = [this.#dimension('', left), this.#dimension('', right)];
    if (!a || !b || sameDimension(a, b)) return;
    this.#fault(
      where,
      problem('unequal-dimensions', {
        doing,
        left: left.text,
        leftDimension: nameDimension(a),
        right: right.text,
        rightDimension: nameDimension(b),
      }),
    );
  }

  /** The unit in which a formula's value is shown: that of the first name in it with the formula's dimension. */
  #unitOf(formula: Formula): Unit | undefined {
    const dimension = formula === EMPTY ? undefined : this.#dimension('', formula);
    if (!dimension) return undefined;
    return formula.names
      .map((name) => this.#units.get(name))
      .find((unit) => unit !== undefined && sameDimension(unit.dimension, dimension));
  }

  /** A column of choices is asked of a row. */
  #tableKeys(where: string, { table, over }: TableStep): void {
    for (const name of table.by) {
      const symbol = this.#symbols.get(name);
      if (symbol?.type === 'choices' && symbol.rows.table !== over) {
        this.#fault(`${where}.table`, problem('choices-as-choice', { name }));
      }
    }
  }

  #tableValues(where: string, values: Readonly<Record<string, string>>, unit: Unit): Map<string, number> {
    const table = new Map<string, number>();
    for (const [key, text] of Object.entries(values)) {
      const reading = readQuantity(text);
      if (!reading.ok) this.#fault(`${where}.table`, reading.problem);
      else if (unit !== UNREAD && !sameDimension(reading.value.unit.dimension, unit.dimension)) {
        this.#fault(`${where}.table`, dimensionProblem(key, unit, text, reading.value.unit));
      } else table.set(key, reading.value.si);
    }
    return table;
  }

  #formula(where: string, text: string, over?: string): Formula | undefined {
    return this.#bound(where, parseFormula(text), over);
  }

  #bound(where: string, parsed: Reading<Formula>, over: string | undefined): Formula | undefined {
    if (parsed.ok) this.#checkUnits(where, parsed.value);
    const bound = parsed.ok ? bindRows(parsed.value, this.#symbols, over) : parsed;
    if (bound.ok) return bound.value;
    this.#fault(where, bound.problem);
    return undefined;
  }

  /** With `over` the condition is asked of each row of that table. */
  #condition(where: string, text: string | undefined, over?: string): { when?: Formula } {
    if (text === undefined) return {};
    const condition = this.#bound(where, parseCondition(text), over);
    if (!condition) return {};
    const fault = this.#restsOnUnread(condition)
      ? undefined
      : checkCondition(condition, this.#symbols, { over });
    if (fault) this.#fault(where, fault);
    return { when: condition };
  }

  #dimension(where: string, formula: Formula, options: NumericOptions = {}) {
    if (formula === EMPTY || this.#restsOnUnread(formula)) return undefined;
    const reading = inferDimension(formula, this.#symbols, options);
    if (reading.ok) return reading.value;
    if (where !== '') this.#fault(where, reading.problem);
    return undefined;
  }

  #checkDimension(where: string, formula: Formula, unit: Unit, options: NumericOptions): void {
    const dimension = this.#dimension(where, formula, options);
    if (!dimension || unit === UNREAD || sameDimension(dimension, unit.dimension)) return;
    this.#fault(
      where,
      problem('result-dimension', {
        formula: formula.text,
        actual: nameDimension(dimension),
        expected: nameDimension(options.numeric ? PURE_NUMBER : unit.dimension),
        unit: unit.text,
      }),
    );
  }

  /** Of such a formula no dimension is known: what would be said of it only follows from the unit. */
  #restsOnUnread(formula: Formula): boolean {
    return formula.names.some((name) => this.#units.get(name) === UNREAD);
  }

  #unit(where: string, text: string): Unit {
    const reading = readUnit(text);
    if (reading.ok) return reading.value;
    this.#fault(where, reading.problem);
    return UNREAD;
  }

  #fault(where: string, fault: Problem): void {
    this.faults.push({ where, problem: fault });
  }
}

function overOf(step: PlainStep): string | undefined {
  return 'over' in step ? step.over : undefined;
}

/** A step may supply what else is given: then both are one value, with one symbol and dimension. */
function meansOneValue(given: SymbolInfo, step: SymbolInfo): boolean {
  return (
    given.type === 'number' &&
    step.type === 'number' &&
    given.tex === step.tex &&
    sameDimension(given.dimension, step.dimension)
  );
}

const EMPTY: Formula = {
  text: '0',
  root: { type: 'number', text: '0', value: 0, span: { start: 0, end: 1 } },
  names: [],
};

function dimensionProblem(name: string, expected: Unit, text: string, actual: Unit): Problem {
  return problem('wrong-dimension', {
    name,
    expected: nameDimension(expected.dimension),
    text,
    actual: nameDimension(actual.dimension),
    example: `1 ${expected.text}`,
  });
}
