import type { Collector } from '../diagnostics/collector.ts';
import type { Diagnostic, RelatedPlace } from '../diagnostics/diagnostic.ts';
import type { Place } from '../diagnostics/place.ts';
import { relatedNote } from '../diagnostics/related-note.ts';
import { CALCULATIONS } from '../engine/calculations/registry.ts';
import { oneByOne } from '../engine/definition/piece-task.ts';
import { Memory } from '../memory/memory.ts';
import type { KindTerm } from '../quantity/kind-term.ts';
import type { Block, CalcBlock, NoteSource, ProseValue, ScheduleBlock } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { valuesOfAction } from '../source/read-action.ts';
import { readOtherNoteTarget } from '../source/reference-target.ts';
import type { Text } from '../words/sentence.ts';
import { ENGLISH } from '../words/words.ts';
import { checkComparisons } from './check-comparisons.ts';
import { type BlockWorld, type EvaluationTools, evaluateBlock } from './evaluate-block.ts';
import type { EvaluatedBlock, EvaluatedNote, UsedEntry } from './evaluated-note.ts';
import { type Expansion, expandBases, type Fill } from './inherit/expand-bases.ts';
import { fillGivens } from './inherit/fill-givens.ts';
import { placeInherited } from './inherit/place-inherited.ts';
import { RegisterKinds } from './kinds/register-kinds.ts';
import { listReferences } from './list-references.ts';
import { type ItemReference, orderByReferences, type ReferenceCircle } from './order-by-references.ts';
import {
  type FinishedNote,
  type NamedInBlock,
  NO_OTHERS,
  type OtherNotes,
} from './other-notes/other-notes.ts';
import {
  blockIdOf,
  type DoneBlock,
  type Resolution,
  resolveInBlock,
  resolveRegister,
} from './resolve-target.ts';
import {
  commonBlock,
  type DoneSchedule,
  evaluateSchedule,
  noTables,
  type TableText,
} from './schedule/evaluate-schedule.ts';
import { type RowTarget, resolveInSchedule, rowTarget } from './schedule/resolve-in-schedule.ts';

export interface NoteEvaluationOptions extends Partial<EvaluationTools> {
  /** The kinds of register entries, which all notes of a run share. */
  readonly kinds?: RegisterKinds;
  /** The notes from which this one may take values. */
  readonly others?: OtherNotes;
  /** The texts of tables that schedules name. */
  readonly tables?: (path: string) => TableText;
}

/**
 * Evaluates every block of a note, in whatever order their references ask for. Reports all faults of all blocks.
 *
 * @internal
 */
export function evaluateNote(
  project: ProjectSource,
  note: NoteSource,
  collector: Collector,
  options: NoteEvaluationOptions = {},
): EvaluatedNote {
  return finishNote(project, note, collector, options).note;
}

/** The same, with what other notes need to take values from this one. */
export function finishNote(
  project: ProjectSource,
  note: NoteSource,
  collector: Collector,
  {
    memory = new Memory(),
    spread = oneByOne,
    kinds = new RegisterKinds(),
    others = NO_OTHERS,
    tables = noTables,
  }: NoteEvaluationOptions,
): Omit<FinishedNote, 'failed'> {
  return new NoteEvaluation(project, note, collector, { memory, spread }, { kinds, others, tables }).run();
}

/** Longer chains of blocks in which each asks the one before it for digits have not been met. */
const DIGIT_PASSES = 6;

class NoteEvaluation {
  readonly #project: ProjectSource;
  readonly #note: NoteSource;
  readonly #collector: Collector;
  readonly #tools: EvaluationTools;
  readonly #kinds: RegisterKinds;
  readonly #others: OtherNotes;
  readonly #tables: (path: string) => TableText;
  readonly #ids: ReadonlySet<string>;
  readonly #expansion: Expansion;
  /** Blocks that are complete; those that cannot be completed have been reported. */
  readonly #complete: ReadonlyMap<string, Block>;
  /** Of each block what was found, at the places where its values are written. */
  readonly #found = new Map<string, readonly Diagnostic[]>();
  readonly #done = new Map<string, DoneBlock>();
  readonly #schedules = new Map<string, DoneSchedule>();
  /** Of each block the terms of its values. */
  readonly #terms = new Map<string, ReadonlyMap<string, KindTerm>>();
  /** Of each block the digits that others need of its values. */
  readonly #digits = new Map<string, Map<string, number>>();
  readonly #register = new Map<string, UsedEntry>();

  constructor(
    project: ProjectSource,
    note: NoteSource,
    collector: Collector,
    tools: EvaluationTools,
    { kinds, others, tables }: Required<Pick<NoteEvaluationOptions, 'kinds' | 'others' | 'tables'>>,
  ) {
    this.#project = project;
    this.#note = note;
    this.#collector = collector;
    this.#tools = tools;
    this.#kinds = kinds;
    this.#others = others;
    this.#tables = tables;
    const all = [...note.blocks, ...note.schedules.map(commonBlock)];
    this.#ids = new Set(all.map(({ id }) => id));
    const ofBlocks = { faulty: note.faultyBlocks, schedules: new Set(note.schedules.map(({ id }) => id)) };
    this.#expansion = expandBases(all, ofBlocks, (block, base) => this.#fill(block, base));
    this.#complete = new Map(this.#expansion.blocks.map((block) => [block.id, block]));
  }

  run(): Omit<FinishedNote, 'failed'> {
    const complete = this.#expansion.blocks;
    for (const diagnostic of this.#expansion.diagnostics) this.#collector.add(diagnostic);
    checkComparisons(this.#note, this.#complete, this.#collector);
    const { items: blocks, circles } = orderByReferences(
      complete,
      (id) => this.#complete.get(id)!,
      (block) => this.#referencesOf(block),
    );
    for (const circle of circles) this.#reportCircle(circle);
    for (const block of blocks) this.#evaluate(block);
    this.#settleDigits(blocks);
    for (const block of blocks) this.#report(block);
    const proseTexts = this.#proseTexts();
    for (const { action } of [...this.#note.blocks, ...this.#note.schedules.map(({ common }) => common)]) {
      for (const value of action ? valuesOfAction(action) : []) this.#cautionWords(value);
    }
    const note: EvaluatedNote = {
      source: this.#note,
      blocks: complete.flatMap((block) => this.#evaluatedBlock(block)),
      schedules: this.#note.schedules.flatMap(({ id }) => this.#schedules.get(id)?.evaluated ?? []),
      proseTexts,
      usedRegister: this.#register,
      taken: [],
    };
    return {
      note,
      values: {
        ids: this.#ids,
        resolve: (local) => this.#resolve(local),
        varies: (local) => this.#varies(local),
        termOf: (local) => this.#termOf(local),
        blockOf: (local) => this.#blockOf(local),
      },
    };
  }

  /**
   * One value is printed in one way in a note: where a block needs more digits of what it takes over, the block from which that comes has
   * them too, and all others that take it over. A chain of blocks settles from its end.
   */
  #settleDigits(blocks: readonly Block[]): void {
    for (let pass = 0; pass < DIGIT_PASSES; pass++) {
      const again = this.#askDigits();
      if (again.size === 0) return;
      for (const block of blocks) {
        if (!again.has(block.id) && !this.#referencesOf(block).some(({ id }) => again.has(id))) continue;
        again.add(block.id);
        this.#evaluate(block);
      }
    }
  }

  /** The blocks of whose values more digits are needed than they are printed with. */
  #askDigits(): Set<string> {
    const asked = new Set<string>();
    for (const { evaluated } of this.#done.values()) {
      for (const given of evaluated.givens) {
        const { written, origin } = given;
        const id = origin === 'reference' && written ? blockIdOf(written, this.#ids) : undefined;
        const digits = id === undefined ? undefined : given.digits;
        if (digits === undefined || id === undefined || !this.#done.has(id)) continue;
        const own = this.#digits.get(id) ?? new Map<string, number>();
        const name = written!.slice(id.length + 1);
        const target = this.#resolve(written!);
        const has = target.ok && target.target.type === 'quantity' ? target.target.digits : undefined;
        if (digits <= Math.max(own.get(name) ?? 0, has ?? 0)) continue;
        this.#digits.set(id, own.set(name, digits));
        asked.add(id);
      }
    }
    return asked;
  }

  /** A block with the givens that the register fills. */
  #fill(block: CalcBlock, base: Block | undefined): ReturnType<Fill> {
    const calculation = CALCULATIONS.get(block.calculation);
    if (!block.givensFrom || !calculation) return { block, complete: true };
    const { given, complete } = fillGivens(block, base, calculation, this.#project, this.#collector);
    return { block: { ...block, given }, complete };
  }

  /** A circle that a value taken over closes stands where the base is named. */
  #reportCircle({ place, ids, chain, related }: ReferenceCircle): void {
    const [from, to] = ids.slice(-2) as [string, string];
    const block = this.#complete.get(from);
    if (!block?.basedOn || place.piece === block.place.piece) {
      this.#collector.error('reference-cycle', place, { chain }, related);
      return;
    }
    const written: RelatedPlace = { place, note: relatedNote('refers-to', { from: block.basedOn.name, to }) };
    this.#collector.error('reference-cycle', block.basedOn.place, { chain }, [written, ...related]);
  }

  /** When all blocks are evaluated: a base may stand behind the blocks on it. */
  #report({ id, place, basedOn }: Block): void {
    const found = this.#found.get(id) ?? [];
    const table = this.#note.schedules.find((schedule) => schedule.id === id)?.rows.name;
    const told = basedOn
      ? placeInherited(found, {
          base: basedOn.name,
          at: basedOn.place,
          isOwn: ({ file, piece }) => file === table || (file === place.file && piece === place.piece),
          replaced: this.#expansion.replaced.get(id) ?? [],
          toldOfBase: this.#found.get(basedOn.name) ?? [],
        })
      : found;
    for (const diagnostic of told) this.#collector.add(diagnostic);
  }

  #referencesOf({ given }: Block): ItemReference[] {
    return listReferences(given).flatMap(({ target, place }) => {
      const id = blockIdOf(target, this.#ids);
      return id === undefined || !this.#complete.has(id) ? [] : [{ id, place }];
    });
  }

  #world(): BlockWorld {
    return {
      resolve: (target) => this.#resolve(target),
      varies: (target) => this.#varies(target),
      termOf: (target) => this.#termOf(target),
    };
  }

  #evaluateSchedule(schedule: ScheduleBlock, common: Block): void {
    const isComplete = !this.#expansion.unfilled.has(common.id);
    const table = this.#tables(schedule.rows.name);
    // Faults of cells are shown with their lines.
    if (typeof table === 'object' && 'text' in table) {
      this.#collector.keepText(schedule.rows.name, table.text.replace(/^\uFEFF/, ''));
    }
    const question = { schedule, common, isComplete, table };
    const { done, diagnostics, asked } = evaluateSchedule(question, this.#world(), this.#tools);
    if (done) this.#schedules.set(schedule.id, done);
    this.#found.set(schedule.id, diagnostics);
    for (const target of asked) this.#noteUse(target);
  }

  #evaluate(block: Block): void {
    const schedule = this.#note.schedules.find(({ id }) => id === block.id);
    if (schedule) {
      this.#evaluateSchedule(schedule, block);
      return;
    }
    const isComplete = !this.#expansion.unfilled.has(block.id);
    const { done, terms, diagnostics, asked } = evaluateBlock(
      block,
      this.#world(),
      this.#tools,
      isComplete,
      this.#digits.get(block.id),
    );
    if (done) {
      this.#done.set(block.id, done);
      this.#terms.set(block.id, terms);
    }
    this.#found.set(block.id, diagnostics);
    for (const target of asked) this.#noteUse(target);
  }

  #evaluatedBlock(source: Block): EvaluatedBlock[] {
    const { id, accepted } = source;
    const done = this.#done.get(id);
    if (!done) return [];
    const { evaluated, block } = done;
    const ofCase = source.case ? { case: source.case } : {};
    return [{ id, title: source.title ?? evaluated.title, ...ofCase, source: block, evaluated, accepted }];
  }

  #resolve(target: string): Resolution {
    const other = readOtherNoteTarget(target);
    if (other) return this.#others.resolve(other);
    const id = blockIdOf(target, this.#ids);
    if (id === undefined) {
      // A block that could not be read has been reported: what refers to it is not at fault.
      if (this.#note.faultyBlocks.has(target.split('.')[0]!)) return { ok: false };
      return resolveRegister(target, this.#project, this.#ids);
    }
    // Without a value the block failed or closes a circle, and that has been reported.
    const schedule = this.#schedules.get(id);
    if (schedule) return resolveInSchedule(target, schedule);
    const block = this.#done.get(id);
    return block ? resolveInBlock(target, block) : { ok: false };
  }

  #varies(target: string): boolean {
    const other = readOtherNoteTarget(target);
    if (other) return this.#others.varies(other);
    const id = blockIdOf(target, this.#ids);
    const row = this.#rowOf(target, id);
    if (row) return row.row.done.varying.has(row.local.slice(row.row.done.id.length + 1));
    return id !== undefined && this.#done.get(id)?.varying.has(target.slice(id.length + 1)) === true;
  }

  #termOf(target: string): KindTerm | undefined {
    const other = readOtherNoteTarget(target);
    if (other) return this.#others.termOf(other);
    const id = blockIdOf(target, this.#ids);
    const row = this.#rowOf(target, id);
    // A limiting value is one of its given.
    if (row) return row.row.terms.get(row.local.slice(row.row.done.id.length + 1).replace(/^limiting\./, ''));
    if (id !== undefined)
      return this.#terms.get(id)?.get(target.slice(id.length + 1).replace(/^limiting\./, ''));
    const entry = this.#project.register.get(target);
    return entry?.value.type === 'scalar'
      ? this.#kinds.termOf(target, entry.value.text, entry.place)
      : undefined;
  }

  #blockOf(local: string): NamedInBlock | undefined {
    const id = blockIdOf(local, this.#ids);
    const found = this.#rowOf(local, id);
    if (found) {
      const { done } = found.row;
      return { block: done, name: found.local.slice(done.id.length + 1) };
    }
    const block = id === undefined ? undefined : this.#done.get(id);
    return block && { block, name: local.slice(block.id.length + 1) };
  }

  /** The row of a schedule whose value a reference names; undefined where it names none. */
  #rowOf(target: string, id: string | undefined): RowTarget | undefined {
    const schedule = id === undefined ? undefined : this.#schedules.get(id);
    const found = schedule && rowTarget(target, schedule);
    return found && 'row' in found ? found : undefined;
  }

  /** Takes note of an entry of the register that is used. */
  #noteUse(target: string): void {
    if (blockIdOf(target, this.#ids) !== undefined) return;
    const resolution = this.#resolve(target);
    if (!resolution.ok || resolution.target.type !== 'text') return;
    const { print, source, item } = resolution.target;
    const { file } = item;
    this.#register.set(target, { print, source, ...(file === undefined ? {} : { file }) });
  }

  #proseTexts(): Map<string, Text> {
    const texts = new Map<string, Text>();
    for (const { target, place } of this.#note.proseValues) {
      this.#noteUse(target);
      const text = this.#proseText(target, place);
      if (text !== undefined) texts.set(target, text);
    }
    return texts;
  }

  /** An action that asks for a limiting value where none is a number would ask for words. */
  #cautionWords({ target, place }: ProseValue): void {
    const resolution = this.#resolve(target);
    if (!/\.limiting\.[^.]*$/.test(target) || !resolution.ok || resolution.target.type !== 'words') return;
    const words = ENGLISH.word(resolution.target.print);
    this.#collector.caution('action-without-number', place, { target, words });
  }

  #proseText(target: string, place: Place): Text | undefined {
    const resolution = this.#resolve(target);
    if (resolution.ok) return resolution.target.print;
    const { problem } = resolution;
    if (problem) this.#collector.error(problem.code, place, problem.data as never);
    return undefined;
  }
}
