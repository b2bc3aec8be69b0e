import type { SketchView } from '../../engine/definition/survey-sketch.ts';
import { readColumnHead, writeColumnHead } from '../../source/csv/column-head.ts';
import type { Separator } from '../../source/csv/csv-table.ts';
import type { GivenSource, NoteSource, ScheduleBlock } from '../../source/note-source.ts';
import type { ProjectSource } from '../../source/project-source.ts';
import { type DescribedCalculation, describeCalculation } from './describe-givens.ts';
import { rewriteNumber } from './rewrite-number.ts';
import type { AskedGiven, FormColumn, SurveyForm } from './survey-form.ts';

/** The table of a schedule as it is, if there is one. */
export interface KnownTable {
  readonly header: readonly string[];
  readonly rows: readonly (readonly string[])[];
  readonly separator: Separator;
}

export interface FormOptions {
  /** Whether values that the table has stand in the form, or the names of its rows alone. */
  readonly values: 'known' | 'none';
  /** So many rows without a name, behind those of the table. */
  readonly blankRows: number;
  /** What separates the cells of the table that is written; that of the one there is, where absent. */
  readonly separator?: Separator;
}

/** Begins with a number, and has something behind it. */
const OWN_UNIT = /^[+\-−]?\d[\d.,]*(?:[eE][+-]?\d+)?\s*[^\s\d.,]/;

/** Makes the form of a schedule of a note; undefined where its calculation is at fault. */
export function buildForm(
  schedule: ScheduleBlock,
  note: Pick<NoteSource, 'blocks' | 'frontMatter'>,
  project: Pick<ProjectSource, 'register'>,
  table: KnownTable | undefined,
  options: FormOptions,
): SurveyForm | undefined {
  const calculation = describeCalculation(schedule.common, note);
  if (!calculation) return undefined;
  const separator = options.separator ?? table?.separator ?? ',';
  const columns = listColumns(schedule, calculation, table);
  const known = (table?.rows ?? []).map((cells) =>
    columns.map((column, i) => cellOf(column, cells[i] ?? '', options, table!.separator, separator)),
  );
  const blank = Array.from({ length: options.blankRows }, () => columns.map(() => ''));
  const view = viewForSketch(schedule, calculation, project, columns, table);
  return {
    schedule: schedule.id,
    title: schedule.title ?? calculation.title,
    file: schedule.rows.name,
    columns,
    rows: [...known, ...blank],
    separator,
    ...(calculation.sketch ? { sketch: { ...calculation.sketch, view } } : {}),
  };
}

/** Those of the table in their order, else as the schedule names them. */
function listColumns(
  schedule: ScheduleBlock,
  calculation: DescribedCalculation,
  table: KnownTable | undefined,
): FormColumn[] {
  const heads = table?.header ?? namedColumns(schedule);
  let marks = 0;
  return heads.map((written, index): FormColumn => {
    const head = readColumnHead(written);
    const isNamed = (name: string | undefined): boolean => name === written || name === head.name;
    const sources = schedule.columns.filter(({ column }) => isNamed(column.name));
    const cells = table?.rows.map((row) => row[index] ?? '') ?? [];
    const asks = sources.flatMap(({ given, unit }): AskedGiven[] => {
      const described = calculation.givens.get(given);
      if (!described) return [];
      const stated = head.unit ?? unit?.name;
      const ownUnits =
        stated === undefined && described.unit !== '' && cells.some((cell) => OWN_UNIT.test(cell));
      const measured = calculation.sketch?.measures[given];
      marks += 1;
      return [
        {
          name: given,
          symbol: described.symbol,
          meaning: described.meaning,
          unit: ownUnits ? '' : (stated ?? described.unit),
          ownUnits,
          options: described.options,
          mark: `(${marks})`,
          ...(measured === undefined ? {} : { measured }),
        },
      ];
    });
    const unit = head.unit ?? (asks[0]?.unit || undefined);
    return {
      name: head.name,
      head: writeColumnHead({ name: head.name, ...(unit === undefined ? {} : { unit }) }),
      kind: isNamed(schedule.rowId?.name)
        ? 'id'
        : asks.length > 0
          ? 'given'
          : isNamed(schedule.caseColumn?.name)
            ? 'case'
            : isNamed(schedule.groupBy?.name)
              ? 'group'
              : 'other',
      asks,
    };
  });
}

function namedColumns({ rowId, groupBy, caseColumn, columns }: ScheduleBlock): readonly string[] {
  const names = [rowId, groupBy, caseColumn, ...columns.map(({ column }) => column)];
  return [...new Set(names.flatMap((one) => one?.name ?? []))];
}

function cellOf(
  { kind, asks }: FormColumn,
  cell: string,
  { values }: FormOptions,
  from: Separator,
  to: Separator,
): string {
  if (kind !== 'given') return cell;
  if (values === 'none') return '';
  const isNumber = asks.every(({ options }) => options.length === 0);
  return isNumber ? rewriteNumber(cell, from, to) : cell;
}

function viewForSketch(
  { common }: ScheduleBlock,
  { givens, bases }: DescribedCalculation,
  { register }: Pick<ProjectSource, 'register'>,
  columns: readonly FormColumn[],
  table: KnownTable | undefined,
): SketchView {
  const asked = columns.flatMap(({ asks }, index) => asks.map((one) => ({ ...one, index })));
  const written = [common, ...bases].flatMap(({ given }): readonly GivenSource[] => given);
  const items = [common, ...bases].flatMap((block) =>
    block.kind === 'calc' ? (block.givensFrom ?? []) : [],
  );
  const textOf = (path: string): string | undefined => {
    const value = register.get(path)?.value;
    return value?.type === 'scalar' ? value.text : undefined;
  };
  const valueOfAll = (name: string): string | undefined => {
    const column = asked.find((one) => one.name === name);
    if (column) {
      const cells = new Set((table?.rows ?? []).map((row) => row[column.index] ?? ''));
      const [only, second] = cells;
      return second === undefined && only !== '' ? only : undefined;
    }
    const value = written.find((given) => given.name === name)?.value;
    if (value) return value.type === 'scalar' ? value.text : undefined;
    return (
      items.map((item) => textOf(`${item.name}.${name}`)).find((text) => text !== undefined) ??
      givens.get(name)?.byDefault
    );
  };
  return {
    mark: (name) => asked.find((one) => one.name === name)?.mark,
    choice: (name) => {
      const option = valueOfAll(name);
      // What is none of its options is a fault that the schedule tells.
      return givens.get(name)?.options.some((one) => one.option === option) ? option : undefined;
    },
  };
}
