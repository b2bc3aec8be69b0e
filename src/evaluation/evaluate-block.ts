import { Collector } from '../diagnostics/collector.ts';
import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import { nearestName } from '../diagnostics/nearest-name.ts';
import { CALCULATIONS } from '../engine/calculations/registry.ts';
import type { EvaluatedCalculation } from '../engine/definition/evaluated.ts';
import { judgeWritten } from '../engine/definition/judge-written.ts';
import type { Spread } from '../engine/definition/piece-task.ts';
import { contentKey } from '../memory/content-key.ts';
import type { Ask, Memory } from '../memory/memory.ts';
import type { KindTerm } from '../quantity/kind-term.ts';
import type { Block } from '../source/note-source.ts';
import { cautionRangesElsewhere, listVarying } from './caution-ranges-elsewhere.ts';
import { type InputsReading, readInputs } from './inputs/read-inputs.ts';
import { judgeKinds, type KindJudgement } from './kinds/judge-kinds.ts';
import type { KnownCalculation } from './known-calculation.ts';
import { compileOwnCalculation } from './own-calculation.ts';
import { type BlockReporter, reporterOf } from './report-block.ts';
import type { DoneBlock, Resolution } from './resolve-target.ts';
import { type BlockRun, runBlock } from './run-block.ts';

/** What evaluation works with. Neither changes a result. */
export interface EvaluationTools {
  /** Holds what was computed before. */
  readonly memory: Memory;
  /** How samples of many pieces are worked. */
  readonly spread: Spread;
}

/** What a block can ask of the rest of its note and project, as evaluated so far. */
export interface BlockWorld {
  readonly resolve: Ask<Resolution>;
  /** Whether the value of a reference varies with a range. */
  readonly varies: Ask<boolean>;
  /** What is known of the kind of a referred value, and will be learnt. */
  readonly termOf: (target: string) => KindTerm | undefined;
}

export interface BlockOutcome {
  /** Undefined where the block is at fault. */
  readonly done: DoneBlock | undefined;
  /** The terms of its values, which later blocks join. */
  readonly terms: ReadonlyMap<string, KindTerm>;
  readonly diagnostics: readonly Diagnostic[];
  /** The references that it followed. */
  readonly asked: readonly string[];
}

/**
 * Evaluates one block, by queries that are remembered: its inputs by its givens and what they refer to, the run by the
 * calculation and the inputs, the kinds by those of the values that it takes over.
 *
 * @param isComplete false where givens may be missing for a fault that was reported: then only those that are there are read
 * @param digits by name, the significant digits that other blocks need of its values
 */
export function evaluateBlock(
  block: Block,
  world: BlockWorld,
  tools: EvaluationTools,
  isComplete = true,
  digits?: ReadonlyMap<string, number>,
): BlockOutcome {
  const collector = new Collector();
  const reporter = reporterOf(block, collector);
  const calculation = findCalculation(block, tools.memory, collector);
  const outcome = calculation
    ? evaluateKnown(block, calculation, world, tools, reporter, isComplete, digits)
    : { done: undefined, terms: new Map(), asked: [] };
  return { ...outcome, diagnostics: collector.list() };
}

/** The calculation of a block; undefined where there is none of that name, or it is at fault, which is reported. */
export function findCalculation(
  block: Block,
  memory: Memory,
  collector: Collector,
): KnownCalculation | undefined {
  if (block.kind === 'formula') return compileOwnCalculation(block, memory, collector);
  const name = block.calculation;
  const compiled = CALCULATIONS.get(name);
  if (compiled) return { compiled, key: name };
  const known = [...CALCULATIONS.keys()];
  collector.error('unknown-calculation', block.calculationPlace, {
    name,
    nearest: nearestName(name, known),
    known,
  });
  return undefined;
}

function evaluateKnown(
  block: Block,
  calculation: KnownCalculation,
  world: BlockWorld,
  tools: EvaluationTools,
  reporter: BlockReporter,
  isComplete: boolean,
  digits: ReadonlyMap<string, number> | undefined,
): Omit<BlockOutcome, 'diagnostics'> {
  const { memory, spread } = tools;
  const content = `${calculation.key}\n${contentKey(block.given)}`;
  const reading = memory.recallReading('inputs', content, world.resolve, (ask) =>
    readInputs(calculation.compiled, block.given, ask),
  );
  if (!isComplete) {
    reporter.add(reading.diagnostics);
    return { done: undefined, terms: new Map(), asked: reading.asked };
  }
  const run = reading.failed ? undefined : runBlock(memory, calculation, reading.inputs, spread, digits);
  const idle = run?.ok ? filledIdly(block, run.unused) : new Set<string>();
  if (idle.size > 0) {
    return evaluateKnown(withoutGivens(block, idle), calculation, world, tools, reporter, isComplete, digits);
  }
  reporter.add(reading.diagnostics);
  const judgement = judgeKinds(memory, questionOfKinds(block, calculation, reading, run), world.termOf);
  reporter.add(judgement.diagnostics);
  const { terms } = judgement;
  const outcome = { done: undefined, terms, asked: reading.asked };
  if (!run || judgement.failed.size > 0) {
    reportWritten(block, calculation, reading, judgement, reporter);
    return outcome;
  }
  if (!run.ok) reporter.computeFaults(run.faults);
  reporter.kindFaults(judgement.faults);
  if (!run.ok || judgement.faults.length > 0) return outcome;
  const { evaluated, varying } = finish(memory, calculation, run, world.varies);
  reporter.unused(run.unused);
  reporter.acceptances(evaluated);
  const done = {
    id: block.id,
    block,
    calculation: calculation.compiled,
    evaluated,
    kinds: run.kinds,
    varying,
  };
  return { ...outcome, done };
}

/** Of what an item of the register has, the calculation need not use everything: what it does not use, nobody has given it. */
function filledIdly({ given }: Block, unused: readonly string[]): ReadonlySet<string> {
  const filled = given.filter(({ name, origin }) => origin?.kind === 'register' && unused.includes(name));
  return new Set(filled.map(({ name }) => name));
}

function withoutGivens(block: Block, names: ReadonlySet<string>): Block {
  if (block.kind === 'formula') return block;
  return { ...block, given: block.given.filter(({ name }) => !names.has(name)) };
}

/** Without the values of a run it is not known which variants of the catalogue apply; own calculations have none. */
function questionOfKinds(
  { kind }: Block,
  calculation: KnownCalculation,
  { uses }: InputsReading,
  run: BlockRun | undefined,
) {
  const examine = run !== undefined && (run.ok || kind === 'formula');
  return { calculation, uses, examine, run: run?.ok ? run : undefined };
}

/** What can be said of the givens of a block that are there, where others are at fault. */
function reportWritten(
  { given }: Block,
  { compiled }: KnownCalculation,
  { inputs }: InputsReading,
  { failed }: KindJudgement,
  reporter: BlockReporter,
): void {
  const sound = new Map([...inputs].filter(([name]) => !failed.has(name)));
  reporter.computeFaults(judgeWritten(compiled, sound, new Set(given.map(({ name }) => name))));
}

/** What a run gives together with the ranges elsewhere of the values that it took over. */
function finish(
  memory: Memory,
  { compiled }: KnownCalculation,
  run: BlockRun & { ok: true },
  varies: Ask<boolean>,
): { readonly evaluated: EvaluatedCalculation; readonly varying: ReadonlySet<string> } {
  return memory.recallReading('result', memory.nameOf(run), varies, (ask) => {
    const { evaluated } = run;
    const further = cautionRangesElsewhere(evaluated, ask);
    return {
      evaluated:
        further.length > 0 ? { ...evaluated, cautions: [...evaluated.cautions, ...further] } : evaluated,
      varying: listVarying(evaluated, compiled, ask),
    };
  });
}
