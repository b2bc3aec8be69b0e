import type { Collector } from '../diagnostics/collector.ts';
import type { RelatedPlace } from '../diagnostics/diagnostic.ts';
import type { Place } from '../diagnostics/place.ts';
import { narrow } from '../diagnostics/place.ts';
import { compileDefinition } from '../engine/definition/compile-definition.ts';
import type {
  CalculationDefinition,
  CheckDefinition,
  GivenDefinition,
  StepDefinition,
} from '../engine/definition/definition.ts';
import type { DefinitionFault } from '../engine/definition/definition-fault.ts';
import { isFunctionName, reservedAs } from '../formula/words.ts';
import { contentKey } from '../memory/content-key.ts';
import type { Memory } from '../memory/memory.ts';
import { readUnitWithKind } from '../quantity/read-quantity.ts';
import type { VoltageKind } from '../quantity/voltage-kind.ts';
import type { FormulaBlock, OwnCheck, OwnGiven, OwnStep } from '../source/note-source.ts';
import { say } from '../words/sentence.ts';
import type { KnownCalculation } from './known-calculation.ts';

/** The name under which the engineer's own calculations are recorded. */
const OWN_CALCULATION = 'formula';

/** Compiles a `yaml formula` block with the machinery of the catalogue; faults are reported where they stand. */
export function compileOwnCalculation(
  block: FormulaBlock,
  memory: Memory,
  collector: Collector,
): KnownCalculation | undefined {
  const units = readUnits(block, collector);
  if (!checkNames(block, collector) || !units) return undefined;
  const definition = defineOwn(block, units);
  const key = contentKey(definition);
  // A value that is written and not used is a caution of the note, and the page's typesetter judges every symbol.
  const compilation = memory.recall('own calculation', key, () =>
    compileDefinition(definition, ['given-without-use', 'broken-tex']),
  );
  if (compilation.ok) return { compiled: compilation.calculation, key };
  for (const fault of compilation.faults) reportFault(block, fault, collector);
  return undefined;
}

function defineOwn(
  block: FormulaBlock,
  units: ReadonlyMap<OwnGiven | OwnStep, DeclaredUnit>,
): CalculationDefinition {
  return {
    name: OWN_CALCULATION,
    byAuthor: true,
    title: block.title ?? block.id,
    purpose: block.purpose ?? '',
    givens: Object.fromEntries(
      block.given.map((given) => [given.name, defineGiven(given, units.get(given)!)]),
    ),
    steps: Object.fromEntries(block.steps.map((step) => [step.name, defineStep(step, units.get(step)!)])),
    checks: Object.fromEntries(block.checks.map((check) => [check.name, defineCheck(check)])),
    evidence: [],
  };
}

/** In a formula that people read, 'max' beside 'max(...)' is a trap, though the language could tell them apart. */
function checkNames(block: FormulaBlock, collector: Collector): boolean {
  const wrong = [...block.given, ...block.steps].flatMap(({ name, namePlace }) => {
    const as = isFunctionName(name) ? 'a function' : reservedAs(name);
    return as ? [{ name, namePlace, as }] : [];
  });
  for (const { name, namePlace, as } of wrong) {
    collector.error('reserved-name', namePlace, { name, as, instead: `${name}_value` });
  }
  return wrong.length === 0;
}

/** A unit and the kind that is declared with it: `kV rms phase-phase`. */
interface DeclaredUnit {
  readonly unit: string;
  readonly voltage?: VoltageKind;
}

function readUnits(
  block: FormulaBlock,
  collector: Collector,
): ReadonlyMap<OwnGiven | OwnStep, DeclaredUnit> | undefined {
  const units = new Map<OwnGiven | OwnStep, DeclaredUnit>();
  let failed = false;
  for (const own of [...block.given, ...block.steps]) {
    const reading = readUnitWithKind(own.unit);
    if (reading.ok) {
      const { unit, kind } = reading.value;
      units.set(own, { unit, ...(kind ? { voltage: kind } : {}) });
    } else {
      failed = true;
      collector.problem(reading.problem, own.unitPlace, own.unit.length);
    }
  }
  return failed ? undefined : units;
}

function defineGiven({ symbol, meaning }: OwnGiven, unit: DeclaredUnit): GivenDefinition {
  return { type: 'quantity', symbol, meaning, ...unit };
}

function defineStep(
  { symbol, meaning, formula, source, numeric }: OwnStep,
  unit: DeclaredUnit,
): StepDefinition {
  return {
    symbol,
    meaning,
    ...unit,
    formula,
    basis: { kind: 'author', text: source ?? say('basis.no-source-of-formula', {}) },
    ...(numeric ? { numeric } : {}),
  };
}

function defineCheck({
  criterion,
  value,
  relation,
  limit,
  force,
  source,
  remedies,
}: OwnCheck): CheckDefinition {
  return {
    criterion,
    value,
    relation,
    limit,
    force,
    basis: { kind: 'author', text: source ?? say('basis.no-source-of-criterion', {}) },
    remedies,
  };
}

/** Reports a fault where the faulty part of the definition was written: 'steps.drop.0' is the formula of `drop`. */
export function reportFault(
  block: FormulaBlock,
  { where, problem }: DefinitionFault,
  collector: Collector,
  related?: readonly RelatedPlace[],
): void {
  const [part, name, inner] = where.split('.');
  const { place, text } = placeOf(block, part!, name!, inner);
  collector.error(problem.code, narrow(place, problem.span, text.length), problem.data as never, related);
}

function placeOf(
  block: FormulaBlock,
  part: string,
  name: string,
  inner: string | undefined,
): { place: Place; text: string } {
  if (part === 'givens') {
    const given = block.given.find((g) => g.name === name)!;
    return { place: given.unitPlace, text: given.unit };
  }
  if (part === 'steps') {
    const step = block.steps.find((s) => s.name === name)!;
    return inner === undefined
      ? { place: step.unitPlace, text: step.unit }
      : { place: step.formulaPlace, text: step.formula };
  }
  const check = block.checks.find((c) => c.name === name)!;
  if (inner === 'remedies' && check.remediesPlace)
    return { place: check.remediesPlace, text: check.remedies.join(' ') };
  return inner === 'limit'
    ? { place: check.limitPlace, text: check.limit }
    : { place: check.valuePlace, text: check.value };
}
