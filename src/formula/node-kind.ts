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

/** Every name below a node, once each, in the order of the text. */
export function namesIn(node: Node): string[] {
  const names = new Set<string>();
  const visit = (n: Node): void => {
    if (n.type === 'name' || n.type === 'choice' || n.type === 'given') names.add(n.name);
    childrenOf(n).forEach(visit);
  };
  visit(node);
  return [...names];
}

/** Names below a node that one run over lists takes item by item: those of runs inside it are their own. */
export function namesOfRun(node: Node): string[] {
  const names = new Set<string>();
  const visit = (n: Node): void => {
    if (n.type === 'name') names.add(n.name);
    if (isListRun(n) || (n.type === 'call' && n.function === 'count')) return;
    childrenOf(n).forEach(visit);
  };
  visit(node);
  return [...names];
}

/** Whether a node is `sum`, `min` or `max` with one argument, which runs over the items of lists. */
export function isListRun(node: Node): boolean {
  if (node.type !== 'call' || node.arguments.length !== 1) return false;
  return node.function === 'sum' || node.function === 'min' || node.function === 'max';
}

function slice(node: Node, text: string): string {
  return text.slice(node.span.start, node.span.end);
}
