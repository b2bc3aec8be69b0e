import { CALCULATIONS } from '../../engine/calculations/registry.ts';
import type { CompiledCalculation } from '../../engine/definition/compiled.ts';
import { hasOwnId } from '../../source/block-kinds.ts';
import type { Piece } from '../../source/note-tree.ts';
import type { MapEntry, SourceNode } from '../../source/source-node.ts';
import type { Reading } from './reading.ts';
import { cellsOf, tableOf } from './table-heads.ts';

/** A value of a block, by the name by which references call it. */
export interface NamedValue {
  readonly name: string;
  readonly role: 'given' | 'result' | 'check' | 'limiting value';
  readonly meaning: string;
  /** The unit in which it is shown; absent where it is no quantity. */
  readonly unit?: string;
  /** A choice, or a result that is one. */
  readonly isChoice?: true;
  /** A list or a table: no single value. */
  readonly isList?: true;
}

/** The blocks of a note that have an id, those at fault too, in the order of the text. */
export function piecesWithId(reading: Reading, path: string): readonly Piece[] {
  const pieces = reading.noteOf(path)?.pieces ?? [];
  return pieces.filter(({ kind, head }) => hasOwnId(kind) && head.id !== undefined);
}

export function pieceOf(reading: Reading, path: string, id: string): Piece | undefined {
  return piecesWithId(reading, path).find(({ head }) => head.id!.text === id);
}

/** The calculation of a block by what its text says; through its bases, where it stands on some. */
export function calculationOf(
  reading: Reading,
  path: string,
  written: { readonly calculation?: string | undefined; readonly basedOn?: string | undefined },
): CompiledCalculation | undefined {
  const seen = new Set<string>();
  let { calculation, basedOn } = written;
  while (calculation === undefined && basedOn !== undefined && !seen.has(basedOn)) {
    seen.add(basedOn);
    const base = pieceOf(reading, path, basedOn);
    if (!base) return undefined;
    calculation = textAt(base.content, 'calculation');
    basedOn = textAt(base.content, 'based_on');
  }
  return calculation === undefined ? undefined : CALCULATIONS.get(calculation);
}

/** Everything of a block to which something may refer. */
export function namesOf(reading: Reading, path: string, id: string): readonly NamedValue[] {
  const piece = pieceOf(reading, path, id);
  if (!piece) return [];
  if (piece.kind === 'formula') return ownNames(piece.content);
  const calculation = calculationOfPiece(reading, path, piece);
  const names = calculation ? namesOfCalculation(calculation) : [];
  return piece.kind === 'schedule' ? namesOfSchedule(reading, piece, names) : names;
}

export function calculationOfPiece(
  reading: Reading,
  path: string,
  { content }: Piece,
): CompiledCalculation | undefined {
  const [calculation, basedOn] = [textAt(content, 'calculation'), textAt(content, 'based_on')];
  return calculationOf(reading, path, { calculation, basedOn });
}

/** Counts of rows, the values of the worst row, and those of each row by its name. */
function namesOfSchedule(reading: Reading, { content }: Piece, names: readonly NamedValue[]): NamedValue[] {
  const counts = [
    ['rows', 'how many rows the table has'],
    ['complies', 'how many rows comply'],
    ['does_not_comply', 'how many rows do not comply'],
    ['cannot_be_judged', 'how many rows cannot be judged'],
  ].map(([name, meaning]): NamedValue => ({ name: name!, role: 'result', meaning: meaning!, unit: '1' }));
  const table = tableOf(reading, textAt(content, 'rows') ?? '');
  const rows = table ? cellsOf(table, textAt(content, 'row_id') ?? '') : [];
  const ofRow = (row: string): NamedValue[] =>
    names.map((value) => ({ ...value, name: `${row}.${value.name}` }));
  return [
    ...counts,
    { name: 'worst.id', role: 'result', meaning: 'the name of the worst row', isChoice: true },
    { name: 'worst.margin', role: 'check', meaning: 'the margin of the worst row' },
    ...ofRow('worst'),
    ...rows.slice(0, MOST_ROWS_OFFERED).flatMap(ofRow),
  ];
}

/** Of longer tables nobody looks for a row in a list. */
const MOST_ROWS_OFFERED = 100;

function namesOfCalculation({ definition }: CompiledCalculation): NamedValue[] {
  const { givens, steps, checks = {}, limiting = [] } = definition;
  return [
    ...Object.entries(steps).map(([name, step]): NamedValue => {
      const gives = 'gives' in step ? step.gives : undefined;
      const isList = gives === 'list' || ('over' in step && step.over !== undefined);
      const isChoice = typeof gives === 'object';
      const { meaning, unit } = step;
      return {
        name,
        role: 'result',
        meaning,
        ...(isChoice ? { isChoice } : { unit }),
        ...(isList ? { isList } : {}),
      };
    }),
    ...Object.entries(givens).map(([name, given]): NamedValue => {
      const { meaning } = given;
      if (given.type === 'choice') return { name, role: 'given', meaning, isChoice: true };
      if (given.type === 'quantity') return { name, role: 'given', meaning, unit: given.unit };
      const unit = given.type === 'list' ? { unit: given.unit } : {};
      return { name, role: 'given', meaning, ...unit, isList: true };
    }),
    ...Object.entries(checks).map(
      ([name, { criterion }]): NamedValue => ({ name, role: 'check', meaning: criterion }),
    ),
    ...limiting.map(
      ({ given, meaning }): NamedValue => ({ name: `limiting.${given}`, role: 'limiting value', meaning }),
    ),
  ];
}

function ownNames(content: SourceNode): NamedValue[] {
  const list = (key: string, role: NamedValue['role']): NamedValue[] =>
    entriesAt(content, key).map(({ key: name, value }) => {
      const unit = textAt(value, 'unit');
      const meaning = textAt(value, role === 'check' ? 'criterion' : 'meaning') ?? '';
      return { name, role, meaning, ...(unit === undefined ? {} : { unit }) };
    });
  return [...list('steps', 'result'), ...list('given', 'given'), ...list('checks', 'check')];
}

export function entriesAt(node: SourceNode, key: string): readonly MapEntry[] {
  const value = node.type === 'map' ? node.entries.find((entry) => entry.key === key)?.value : undefined;
  return value?.type === 'map' ? value.entries : [];
}

function textAt(node: SourceNode, key: string): string | undefined {
  const value = node.type === 'map' ? node.entries.find((entry) => entry.key === key)?.value : undefined;
  return value?.type === 'scalar' ? value.text.trim() : undefined;
}
