import { Collector } from '../../diagnostics/collector.ts';
import { type Diagnostic, diagnose, hasErrors } from '../../diagnostics/diagnostic.ts';
import type { DataOf } from '../../diagnostics/messages.ts';
import { nearestName } from '../../diagnostics/nearest-name.ts';
import { relatedNote } from '../../diagnostics/related-note.ts';
import type { EvaluatedCaution } from '../../engine/definition/evaluated.ts';
import { findUnused } from '../../engine/definition/find-unused.ts';
import type { GivenInput } from '../../engine/definition/inputs.ts';
import { judgeWritten } from '../../engine/definition/judge-written.ts';
import type { Value } from '../../engine/definition/value.ts';
import { contentKey } from '../../memory/content-key.ts';
import type { Memory } from '../../memory/memory.ts';
import { type CsvTable, placeOfCell } from '../../source/csv/csv-table.ts';
import { type DecimalSign, findDecimalSign } from '../../source/csv/decimal-signs.ts';
import { readCsv } from '../../source/csv/read-csv.ts';
import type { Block, GivenSource, OwnGiven, ScheduleBlock } from '../../source/note-source.ts';
import {
  type BlockOutcome,
  type BlockWorld,
  type EvaluationTools,
  evaluateBlock,
  findCalculation,
} from '../evaluate-block.ts';
import type { EvaluatedBlock } from '../evaluated-note.ts';
import { listInherited } from '../inherit/list-inherited.ts';
import { type InputsReading, readInputs } from '../inputs/read-inputs.ts';
import type { KnownCalculation } from '../known-calculation.ts';
import type { DoneBlock, Resolution } from '../resolve-target.ts';
import type { EvaluatedSchedule, ScheduleRow } from './evaluated-schedule.ts';
import { type MappedColumns, mapColumns } from './map-columns.ts';
import { orderRows } from './order-rows.ts';
import { RowReader, type RowSource } from './read-rows.ts';
import { runRow } from './run-row.ts';

/** The text of a table; where it is missing, one that may be meant; what could not be read was reported by whoever tried to. */
export type TableText = { readonly text: string } | { readonly nearest: string | undefined } | 'reported';

/** Of a project without tables. */
export function noTables(): TableText {
  return { nearest: undefined };
}

export interface ScheduleQuestion {
  readonly schedule: ScheduleBlock;
  /** What the rows have in common, with all that a base and the register give; the givens of columns have no values. */
  readonly common: Block;
  /** False where givens may be missing for a fault that was reported. */
  readonly isComplete: boolean;
  readonly table: TableText;
}

/** A schedule that was evaluated. */
export interface DoneSchedule {
  readonly evaluated: EvaluatedSchedule;
  /** A row as an ordinary block, by its name; undefined where there is none. */
  rowOf(id: string): RowBlock | undefined;
}

export type RowBlock = Pick<BlockOutcome, 'terms'> & { readonly done: DoneBlock };

export interface ScheduleOutcome {
  /** Undefined where anything of it is at fault. */
  readonly done: DoneSchedule | undefined;
  readonly diagnostics: readonly Diagnostic[];
  /** The references that were followed. */
  readonly asked: readonly string[];
}

/** The common part of a schedule as a block to which a base and the register can be applied: givens of columns count as written. */
export function commonBlock({ common, columns }: ScheduleBlock): ScheduleBlock['common'] {
  const ofColumns = columns.map(
    ({ given, givenPlace }): GivenSource => ({
      name: given,
      namePlace: givenPlace,
      value: { type: 'empty', reported: true, place: givenPlace },
    }),
  );
  return { ...common, given: [...common.given, ...ofColumns] };
}

/**
 * Evaluates a schedule: every row by the calculation in short, once for each set of values; the worst rows as blocks. Every row that is at
 * fault is evaluated as a block, so that it is told what a block is told.
 */
export function evaluateSchedule(
  question: ScheduleQuestion,
  world: BlockWorld,
  tools: EvaluationTools,
): ScheduleOutcome {
  return new ScheduleEvaluation(question, world, tools).run();
}

/** A table as it was read, with what was found. */
function recallTable(memory: Memory, path: string, text: string) {
  return memory.recall('table', `${path}\n${text}`, () => {
    const collector = new Collector();
    return { table: readCsv(path, text, collector), collector };
  });
}

/** What the rows are read by. */
interface RowsOf {
  readonly table: CsvTable;
  readonly columns: MappedColumns;
  readonly sign: DecimalSign;
}

class ScheduleEvaluation {
  readonly #schedule: ScheduleBlock;
  readonly #common: Block;
  readonly #question: ScheduleQuestion;
  readonly #world: BlockWorld;
  readonly #tools: EvaluationTools;
  readonly #collector = new Collector();
  readonly #columnNames: ReadonlySet<string>;
  readonly #asked = new Set<string>();

  constructor(question: ScheduleQuestion, world: BlockWorld, tools: EvaluationTools) {
    this.#question = question;
    this.#schedule = question.schedule;
    this.#common = question.common;
    this.#world = world;
    this.#tools = tools;
    this.#columnNames = new Set(question.schedule.columns.map(({ given }) => given));
  }

  run(): ScheduleOutcome {
    const done = this.#evaluate();
    const diagnostics = this.#collector.list();
    return { done: hasErrors(diagnostics) ? undefined : done, diagnostics, asked: [...this.#asked] };
  }

  #evaluate(): DoneSchedule | undefined {
    const calculation = findCalculation(this.#common, this.#tools.memory, this.#collector);
    this.#refuseDoubles();
    const given = this.#common.given.filter(({ name }) => !this.#columnNames.has(name));
    const reading = calculation && this.#readCommon(calculation, given);
    const rows = calculation && this.#readTable(calculation);
    if (!calculation || !reading || !this.#question.isComplete) return undefined;
    const isWhole = this.#reportMissing(calculation, reading, given);
    if (!rows || !isWhole) return undefined;
    const run = new RowsRun(
      { calculation, given, reading, rows, schedule: this.#schedule, common: this.#common },
      this.#world,
      this.#tools,
      this.#collector,
    );
    const done = run.run();
    for (const target of run.asked) this.#asked.add(target);
    return done;
  }

  /** A given has one column, or one value for all rows. */
  #refuseDoubles(): void {
    const { columns, common } = this.#schedule;
    for (const [i, { given, givenPlace }] of columns.entries()) {
      const first = columns.findIndex((other) => other.given === given);
      const written = common.given.find(({ name }) => name === given);
      if (first < i) this.#collector.error('column-twice', givenPlace, { name: given });
      if (written) {
        const related = [{ place: written.namePlace, note: relatedNote('first-written', {}) }];
        this.#collector.error('column-and-given', givenPlace, { name: given }, related);
      }
    }
  }

  #readCommon({ key, compiled }: KnownCalculation, given: readonly GivenSource[]): InputsReading {
    const content = `${key}\n${contentKey(given)}`;
    const reading = this.#tools.memory.recallReading('inputs', content, this.#world.resolve, (ask) =>
      readInputs(compiled, given, ask),
    );
    for (const diagnostic of reading.diagnostics) this.#collector.add(diagnostic);
    for (const target of reading.asked) this.#asked.add(target);
    return reading;
  }

  #readTable({ compiled }: KnownCalculation): RowsOf | undefined {
    const { table: found } = this.#question;
    const { name: path, place } = this.#schedule.rows;
    if (found === 'reported') return undefined;
    if (!('text' in found)) {
      this.#collector.error('table-missing', place, { path, nearest: found.nearest });
      return undefined;
    }
    const read = recallTable(this.#tools.memory, path, found.text);
    this.#collector.addAll(read.collector);
    const { table } = read;
    if (!table) return undefined;
    const columns = mapColumns(this.#schedule, table, compiled, this.#collector);
    const numbers = columns?.givens.filter(({ given }) => given.definition.type === 'quantity');
    const sign =
      numbers &&
      findDecimalSign(
        table,
        numbers.map(({ index }) => index),
        this.#collector,
      );
    return columns && sign ? { table, columns, sign } : undefined;
  }

  /** What every row lacks is told once. */
  #reportMissing(
    { compiled }: KnownCalculation,
    { inputs }: InputsReading,
    given: readonly GivenSource[],
  ): boolean {
    const written = new Set([...given.map(({ name }) => name), ...this.#columnNames]);
    const missing = judgeWritten(compiled, inputs, written).filter(
      ({ problem }) => problem.code === 'missing-given',
    );
    const { calculationPlace } = this.#schedule.common;
    for (const { problem } of missing) this.#collector.problem(problem, calculationPlace);
    return missing.length === 0;
  }
}

interface RowsQuestion {
  readonly schedule: ScheduleBlock;
  readonly common: Block;
  readonly calculation: KnownCalculation;
  /** What is given for all rows. */
  readonly given: readonly GivenSource[];
  readonly reading: InputsReading;
  readonly rows: RowsOf;
}

function refuseToAnswer(): Resolution {
  return { ok: false };
}

/** When so many rows are at fault, no more are looked at. */
const MOST_AT_FAULT = 500;

/** Goes through the rows of a table. */
class RowsRun {
  readonly asked: string[] = [];
  readonly #question: RowsQuestion;
  readonly #world: BlockWorld;
  readonly #tools: EvaluationTools;
  readonly #collector: Collector;
  /** Of branches and kinds of values, whether the kinds go together: asked of one row, it holds for all like it. */
  readonly #sound = new Map<string, boolean>();
  readonly #blocks = new Map<string, RowBlock | undefined>();
  /** Of each set of branches the first row. */
  readonly #ways = new Map<string, string>();
  readonly #filled: readonly string[];
  /** Givens that no row so far has used. */
  #unused: ReadonlySet<string>;

  constructor(question: RowsQuestion, world: BlockWorld, tools: EvaluationTools, collector: Collector) {
    this.#question = question;
    this.#world = world;
    this.#tools = tools;
    this.#collector = collector;
    const { given, schedule } = question;
    this.#filled = given.filter(({ origin }) => origin?.kind === 'register').map(({ name }) => name);
    this.#unused = new Set([
      ...given.map(({ name }) => name).filter((name) => !this.#filled.includes(name)),
      ...schedule.columns.map((column) => column.given),
    ]);
  }

  run(): DoneSchedule | undefined {
    const { table } = this.#question.rows;
    const reader = this.#reader(this.#collector);
    const rows: ScheduleRow[] = [];
    for (const index of table.rows.keys()) {
      const row = this.#row(reader.read(index));
      if (row) rows.push(row);
      else if (index + 1 - rows.length === MOST_AT_FAULT && this.#breakOff(index + 1)) break;
    }
    if (this.#collector.hasErrors || rows.length < table.rows.length) return undefined;
    this.#reportUnused();
    this.#reportAcceptances(rows);
    return this.#compose(rows);
  }

  /** Many rows at fault have a cause in common, and each costs as much as a block; false behind the last row. */
  #breakOff(index: number): boolean {
    const { table } = this.#question.rows;
    const next = table.rows[index];
    if (!next) return false;
    const place = placeOfCell(table, next.cells[0]!);
    this.#collector.error('rows-not-examined', place, { most: MOST_AT_FAULT });
    return true;
  }

  #reader(collector: Collector): RowReader {
    const { rows, common } = this.#question;
    return new RowReader(rows.table, rows.columns, rows.sign, common, collector);
  }

  /** One row in short; undefined where it is at fault, which is reported. */
  #row(source: RowSource): ScheduleRow | undefined {
    const { calculation, reading: common } = this.#question;
    const reading = readInputs(calculation.compiled, source.given, refuseToAnswer);
    if (source.faulty) {
      for (const diagnostic of reading.diagnostics) this.#collector.add(diagnostic);
      return undefined;
    }
    if (reading.failed || common.failed) return this.#tell(source);
    const inputs = new Map([...common.inputs, ...reading.inputs]);
    const content = `${this.#tools.memory.nameOf(common)}\n${contentOf(source)}`;
    const run = runRow(this.#tools, calculation, content, inputs, this.#filled);
    if (!run.ok || !this.#kindsAgree(source, `${run.branches} ${kindsIn(reading)}`))
      return this.#tell(source);
    if (!this.#ways.has(run.branches)) this.#ways.set(run.branches, source.id);
    this.#lookForUses(inputs);
    const { results, checks, limiting, cautions } = run;
    const { id, line } = source;
    const { case: ofAll } = this.#question.common;
    const ofCase = source.case ?? ofAll;
    return {
      row: line,
      id,
      ...(ofCase ? { case: ofCase } : {}),
      ...(source.group === undefined ? {} : { group: source.group }),
      given: valuesOf(reading.inputs),
      results,
      checks,
      limiting,
      cautions,
    };
  }

  /** Tells of a row at fault what is told of a block. */
  #tell(source: RowSource): undefined {
    const { diagnostics, asked } = this.#evaluateBlock(source);
    for (const diagnostic of diagnostics)
      if (diagnostic.severity === 'error') this.#collector.add(this.#asOfCell(diagnostic));
    this.asked.push(...asked);
    return undefined;
  }

  /** What a row lacks is to be written into the table. */
  #asOfCell(diagnostic: Diagnostic): Diagnostic {
    const { code, data, place, related } = diagnostic;
    const isCell = code === 'missing-given' && place.file === this.#question.rows.table.file;
    return isCell
      ? diagnose('error', 'missing-cell', place, data as DataOf<'missing-cell'>, related)
      : diagnostic;
  }

  #kindsAgree(source: RowSource, key: string): boolean {
    const known = this.#sound.get(key);
    if (known !== undefined) return known;
    const { done, diagnostics } = this.#evaluateBlock(source);
    const agree = done !== undefined && !hasErrors(diagnostics);
    this.#sound.set(key, agree);
    return agree;
  }

  #evaluateBlock(source: RowSource): BlockOutcome {
    return evaluateBlock(this.#blockOf(source), this.#world, this.#tools);
  }

  /** A row as the block that an author might have written for it. */
  #blockOf({ id, place, given, absent, case: ofCase }: RowSource): Block {
    const { schedule, common } = this.#question;
    const title = schedule.title === undefined ? id : `${schedule.title}: ${id}`;
    const own = {
      id: `${schedule.id}/${id}`,
      idPlace: place,
      title,
      accepted: [],
      absent,
      ...(ofCase ? { case: ofCase } : {}),
    };
    const all = [...this.#question.given, ...given];
    if (common.kind === 'formula') {
      const { basedOn: _, without: __, action: ___, ...rest } = common;
      return { ...rest, ...own, given: all.filter(isOwn) };
    }
    const { basedOn: _, without: __, givensFrom: ___, action: ____, ...rest } = common;
    return { ...rest, ...own, calculationPlace: place, given: all };
  }

  #lookForUses(inputs: ReadonlyMap<string, GivenInput>): void {
    if (this.#unused.size === 0) return;
    const { compiled } = this.#question.calculation;
    const unused = new Set(findUnused(compiled, inputs));
    this.#unused = new Set([...this.#unused].filter((name) => unused.has(name) || !inputs.has(name)));
  }

  /** Only what no row uses: a column serves the rows that need it. */
  #reportUnused(): void {
    const { given, schedule } = this.#question;
    for (const name of this.#unused) {
      const column = schedule.columns.find((one) => one.given === name);
      const place = column?.givenPlace ?? given.find((one) => one.name === name)!.namePlace;
      this.#collector.caution('unused-given', place, { name });
    }
  }

  #reportAcceptances(rows: readonly ScheduleRow[]): void {
    const { accepted } = this.#question.schedule.common;
    if (accepted.length === 0) return;
    const known = new Set(rows.flatMap(({ cautions }) => cautions.map(({ id }) => id)));
    for (const { caution, place } of accepted) {
      if (known.has(caution)) continue;
      this.#collector.error('unknown-accepted-caution', place, {
        caution,
        nearest: nearestName(caution, known),
      });
    }
  }

  #compose(rows: readonly ScheduleRow[]): DoneSchedule | undefined {
    const { schedule, rows: of, common } = this.#question;
    const ordered = orderRows(rows);
    const indices = new Map(rows.map(({ id }, index) => [id, index]));
    const rowOf = (id: string): RowBlock | undefined => {
      const index = indices.get(id);
      return index === undefined ? undefined : this.#rowBlock(id, index);
    };
    const worst = rowOf(ordered[0]!.id)!;
    const method = worst.done.evaluated;
    const further = method.cautions.filter(({ id }) => id === 'ranges-not-carried');
    const withAll = further.length === 0 ? rows : rows.map((row) => withCautions(row, further));
    const evaluated: EvaluatedSchedule = {
      id: schedule.id,
      title: schedule.title ?? method.title,
      ...(common.case && !schedule.caseColumn ? { case: common.case } : {}),
      calculation: method.calculation,
      source: schedule,
      file: { path: of.table.file, separator: of.table.separator, decimalCommas: of.sign === ',' },
      method,
      inherited: listInherited(common),
      ways: [...this.#ways.values()].map((id) => rowOf(id)!.done.evaluated),
      rows: withAll,
      inFull: ordered.slice(0, schedule.inFull).map((row) => this.#inFull(row, rowOf(row.id)!.done)),
      groups: [...new Set(rows.flatMap(({ group }) => group ?? []))],
    };
    return { evaluated, rowOf };
  }

  #rowBlock(id: string, index: number): RowBlock {
    const known = this.#blocks.get(id);
    if (known) return known;
    const { done, terms } = this.#evaluateBlock(this.#reader(new Collector()).read(index));
    if (!done) throw new Error(`row '${id}' was evaluated in short and cannot be evaluated as a block`);
    const block = { done, terms };
    this.#blocks.set(id, block);
    return block;
  }

  #inFull(row: ScheduleRow, { block, evaluated }: DoneBlock): EvaluatedBlock {
    const { accepted } = this.#question.schedule.common;
    const has = new Set(evaluated.cautions.map(({ id }) => id));
    return {
      id: block.id,
      title: block.title ?? evaluated.title,
      ...(row.case ? { case: row.case } : {}),
      source: block,
      evaluated,
      accepted: accepted.filter(({ caution }) => has.has(caution)),
    };
  }
}

/** What a block of own formulas declares goes with each of its givens, those of columns too. */
function isOwn(given: GivenSource): given is OwnGiven {
  return 'symbol' in given;
}

/** All that the values of a row rest on. */
function contentOf({ given }: RowSource): string {
  return given.map(({ name, value }) => `${name}=${value.type === 'scalar' ? value.text : ''}`).join('\n');
}

function kindsIn({ uses }: InputsReading): string {
  return uses.map(({ name, kind }) => `${name} ${kind?.measure ?? ''} ${kind?.between ?? ''}`).join(',');
}

function valuesOf(inputs: ReadonlyMap<string, GivenInput>): Record<string, Value> {
  return Object.fromEntries([...inputs].map(([name, { value }]) => [name, value]));
}

function withCautions(row: ScheduleRow, further: readonly EvaluatedCaution[]): ScheduleRow {
  return { ...row, cautions: [...row.cautions, ...further] };
}
