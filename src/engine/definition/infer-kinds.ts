import { type Problem, problem } from '../../diagnostics/problem.ts';
import { evaluateCondition } from '../../formula/evaluate-formula.ts';
import type { Formula, FormulaValues } from '../../formula/formula.ts';
import { inferKind } from '../../formula/infer-kind.ts';
import {
  ASPECTS,
  contradiction,
  describeAspect,
  joinTerms,
  type KindReason,
  type KindTerm,
  kindTerm,
  knownKind,
} from '../../quantity/kind-term.ts';
import type { Unit } from '../../quantity/unit.ts';
import { hasKind, type VoltageKind, writeConversion } from '../../quantity/voltage-kind.ts';
import type {
  CompiledCalculation,
  CompiledCheck,
  CompiledGiven,
  CompiledStep,
  CompiledVariant,
} from './compiled.ts';

/** A contradiction of kinds in a calculation: the part of its definition, and what settled the kinds. */
export interface KindFault {
  /** 'steps.lead_drop.0', 'checks.margin.limit'. */
  readonly where: string;
  readonly problem: Problem;
  readonly because: readonly KindReason[];
}

/**
 * Infers the kind of every step of a calculation and examines every formula and condition in it. `terms` holds what is known of
 * givens; what it lacks is taken as declared, and the steps are added. Lists and columns (`sections.length`) have one kind each.
 * With the `values` of a run, of steps, variants and checks only those count that apply there.
 */
export function inferKinds(
  calculation: Calculation,
  terms: Map<string, KindTerm>,
  values?: FormulaValues,
): KindFault[] {
  return new KindsOfCalculation(calculation, terms, values).run();
}

/** What is declared of the kind of a given, or of a column, by the name that formulas use: 'sections.length'. */
export function declaredKinds(given: CompiledGiven): readonly DeclaredKind[] {
  let declared = DECLARED.get(given);
  if (!declared) {
    declared = listDeclared(given);
    DECLARED.set(given, declared);
  }
  return declared;
}

type DeclaredKind = readonly [name: string, kind: VoltageKind | undefined];

const DECLARED = new WeakMap<CompiledGiven, readonly DeclaredKind[]>();

function listDeclared(given: CompiledGiven): DeclaredKind[] {
  const { name, definition, unit, columnUnits } = given;
  if (definition.type === 'choice' || definition.type === 'names') return [];
  if (definition.type !== 'rows') return hasKind(unit.dimension) ? [[name, definition.voltage]] : [];
  return Object.entries(definition.columns).flatMap(([column, inner]) => {
    const columnUnit = columnUnits.get(column);
    if (inner.type !== 'quantity' || !columnUnit || !hasKind(columnUnit.dimension)) return [];
    return [[`${name}.${column}`, inner.voltage] as const];
  });
}

type Calculation = Omit<CompiledCalculation, 'required'>;

class KindsOfCalculation {
  readonly #calculation: Calculation;
  readonly #terms: Map<string, KindTerm>;
  readonly #values: FormulaValues | undefined;
  readonly #faults: KindFault[] = [];

  constructor(calculation: Calculation, terms: Map<string, KindTerm>, values: FormulaValues | undefined) {
    this.#values = values;
    this.#calculation = calculation;
    this.#terms = terms;
  }

  run(): KindFault[] {
    const { givens, alternatives, steps, checks, validity, cautions, limiting } = this.#calculation;
    for (const [name, kind] of [...givens.values()].flatMap(declaredKinds)) {
      if (!this.#terms.has(name)) this.#terms.set(name, kindTerm(kind));
    }
    for (const [i, { when }] of alternatives.entries()) this.#term(`alternatives.${i}`, when);
    for (const step of steps) this.#step(step);
    for (const check of checks) this.#check(check);
    for (const { id, condition, acrossKinds } of validity) {
      if (!acrossKinds) this.#term(`validity.${id}`, condition);
    }
    for (const { id, when } of cautions) this.#term(`cautions.${id}`, when);
    for (const [i, { when }] of limiting.entries()) this.#term(`limiting.${i}`, when);
    return this.#faults;
  }

  #step({ name, definition, unit, when, words, work, over }: CompiledStep): void {
    const where = `steps.${name}`;
    this.#term(`${where}.when`, when);
    const term = this.#ownTerm(where, name, unit, definition.voltage);
    for (const { when: condition } of words) this.#term(`${where}.words`, condition);
    if (work.kind !== 'formula') return;
    if (when && !this.#applies(when)) return;
    const found: KindTerm[] = [];
    for (const [i, variant] of work.variants.entries()) {
      this.#term(`${where}.${i}`, variant.when);
      // Over rows each has its own.
      const applies = over !== undefined || !variant.when || this.#applies(variant.when);
      if (!applies) continue;
      found.push(this.#variant(`${where}.${i}`, variant));
      // Of a run the first that applies is the formula.
      if (this.#values && over === undefined) break;
    }
    if (term) joinVariants(term, found);
  }

  /** The kind that a variant gives: as its formula says, and as it is declared. */
  #variant(where: string, { formula, numeric, acrossKinds, voltage }: CompiledVariant): KindTerm {
    const declared = kindTerm(voltage);
    // An empirical formula counts in units: what it gives is for its author to declare.
    if (numeric || acrossKinds) return declared;
    const found = this.#term(where, formula);
    if (found && this.#declare(where, formula.text, found, declared)) joinTerms(declared, found);
    return declared;
  }

  /** Whether a condition holds in the run; without a run every condition may. */
  #applies(condition: Formula): boolean {
    if (!this.#values) return true;
    const reading = evaluateCondition(condition, this.#values);
    return reading.ok && reading.value;
  }

  /** The term of a step; a step that supplies a given is of its kind. */
  #ownTerm(where: string, name: string, unit: Unit, declared: VoltageKind | undefined): KindTerm | undefined {
    if (!hasKind(unit.dimension)) return undefined;
    const term = kindTerm(declared);
    const given = this.#terms.get(name);
    if (!given) this.#terms.set(name, term);
    else if (this.#declare(where, name, given, term)) joinTerms(given, term);
    return given ?? term;
  }

  /** Whether what was found can be what is declared. */
  #declare(where: string, text: string, found: KindTerm, declared: KindTerm): boolean {
    const aspect = contradiction(found, declared);
    if (!aspect) return true;
    const [from, to] = [knownKind(found) ?? {}, knownKind(declared) ?? {}];
    this.#fault(
      where,
      problem('result-kind', {
        formula: text,
        actual: describeAspect(aspect, found[aspect]),
        expected: describeAspect(aspect, declared[aspect]),
        conversion: writeConversion(`(${text})`, from, to),
      }),
      [found[aspect].reason, declared[aspect].reason],
    );
    return false;
  }

  #check({ name, candidates, when, forces, remedies }: CompiledCheck): void {
    const where = `checks.${name}`;
    this.#term(where, when);
    if (when && !this.#applies(when)) return;
    const [own] = candidates;
    const judged = own && this.#term(`${where}.value`, own.value);
    for (const [i, candidate] of candidates.entries()) {
      const part = i === 0 ? where : `${where}.competing.${i - 1}`;
      this.#term(part, candidate.when);
      if (candidate.when && !this.#applies(candidate.when)) continue;
      const value = i === 0 ? judged : this.#term(`${part}.value`, candidate.value);
      this.#alike(
        `${part}.limit`,
        [candidate.value, value],
        [candidate.limit, this.#term(`${part}.limit`, candidate.limit)],
      );
      if (i > 0) this.#alike(`${part}.value`, [own!.value, judged], [candidate.value, value]);
    }
    for (const part of [...forces, ...remedies]) this.#term(where, part.when);
  }

  #alike(
    where: string,
    [left, a]: readonly [Formula, KindTerm | undefined],
    [right, b]: readonly [Formula, KindTerm | undefined],
  ): void {
    if (!a || !b) return;
    const aspect = contradiction(a, b);
    if (!aspect) {
      joinTerms(a, b);
      return;
    }
    this.#fault(
      where,
      problem('contradicting-kinds', {
        doing: 'compared',
        left: left.text,
        leftKind: describeAspect(aspect, a[aspect]),
        right: right.text,
        rightKind: describeAspect(aspect, b[aspect]),
        aspect,
      }),
      [a[aspect].reason, b[aspect].reason],
    );
  }

  #term(where: string, formula: Formula | undefined): KindTerm | undefined {
    if (!formula) return undefined;
    const reading = inferKind(formula, this.#calculation.symbols, this.#terms);
    if (reading.ok) return reading.term;
    this.#fault(where, reading.problem, reading.because);
    return undefined;
  }

  #fault(where: string, fault: Problem, because: readonly (KindReason | undefined)[]): void {
    this.#faults.push({ where, problem: fault, because: because.filter((reason) => reason !== undefined) });
  }
}

/** A step is of the kind of its variants; where these differ or one is open, the kind depends on which applies. */
function joinVariants(term: KindTerm, variants: readonly KindTerm[]): void {
  for (const aspect of ASPECTS) {
    const cells = variants.map((variant) => variant[aspect]);
    const [first] = cells;
    const alike =
      cells.length === 1 || cells.every((cell) => cell.word !== undefined && cell.word === first!.word);
    if (first && alike) term[aspect].join(first);
  }
}
