import fc from 'fast-check';
import type { CompiledCalculation } from '../../src/engine/definition/compiled.ts';
import type {
  ColumnDefinition,
  EvidenceGiven,
  GivenDefinition,
  ValueRange,
} from '../../src/engine/definition/definition.ts';

export type Given = Readonly<Record<string, EvidenceGiven | RangedGiven>>;

/** A quantity over a range of which the verdict must hold. */
export interface RangedGiven {
  readonly value: string;
  readonly range: readonly [string, string];
}

/** Givens of a calculation as an author might write them, with what was done to those of its evidence. */
export interface Trial {
  readonly about: string;
  readonly given: Given;
}

type Row = Readonly<Record<string, string | number>>;

/** Every given of the calculation left out once, from the first evidence that writes it; of a table every column. */
export function withoutOne({ definition }: CompiledCalculation): Trial[] {
  return Object.entries(definition.givens).flatMap(([name, given]) => {
    const found = definition.evidence.find((evidence) => name in evidence.given);
    if (!found) return [];
    const { [name]: written, ...others } = found.given;
    const columns = given.type === 'rows' ? Object.keys(given.columns) : [];
    return [
      { about: `without ${name}`, given: others },
      ...columns.map((column) => ({
        about: `without ${name}.${column}`,
        given: { ...others, [name]: (written as readonly Row[]).map((row) => withoutColumn(row, column)) },
      })),
    ];
  });
}

/** So many different sets of givens of the evidence are taken for each option. */
const BASES = 2;

/** Every option of every choice tried once, on sets of givens that the evidence writes. */
export function everyOption({ definition }: CompiledCalculation): Trial[] {
  const bases = [
    ...new Map(definition.evidence.map(({ given }) => [Object.keys(given).join(), given])).values(),
  ].slice(0, BASES);
  return Object.entries(definition.givens).flatMap(([name, given]) =>
    optionsOf(given).flatMap(([column, option]) =>
      bases.flatMap((base): Trial[] => {
        const about = `${name}${column === undefined ? '' : `.${column}`} is ${option}`;
        if (column === undefined) return [{ about, given: { ...base, [name]: option } }];
        const rows = base[name] as readonly Row[] | undefined;
        return rows
          ? [{ about, given: { ...base, [name]: rows.map((row) => ({ ...row, [column]: option })) } }]
          : [];
      }),
    ),
  );
}

/** Every list and table with so many items. */
export function longLists({ definition }: CompiledCalculation, length: number): Trial[] {
  return Object.entries(definition.givens).flatMap(([name, given]): Trial[] => {
    if (given.type !== 'list' && given.type !== 'rows') return [];
    const found = definition.evidence.find((evidence) => Array.isArray(evidence.given[name]));
    if (!found) return [];
    const items = found.given[name] as readonly (string | number | Row)[];
    const longer = Array.from({ length }, (_, i) => rename(items[i % items.length]!, i, given));
    return [{ about: `${length} ${name}`, given: { ...found.given, [name]: longer as EvidenceGiven } }];
  });
}

/** Givens of the evidence with every number changed: a little, or to what is barely permitted. */
export function changed({ definition }: CompiledCalculation, seed: number, runs: number): Trial[] {
  const any = fc
    .record({
      evidence: fc.constantFrom(...definition.evidence),
      extreme: fc.boolean(),
      draws: fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 40, maxLength: 40 }),
    })
    .map(({ evidence, extreme, draws }): Trial => {
      let next = 0;
      const draw = () => draws[next++ % draws.length]!;
      const given = mapNumbers(definition.givens, evidence.given, (text, range) =>
        extreme ? makeExtreme(text, range, draw) : multiply(text, 10 ** (draw() - 0.5)),
      );
      return { about: `${extreme ? 'extreme' : 'ordinary'} values of "${evidence.about}"`, given };
    });
  return fc.sample(any, { seed, numRuns: runs });
}

/** Up to three quantities of the evidence with ranges around them, narrow and wide. */
export function ranged({ definition }: CompiledCalculation, seed: number, runs: number): Trial[] {
  const any = fc
    .record({
      evidence: fc.constantFrom(...definition.evidence),
      shift: fc.nat(),
      widths: fc.array(fc.double({ min: 0.001, max: 2, noNaN: true }), { minLength: 1, maxLength: 3 }),
    })
    .map(({ evidence, shift, widths }): Trial => {
      const names = Object.keys(evidence.given).filter(
        (name) => definition.givens[name]?.type === 'quantity',
      );
      const given: Record<string, EvidenceGiven | RangedGiven> = { ...evidence.given };
      for (const [i, width] of widths.entries()) {
        const name = names[(shift + i) % names.length];
        const value = String(evidence.given[name ?? '']);
        if (name === undefined || multiply(value, 2) === value) continue;
        given[name] = { value, range: [multiply(value, 10 ** -width), multiply(value, 10 ** width)] };
      }
      return { about: `ranges in "${evidence.about}"`, given };
    });
  return fc.sample(any, { seed, numRuns: runs });
}

const SIZES = [1e-300, 1e-100, 1e-30, 1e-12, 1e-6, 1e-3, 1e3, 1e6, 1e12, 1e30, 1e100, 1e300];

/** An end of what is permitted, or a value of quite another size; half of the values stay, for others to act alone. */
function makeExtreme(text: string, range: ValueRange | undefined, draw: () => number): string {
  if (draw() < 0.5) return text;
  const ends = [range?.from, range?.to].filter((end) => end !== undefined);
  if (ends.length > 0 && draw() < 0.3) return ends[Math.floor(draw() * ends.length) % ends.length]!;
  return multiply(text, SIZES[Math.floor(draw() * SIZES.length) % SIZES.length]!);
}

/** '1.8 m' by 10 is '18 m'; what is no number with a unit stays. */
function multiply(text: string, factor: number): string {
  const [, number, unit] = /^(-?[\d.]+(?:e[+-]?\d+)?)(\s.*)?$/i.exec(text) ?? [];
  if (number === undefined) return text;
  const whole = unit === undefined && /^\d+$/.test(number);
  const product = Number((Number(number) * factor).toPrecision(4));
  if (!Number.isFinite(product)) return text;
  return `${whole ? Math.max(0, Math.round(product)) : product}${unit ?? ''}`;
}

type Change = (text: string, range: ValueRange | undefined) => string;

function mapNumbers(
  definitions: Readonly<Record<string, GivenDefinition>>,
  given: Readonly<Record<string, EvidenceGiven>>,
  change: Change,
): Given {
  return Object.fromEntries(
    Object.entries(given).map(([name, written]): [string, EvidenceGiven] => {
      const definition = definitions[name]!;
      if (definition.type === 'quantity') return [name, change(String(written), definition.permitted)];
      if (definition.type === 'list') {
        return [
          name,
          (written as readonly string[]).map((item) => change(String(item), definition.permitted)),
        ];
      }
      if (definition.type !== 'rows') return [name, written];
      return [name, (written as readonly Row[]).map((row) => changeRow(row, definition.columns, change))];
    }),
  );
}

function changeRow(row: Row, columns: Readonly<Record<string, ColumnDefinition>>, change: Change): Row {
  return Object.fromEntries(
    Object.entries(row).map(([column, cell]) => {
      const inner = columns[column];
      return [column, inner?.type === 'quantity' ? change(String(cell), inner.permitted) : cell];
    }),
  );
}

function optionsOf(given: GivenDefinition): [string | undefined, string][] {
  if (given.type === 'choice') return Object.keys(given.options).map((option) => [undefined, option]);
  if (given.type !== 'rows') return [];
  return Object.entries(given.columns).flatMap(([column, inner]) =>
    inner.type === 'choice'
      ? Object.keys(inner.options).map((option): [string, string] => [column, option])
      : [],
  );
}

function withoutColumn(row: Row, column: string): Row {
  const { [column]: _, ...others } = row;
  return others;
}

/** Names in a table may have to differ. */
function rename(item: string | number | Row, index: number, given: GivenDefinition): string | number | Row {
  if (typeof item !== 'object' || given.type !== 'rows' || !('name' in given.columns)) return item;
  return { ...item, name: `${item.name ?? 'part'} ${index + 1}` };
}
