import { type Problem, problem } from '../../diagnostics/problem.ts';
import type { CompiledGiven } from '../../engine/definition/compiled.ts';
import { readGivenText } from '../../engine/definition/read-given.ts';
import { sameDimension } from '../../quantity/dimension.ts';
import type { Quantity } from '../../quantity/quantity.ts';
import { readQuantity } from '../../quantity/read-quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import { writeVoltageKind } from '../../quantity/voltage-kind.ts';

/** The name of a column and the unit that stands behind it: `lead a [m]`, `Up (kV)`. */
export interface ReadHeader {
  readonly name: string;
  readonly unit?: string;
}

const WITH_UNIT = /^(.*\S)\s*(?:\[([^[\]]+)\]|\(([^()]+)\))$/;

/** What stands in brackets counts as a unit where it is one; else it belongs to the name. */
export function readHeader(text: string): ReadHeader {
  const [, name, square, round] = WITH_UNIT.exec(text) ?? [];
  const unit = (square ?? round)?.trim();
  if (name === undefined || unit === undefined || !readQuantity(`1 ${unit}`).ok) return { name: text };
  return { name, unit };
}

/** The unit of a column, as a quantity of one such, or why it cannot be that of a given. */
export function readColumnUnit(
  { name, definition, unit }: CompiledGiven,
  text: string,
): { readonly ok: true; readonly value: Quantity } | { readonly ok: false; readonly problem: Problem } {
  if (definition.type !== 'quantity')
    return { ok: false, problem: problem('unit-not-for-this', { name, unit: text }) };
  const reading = readQuantity(`1 ${text}`);
  if (!reading.ok) return reading;
  // That one of it lies outside what is permitted says nothing of the cells.
  const { permitted: _, whole: __, ...any } = definition;
  return readGivenText(name, any, unit, `1 ${text}`);
}

export function sameUnit(a: Unit, b: Unit): boolean {
  return (
    sameDimension(a.dimension, b.dimension) &&
    a.exponent10 === b.exponent10 &&
    a.multiplier === b.multiplier &&
    a.offset === b.offset
  );
}

/** A number alone, without a unit behind it. */
const BARE = /^[+\-−]?[\d.,'’_\s\u00a0\u2009\u202f]+(?:[eE][+-]?\d+)?$/;

/** Whether the cell of a quantity holds a number alone. */
export function isBare(text: string): boolean {
  return BARE.test(text);
}

/**
 * The text of a cell with the unit of its column; a problem where the cell has another. What is wrong with the cell itself is for
 * its reader to say.
 */
export function withUnit(
  text: string,
  column: string,
  unit: Quantity,
): { readonly ok: true; readonly text: string } | { readonly ok: false; readonly problem: Problem } {
  const kind = writeVoltageKind(unit.kind);
  if (isBare(text))
    return {
      ok: true,
      text: [text, unit.unit.text === '1' ? '' : unit.unit.text, kind].filter(Boolean).join(' '),
    };
  const own = readQuantity(text);
  if (!own.ok) return { ok: true, text };
  if (!sameUnit(own.value.unit, unit.unit)) {
    return {
      ok: false,
      problem: problem('unit-contradiction', { text, column, unit: unit.unit.text }),
    };
  }
  return { ok: true, text: own.value.kind || kind === '' ? text : `${text} ${kind}` };
}
