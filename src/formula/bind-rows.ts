import { nearestName } from '../diagnostics/nearest-name.ts';
import type { Reading } from '../diagnostics/problem.ts';
import type { Formula, Node, RowIndex, SymbolTable } from './formula.ts';
import { attempt, fail } from './formula-fault.ts';
import { childrenOf, isListRun, NO_TABLE, tableOf } from './node-kind.ts';

type Run = Extract<Node, { readonly type: 'call' }>;

/**
 * Tells every name of a formula to whose rows it belongs, and every function over lists over which rows it runs, from the
 * declared symbols. A function that names no table runs over that of the lists in it; where they belong to several, over
 * the one that does not stand at a row already: at `over`, the table at whose rows the whole formula is taken, or in a run
 * around it.
 */
export function bindRows(formula: Formula, symbols: SymbolTable, over?: string): Reading<Formula> {
  // Without a list there is nothing to tell, unless a table is named all the same.
  const isList = (name: string): boolean => ['list', 'choices'].includes(symbols.get(name)?.type ?? '');
  if (!formula.names.some(isList) && !/\bover\b/.test(formula.text)) return { ok: true, value: formula };
  return attempt(() => {
    const binder = new Binder(formula.text, symbols);
    const root = binder.bind(formula.root, new Set(over === undefined ? [] : [over]));
    return root === formula.root ? formula : { ...formula, root };
  });
}

class Binder {
  readonly #text: string;
  readonly #symbols: SymbolTable;

  constructor(text: string, symbols: SymbolTable) {
    this.#text = text;
    this.#symbols = symbols;
  }

  bind(node: Node, open: ReadonlySet<string>): Node {
    if (node.type === 'name' || node.type === 'choice') {
      const rows = this.#rowsOf(node.name);
      return rows ? { ...node, over: rows.table } : node;
    }
    if (!isListRun(node)) return this.#bindChildren(node, open);
    const table = this.#tableOfRun(node, open);
    const inner = this.#bindChildren(node, new Set([...open, table])) as Run;
    const rows = table === NO_TABLE ? undefined : this.#tables().get(table);
    return rows ? { ...inner, over: rows.table, index: rows.index } : inner;
  }

  #bindChildren(node: Node, open: ReadonlySet<string>): Node {
    const bind = (inner: Node) => this.bind(inner, open);
    switch (node.type) {
      case 'negative':
      case 'not':
        return { ...node, operand: bind(node.operand) };
      case 'binary':
      case 'comparison':
      case 'logic':
        return { ...node, left: bind(node.left), right: bind(node.right) };
      case 'call':
        return { ...node, arguments: node.arguments.map(bind) };
      case 'parentheses':
        return { ...node, inner: bind(node.inner) };
      case 'cases':
        return {
          ...node,
          cases: node.cases.map(({ value, when }) => ({ value: bind(value), when: bind(when) })),
          ...(node.otherwise ? { otherwise: bind(node.otherwise) } : {}),
        };
      default:
        return node;
    }
  }

  #tableOfRun(run: Run, open: ReadonlySet<string>): string {
    if (run.over !== undefined) return this.#namedTable(run, run.over);
    const tables = this.#tablesIn(run);
    if (tables.length <= 1) return tables[0] ?? NO_TABLE;
    const free = tables.filter((table) => !open.has(table));
    const [table, ...more] = free;
    if (table !== undefined && more.length === 0) return table;
    const written = this.#text.slice(run.span.start, run.span.end);
    const named = (free.length > 0 ? free : tables).filter((name) => name !== NO_TABLE);
    return fail('run-over-several', { function: run.function, text: written, tables: named }, run.span);
  }

  #namedTable(run: Run, name: string): string {
    const known = [...this.#tables().keys()];
    if (known.includes(name)) return name;
    return fail('unknown-table', { name, nearest: nearestName(name, known), known }, run.span);
  }

  /** The tables of the lists below a run; what a run inside it names for itself is its own. */
  #tablesIn(run: Run): string[] {
    const tables = new Set<string>();
    const visit = (node: Node, own: ReadonlySet<string>): void => {
      if (node.type === 'name' || node.type === 'choice') {
        const table = this.#tableOfName(node.name);
        if (table !== undefined && !own.has(table)) tables.add(table);
      }
      if (node.type === 'call' && node.function === 'count') return;
      const inside = isListRun(node) && node.over !== undefined ? new Set([...own, tableOf(node)]) : own;
      for (const child of childrenOf(node)) visit(child, inside);
    };
    for (const argument of run.arguments) visit(argument, new Set());
    return [...tables];
  }

  #tableOfName(name: string): string | undefined {
    const symbol = this.#symbols.get(name);
    if (symbol?.type !== 'list' && symbol?.type !== 'choices') return undefined;
    return symbol.rows?.table ?? NO_TABLE;
  }

  #rowsOf(name: string): RowIndex | undefined {
    const symbol = this.#symbols.get(name);
    return symbol?.type === 'list' || symbol?.type === 'choices' ? symbol.rows : undefined;
  }

  #tables(): ReadonlyMap<string, RowIndex> {
    const rows = [...this.#symbols.keys()].flatMap((name) => this.#rowsOf(name) ?? []);
    return new Map(rows.map((row) => [row.table, row]));
  }
}
