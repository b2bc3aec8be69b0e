import type { Collector } from '../diagnostics/collector.ts';
import type { RelatedPlace } from '../diagnostics/diagnostic.ts';
import { nearestName } from '../diagnostics/nearest-name.ts';
import type { Place } from '../diagnostics/place.ts';
import { CALCULATIONS } from '../engine/calculations/registry.ts';
import type { CompiledCalculation } from '../engine/definition/compiled.ts';
import type { Computation, ComputeFault } from '../engine/definition/compute.ts';
import type { EvaluatedCalculation } from '../engine/definition/evaluated.ts';
import { findUnused } from '../engine/definition/find-unused.ts';
import { inferKinds } from '../engine/definition/infer-kinds.ts';
import type { Inputs } from '../engine/definition/inputs.ts';
import { judgeWritten } from '../engine/definition/judge-written.ts';
import { oneByOne, type Spread } from '../engine/definition/piece-task.ts';
import { runCalculation } from '../engine/definition/run-calculation.ts';
import type { FormulaValues } from '../formula/formula.ts';
import type { KindTerm } from '../quantity/kind-term.ts';
import type { Block, GivenSource, NoteSource } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { cautionRangesElsewhere } from './caution-ranges-elsewhere.ts';
import type { EvaluatedBlock, EvaluatedNote } from './evaluated-note.ts';
import { kindsOfResults, RegisterKinds } from './kinds-of-values.ts';
import { type BlockReference, listReferences } from './list-references.ts';
import { compileOwnCalculation, reportFault as reportOwnFault } from './own-calculation.ts';
import { InputReader } from './read-inputs.ts';
import {
  blockIdOf,
  type DoneBlock,
  type Resolution,
  resolveInBlock,
  resolveRegister,
  type Target,
} from './resolve-target.ts';

/** Evaluates every block of a note, in whatever order their references ask for. Reports all faults of all blocks. */
export function evaluateNote(
  project: ProjectSource,
  note: NoteSource,
  collector: Collector,
  spread: Spread = oneByOne,
  kinds = new RegisterKinds(),
): EvaluatedNote {
  return new NoteEvaluation(project, note, collector, spread, kinds).run();
}

/** A block on the way to the one that is evaluated first, and the references of it that are still to be followed. */
interface Visit {
  readonly block: Block;
  /** Where the reference stands that led here; undefined for the first block of a chain. */
  readonly place: Place | undefined;
  readonly open: BlockReference[];
}

class NoteEvaluation {
  readonly #project: ProjectSource;
  readonly #note: NoteSource;
  readonly #collector: Collector;
  readonly #spread: Spread;
  readonly #kinds: RegisterKinds;
  readonly #blocks: ReadonlyMap<string, Block>;
  readonly #ids: ReadonlySet<string>;
  readonly #done = new Map<string, DoneBlock>();
  readonly #failed = new Set<string>();
  readonly #under: Visit[] = [];
  readonly #underIds = new Set<string>();
  readonly #register = new Map<string, { print: string; source: string | undefined }>();

  constructor(
    project: ProjectSource,
    note: NoteSource,
    collector: Collector,
    spread: Spread,
    kinds: RegisterKinds,
  ) {
    this.#project = project;
    this.#note = note;
    this.#collector = collector;
    this.#spread = spread;
    this.#kinds = kinds;
    this.#blocks = new Map(note.blocks.map((block) => [block.id, block]));
    this.#ids = new Set(this.#blocks.keys());
  }

  run(): EvaluatedNote {
    for (const block of this.#note.blocks) this.#evaluateWithAllBelow(block);
    const blocks = this.#note.blocks.flatMap((block): EvaluatedBlock[] => {
      const done = this.#done.get(block.id);
      if (!done) return [];
      const { evaluated } = done;
      return [
        {
          id: block.id,
          title: block.title ?? evaluated.title,
          source: block,
          evaluated,
          accepted: block.accepted,
        },
      ];
    });
    return { source: this.#note, blocks, proseTexts: this.#proseTexts(), usedRegister: this.#register };
  }

  /**
   * Evaluates a block after those to which it refers. A list stands for the stack: a chain of references may be as long as the
   * note.
   */
  #evaluateWithAllBelow(first: Block): void {
    this.#enter(first, undefined);
    while (this.#under.length > 0) {
      const { block, open } = this.#under.at(-1)!;
      const next = open.shift();
      if (!next) {
        if (!this.#isFinished(block.id)) this.#finish(block);
        this.#under.pop();
        this.#underIds.delete(block.id);
      } else if (!this.#isFinished(next.id) && !this.#closesCircle(next.id, next.place)) {
        this.#enter(this.#blocks.get(next.id)!, next.place);
      }
    }
  }

  #enter(block: Block, place: Place | undefined): void {
    const open = this.#isFinished(block.id) ? [] : listReferences(block, this.#ids);
    this.#under.push({ block, place, open });
    this.#underIds.add(block.id);
  }

  #isFinished(id: string): boolean {
    return this.#done.has(id) || this.#failed.has(id);
  }

  #finish(block: Block): void {
    const finished = this.#run(block);
    if (finished) this.#done.set(block.id, finished);
    else this.#failed.add(block.id);
  }

  #run(block: Block): DoneBlock | undefined {
    const calculation = this.#compile(block);
    if (!calculation) return undefined;
    const reader = new InputReader(
      calculation,
      (target, place) => this.#resolve(target, place),
      this.#collector,
    );
    const inputs = reader.read(block.given);
    if (reader.failed) {
      const written = new Set(block.given.map((given) => given.name));
      for (const fault of judgeWritten(calculation, inputs, written)) this.#reportFault(block, fault);
      return undefined;
    }
    const { terms } = reader;
    const outcome = runCalculation(calculation, inputs, this.#spread);
    if (!outcome.ok) {
      for (const fault of outcome.faults) this.#reportFault(block, fault);
      // Without the values of a run it is not known which variants of the catalogue apply; own calculations have none.
      if (block.kind === 'formula') this.#judgeKinds(block, calculation, terms);
      return undefined;
    }
    if (!this.#judgeKinds(block, calculation, terms, outcome.state.values)) return undefined;
    this.#cautionUnused(block, calculation, inputs, outcome.state);
    const further = cautionRangesElsewhere(outcome.evaluated, this.#done);
    const evaluated = { ...outcome.evaluated, cautions: [...outcome.evaluated.cautions, ...further] };
    this.#judgeAcceptances(block, evaluated);
    const kinds = kindsOfResults(calculation, inputs, outcome.state.values);
    return { id: block.id, calculation, evaluated, kinds, terms };
  }

  /** Whether the kinds of all values of the block go together. Adds those of its results to `terms`. */
  #judgeKinds(
    block: Block,
    calculation: CompiledCalculation,
    terms: Map<string, KindTerm>,
    values?: FormulaValues,
  ): boolean {
    const faults = inferKinds(calculation, terms, values);
    for (const fault of faults) {
      if (block.kind === 'formula') reportOwnFault(block, fault, this.#collector, fault.because);
      else
        this.#collector.error(
          fault.problem.code,
          block.calculationPlace,
          fault.problem.data as never,
          fault.because,
        );
    }
    return faults.length === 0;
  }

  #compile(block: Block): CompiledCalculation | undefined {
    if (block.kind === 'formula') return compileOwnCalculation(block, this.#collector);
    const calculation = CALCULATIONS.get(block.calculation);
    if (calculation) return calculation;
    const known = [...CALCULATIONS.keys()];
    this.#collector.error('unknown-calculation', block.calculationPlace, {
      name: block.calculation,
      nearest: nearestName(block.calculation, known),
      known,
    });
    return undefined;
  }

  #reportFault(block: Block, fault: ComputeFault): void {
    const place = this.#placeOfFault(block, fault);
    this.#collector.error(fault.problem.code, place, fault.problem.data as never);
  }

  #placeOfFault(block: Block, fault: ComputeFault): Place {
    const given = block.given.find((g) => g.name === fault.given);
    if (given) return placeWithin(given, fault);
    const own = block.kind === 'formula' ? block.steps.find((step) => step.name === fault.step) : undefined;
    if (own) return own.formulaPlace;
    return block.kind === 'calc' ? block.calculationPlace : block.idPlace;
  }

  #cautionUnused(
    block: Block,
    calculation: CompiledCalculation,
    inputs: Inputs,
    computed: Computation,
  ): void {
    for (const { name, because } of findUnused(calculation, inputs, computed)) {
      const place = block.given.find((given) => given.name === name)?.namePlace ?? block.place;
      this.#collector.caution('unused-given', place, { name, because });
    }
  }

  #judgeAcceptances(block: Block, evaluated: EvaluatedCalculation): void {
    const known = evaluated.cautions.map((caution) => caution.id);
    for (const { caution, place } of block.accepted) {
      if (known.includes(caution)) continue;
      this.#collector.error('unknown-accepted-caution', place, {
        caution,
        nearest: nearestName(caution, known),
      });
    }
  }

  #resolve(target: string, place: Place): Target | undefined {
    const id = blockIdOf(target, this.#ids);
    // A block that could not be read has been reported: what refers to it is not at fault.
    if (id === undefined && this.#note.faultyBlocks.has(target.split('.')[0]!)) return undefined;
    if (id === undefined) {
      const found = this.#take(resolveRegister(target, this.#project, this.#ids, this.#kinds), place);
      if (found?.type === 'text') this.#register.set(target, { print: found.print, source: found.source });
      return found;
    }
    // Without a value the block failed or closes a circle, and that has been reported.
    const block = this.#done.get(id);
    return block ? this.#take(resolveInBlock(target, block), place) : undefined;
  }

  #take(resolution: Resolution, place: Place): Target | undefined {
    if (resolution.ok) return resolution.target;
    const { problem } = resolution;
    this.#collector.error(problem.code, place, problem.data as never);
    return undefined;
  }

  #closesCircle(id: string, place: Place): boolean {
    if (!this.#underIds.has(id)) return false;
    const start = this.#under.findIndex((visit) => visit.block.id === id);
    const circle = this.#under.slice(start);
    const related: RelatedPlace[] = circle
      .slice(1)
      .flatMap((visit, i) =>
        visit.place
          ? [{ place: visit.place, note: `'${circle[i]!.block.id}' refers to '${visit.block.id}' here` }]
          : [],
      );
    this.#collector.error(
      'reference-cycle',
      place,
      { chain: [...circle.map((v) => v.block.id), id] },
      related,
    );
    return true;
  }

  #proseTexts(): Map<string, string> {
    const texts = new Map<string, string>();
    for (const { target, place } of this.#note.proseValues) {
      const found = this.#resolve(target, place);
      if (found) texts.set(target, found.print);
    }
    return texts;
  }
}

/** The item of a list or the cell of a table that a fault concerns, or the row that lacks it; else the given's name. */
function placeWithin(given: GivenSource, { item, column }: ComputeFault): Place {
  const node = item !== undefined && given.value.type === 'list' ? given.value.items[item] : undefined;
  if (!node) return given.namePlace;
  const cell = node.type === 'map' ? node.entries.find(({ key }) => key === column) : undefined;
  return cell ? cell.value.place : node.place;
}
