import { fromSi } from '../quantity/quantity.ts';
import type { Unit } from '../quantity/unit.ts';
import type { FormulaValue, Node, RowPoint, ValueLookup } from './formula.ts';
import { fail } from './formula-fault.ts';
import { type ListRun, tableOf, tablesOfNames } from './node-kind.ts';

type NameNode = Extract<Node, { readonly type: 'name' }>;
type ChoiceNode = Extract<Node, { readonly type: 'choice' }>;

/** Of a long list the first items and the last: a message is one line. */
const SHOWN_ITEMS = 6;

function abridge(items: readonly string[]): readonly string[] {
  if (items.length <= SHOWN_ITEMS) return items;
  return [...items.slice(0, SHOWN_ITEMS - 1), `... (${items.length} items)`, items.at(-1)!];
}

/** The values that a formula is evaluated with; at a row of a table each of its lists stands for one of its items. */
export class ValueScope {
  readonly #text: string;
  readonly #values: ValueLookup;
  readonly #numeric: ReadonlyMap<string, Unit> | undefined;
  readonly #rows: RowPoint;

  constructor(
    text: string,
    values: ValueLookup,
    numeric: ReadonlyMap<string, Unit> | undefined,
    rows: RowPoint = new Map(),
  ) {
    this.#text = text;
    this.#values = values;
    this.#numeric = numeric;
    this.#rows = rows;
  }

  /** The scope of one row of a table, or of one item of the lists that belong to none. */
  atRow(table: string, row: number): ValueScope {
    return new ValueScope(this.#text, this.#values, this.#numeric, new Map(this.#rows).set(table, row));
  }

  has(name: string): boolean {
    return this.#values.has(name);
  }

  number(node: NameNode): number {
    const value = this.#require(node);
    const item = typeof value === 'object' ? this.#itemOf(value, node) : value;
    if (item === undefined) return fail('list-as-number', { name: node.name }, node.span);
    if (typeof item === 'string') return fail('choice-as-number', { name: node.name }, node.span);
    return this.#count(item, node);
  }

  choice(node: ChoiceNode): string {
    const value = this.#require(node);
    const item = typeof value === 'object' ? this.#itemOf(value, node) : value;
    if (typeof item === 'string') return item;
    return fail('number-as-choice', { name: node.name, option: node.option }, node.span);
  }

  list(node: Node): readonly (number | string)[] {
    const value = node.type === 'name' ? this.#require(node) : undefined;
    if (typeof value === 'object') return value;
    return fail('number-as-list', { function: 'count', text: this.slice(node) }, node.span);
  }

  /** How many items a run takes; all its lists must agree. */
  lengthOfRun(node: ListRun, names: readonly string[]): number {
    const lists = names.flatMap((name) => {
      const value = this.#values.get(name);
      return typeof value === 'object' ? [{ name, length: value.length }] : [];
    });
    const first = lists[0];
    if (!first) return this.#failWithoutList(node, names);
    const other = lists.find(({ length }) => length !== first.length);
    if (other) {
      const data = { first: first.name, firstLength: first.length };
      fail('unequal-lists', { ...data, second: other.name, secondLength: other.length }, node.span);
    }
    if (first.length === 0 && (node.function === 'min' || node.function === 'max')) {
      fail('empty-list', { function: node.function, name: first.name }, node.span);
    }
    return first.length;
  }

  requireFinite(value: number, node: Node): number {
    if (Number.isFinite(value)) return value;
    return fail('not-finite', { expression: this.slice(node), values: this.describeValues(node) }, node.span);
  }

  /** 'a = 0, b = 2': every name of a node with its value. */
  describeValues(node: Node): string {
    return [...tablesOfNames(node)]
      .flatMap(([name, table]) => {
        const value = this.#values.get(name);
        return value === undefined ? [] : [`${name} = ${this.#describe(name, value, table)}`];
      })
      .join(', ');
  }

  write(value: number): string {
    return String(Number(value.toPrecision(6)));
  }

  slice(node: Node): string {
    return this.#text.slice(node.span.start, node.span.end);
  }

  #describe(name: string, value: FormulaValue, table: string): string {
    const unit = this.#numeric?.get(name);
    const write = (si: number | string) => {
      if (typeof si === 'string') return si;
      if (!unit) return this.write(si);
      return `${this.write(fromSi(si, unit))}${unit.text === '1' ? '' : ` ${unit.text}`}`;
    };
    if (typeof value !== 'object') return write(value);
    const row = this.#rows.get(table);
    const item = row === undefined ? undefined : value[row];
    return item === undefined
      ? `[${abridge(value.map(write)).join(', ')}]`
      : `${write(item)} (item ${row! + 1})`;
  }

  #itemOf(list: readonly number[] | readonly string[], node: NameNode | ChoiceNode) {
    const row = this.#rows.get(tableOf(node));
    return row === undefined ? undefined : list[row];
  }

  #require(node: NameNode | ChoiceNode): FormulaValue {
    return this.#values.get(node.name) ?? fail('absent-value', { name: node.name }, node.span);
  }

  #count(si: number, node: NameNode): number {
    if (!this.#numeric) return si;
    const unit = this.#numeric.get(node.name);
    return unit ? fromSi(si, unit) : fail('numeric-unit-missing', { name: node.name }, node.span);
  }

  #failWithoutList(node: Node & { type: 'call' }, names: readonly string[]): never {
    const absent = names.find((name) => !this.#values.has(name));
    if (absent !== undefined) fail('absent-value', { name: absent }, node.span);
    const [argument] = node.arguments;
    fail('number-as-list', { function: node.function, text: this.slice(argument!) }, argument!.span);
  }
}
