import type { Node } from './formula.ts';
import { fail } from './formula-fault.ts';

/** Whether a node is a condition; parentheses are what they enclose. */
export function isCondition(node: Node): boolean {
  switch (node.type) {
    case 'comparison':
    case 'choice':
    case 'given':
    case 'logic':
    case 'not':
      return true;
    case 'parentheses':
      return isCondition(node.inner);
    default:
      return false;
  }
}

export function requireValue(node: Node, text: string): Node {
  if (isCondition(node)) fail('condition-where-value', { text: slice(node, text) }, node.span);
  return node;
}

export function requireCondition(node: Node, text: string): Node {
  if (!isCondition(node)) fail('value-where-condition', { text: slice(node, text) }, node.span);
  return node;
}

/** What stands inside all parentheses around a node. */
export function withoutParentheses(node: Node): Node {
  let inner = node;
  while (inner.type === 'parentheses') inner = inner.inner;
  return inner;
}

/** The nodes directly below a node, in the order of the text. */
export function childrenOf(node: Node): readonly Node[] {
  switch (node.type) {
    case 'negative':
    case 'not':
      return [node.operand];
    case 'binary':
    case 'comparison':
    case 'logic':
      return [node.left, node.right];
    case 'call':
      return node.arguments;
    case 'parentheses':
      return [node.inner];
    case 'cases':
      return [
        ...node.cases.flatMap(({ value, when }) => [value, when]),
        ...(node.otherwise ? [node.otherwise] : []),
      ];
    default:
      return [];
  }
}

/** Every name below a node, once each, in the order of the text, with the table to whose rows it belongs. */
export function tablesOfNames(node: Node): Map<string, string> {
  const names = new Map<string, string>();
  const visit = (n: Node): void => {
    if (n.type === 'name' || n.type === 'choice') names.set(n.name, tableOf(n));
    if (n.type === 'given') names.set(n.name, NO_TABLE);
    childrenOf(n).forEach(visit);
  };
  visit(node);
  return names;
}

/** The key of lists that belong to no table: they are taken together, item by item. */
export const NO_TABLE = '';

/** The table to whose rows a name belongs, or over whose rows a function runs. */
export function tableOf({ over }: { readonly over?: string }): string {
  return over ?? NO_TABLE;
}

/** Names that a run takes item by item; a run inside it over the same table has names of its own. */
export function namesOfRun(run: ListRun): string[] {
  const names = new Set<string>();
  const table = tableOf(run);
  const visit = (n: Node): void => {
    if ((n.type === 'name' || n.type === 'choice') && tableOf(n) === table) names.add(n.name);
    if (isListRun(n) && tableOf(n) === table) return;
    if (n.type === 'call' && n.function === 'count') return;
    childrenOf(n).forEach(visit);
  };
  run.arguments.forEach(visit);
  return [...names];
}

type Call = Extract<Node, { readonly type: 'call' }>;

/** A function that runs over rows or items. */
export type ListRun = Call & { readonly function: 'sum' | 'product' | 'min' | 'max' };

/** Whether a node is `sum`, `product`, `min` or `max` with one argument, which runs over the items of lists. */
export function isListRun(node: Node): node is ListRun {
  if (node.type !== 'call' || node.arguments.length !== 1) return false;
  return RUNS.has(node.function);
}

const RUNS: ReadonlySet<string> = new Set(['sum', 'product', 'min', 'max']);

function slice(node: Node, text: string): string {
  return text.slice(node.span.start, node.span.end);
}
