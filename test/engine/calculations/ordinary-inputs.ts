import type { CompiledCalculation } from '../../../src/engine/definition/compiled.ts';
import type {
  ColumnDefinition,
  EvidenceGiven,
  QuantityGiven,
} from '../../../src/engine/definition/definition.ts';
import type { Inputs } from '../../../src/engine/definition/inputs.ts';
import { outside } from '../../../src/engine/definition/read-given.ts';
import { runCalculation } from '../../../src/engine/definition/run-calculation.ts';
import { evidenceInputs } from '../../../src/engine/definition/run-evidence.ts';
import { displaySi } from '../../../src/quantity/display.ts';
import { readQuantity } from '../../../src/quantity/read-quantity.ts';
import { unit } from '../../../src/quantity/unit.ts';

/** So many of the numbers of the evidence stay as they are. */
const LEFT_ALONE = 0.25;

/** Numbers from 0 to 1. */
export type Random = () => number;

type Ranges = Pick<QuantityGiven, 'permitted' | 'usual' | 'whole'>;

/** A generator of its own for each name: mulberry32 over a hash of seed and name. */
export function randomFrom(seed: number, name: string): Random {
  let state = [...name].reduce((hash, letter) => Math.imul(hash ^ letter.charCodeAt(0), 16_777_619), seed);
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/**
 * Givens such as an author might write: those of one of the calculation's pieces of evidence, three numbers in four moved by up to a
 * third, and most of what a check still lacks, drawn from its usual range or taken from other evidence.
 */
export function ordinaryInputs(of: CompiledCalculation, random: Random): Inputs {
  const { evidence, givens } = of.definition;
  const pick = () => evidence[Math.floor(random() * evidence.length)]!.given;
  const written: Record<string, EvidenceGiven> = {};
  for (const [name, value] of Object.entries(pick())) written[name] = moved(of, name, value, random);
  // What is added may have a check asked that lacks something more.
  for (let pass = 0; pass < 2; pass++) {
    for (const name of missingForChecks(of, written)) {
      const elsewhere = evidence.find(({ given }) => name in given)?.given[name];
      const given = givens[name];
      if (elsewhere !== undefined) written[name] = moved(of, name, elsewhere, random);
      else if (given?.type === 'quantity' && random() < 0.8) {
        const si = within(random, given.permitted, given.usual, given.whole, 1);
        if (given.usual) written[name] = displaySi(si, unit(given.unit)).text;
      }
    }
  }
  try {
    return evidenceInputs(of, written);
  } catch {
    return evidenceInputs(of, pick());
  }
}

function missingForChecks(of: CompiledCalculation, written: Record<string, EvidenceGiven>): string[] {
  const checks = of.checks.flatMap(({ candidates }) =>
    candidates.flatMap(({ value, limit }) => [value, limit]),
  );
  const direct = checks
    .flatMap(({ names }) => names)
    .filter((name) => of.givens.has(name) && !(name in written));
  try {
    const outcome = runCalculation(of, evidenceInputs(of, written));
    if (!outcome.ok) return [];
    const lacking = outcome.evaluated.checks.flatMap(({ missing }) => missing);
    return [...new Set([...direct, ...lacking])].filter((name) => of.givens.has(name));
  } catch {
    return [];
  }
}

/** Numbers that are chosen from a list of standard values: another one near by is refused. */
const LISTED = new Set(['insulation-withstand.highest_voltage']);

/** The same given, each number in it another one near by. */
function moved(of: CompiledCalculation, name: string, value: EvidenceGiven, random: Random): EvidenceGiven {
  if (LISTED.has(`${of.definition.name}.${name}`)) return value;
  const given = of.definition.givens[name]!;
  if (given.type === 'quantity') return movedText(value as string, given, random);
  if (given.type === 'list') return (value as string[]).map((item) => movedText(item, given, random));
  if (given.type !== 'rows') return value;
  return (value as Readonly<Record<string, string | number>>[]).map((row) =>
    Object.fromEntries(
      Object.entries(row).map(([column, cell]) => [column, movedCell(given.columns[column]!, cell, random)]),
    ),
  );
}

function movedCell(column: ColumnDefinition, cell: string | number, random: Random): string | number {
  return column.type === 'quantity' ? movedText(cell, column, random) : cell;
}

function movedText(text: string | number, { permitted, usual, whole }: Ranges, random: Random): string {
  const reading = readQuantity(String(text));
  if (!reading.ok) return String(text);
  const { si, unit: of } = reading.value;
  // Some values are standard ones, and none between them: what stands in the evidence stays often enough.
  if (random() < LEFT_ALONE) return String(text);
  for (let attempt = 0; attempt < 5; attempt++) {
    const to = si * (2 / 3 + random() * (2 / 3));
    const next = readQuantity(displaySi(whole ? Math.round(to) : to, of).text);
    if (!next.ok) continue;
    const isKept = [permitted, usual].every(
      (range) => !range || !outside(next.value.si, range) || outside(si, range),
    );
    if (isKept) return displaySi(next.value.si, of, { digits: whole ? 9 : 3 }).text;
  }
  return String(text);
}

/** A value from the usual range, in even ratios; without one from a decade about `near`; SI. */
export function within(
  random: Random,
  permitted: Ranges['permitted'],
  usual: Ranges['usual'],
  whole: boolean | undefined,
  near: number,
): number {
  const end = (...texts: (string | undefined)[]) =>
    texts.map((text) => text && readSi(text)).find((si) => Boolean(si));
  const around = near > 0 ? near : 1;
  const low = end(usual?.from, permitted?.from, permitted?.above) || around / 3;
  const high = end(usual?.to, permitted?.to, permitted?.below) || around * 3;
  const si = low * (high / low) ** random();
  return whole ? Math.round(si) : si;
}

function readSi(text: string): number {
  const reading = readQuantity(text);
  return reading.ok ? reading.value.si : Number.NaN;
}
