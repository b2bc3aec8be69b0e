import type { Element, ElementContent, Nodes as HastNodes, Root as HastRoot, Parents } from 'hast';
import { SKIP, visit } from 'unist-util-visit';
import { readTarget } from './check-targets.ts';

/** After sanitising: what is ours goes in, links lead to ids of the page, tables and task lists get what print needs. */
export function finishProse(
  tree: HastRoot,
  slots: readonly string[],
  targets: ReadonlyMap<string, string>,
): void {
  visit(tree, 'element', (element, index, parent) => {
    const number = element.properties.dataSlot;
    if (number !== undefined) {
      replace(parent, index, { type: 'raw', value: slots[Number(number)]! } as unknown as ElementContent);
      return SKIP;
    }
    if (element.tagName === 'a') return finishLink(element, index, parent, targets);
    if (element.tagName === 'table') {
      element.properties.className = ['prose-table', ...keepTogether(element)];
      nameHeads(element);
    }
    if (element.tagName === 'input') {
      const done = element.properties.checked === true;
      const box = `<span class="task" role="img" aria-label="${done ? 'done' : 'to do'}">${done ? '☑' : '☐'}</span>`;
      replace(parent, index, { type: 'raw', value: box } as unknown as ElementContent);
      return SKIP;
    }
    return undefined;
  });
}

/**
 * Markdown has heads of columns alone. Where the first of them is empty the first column heads the rows; any other that is empty
 * is a cell like others.
 */
function nameHeads(table: Element): void {
  const rows: Element[][] = [];
  visit(table, { type: 'element', tagName: 'tr' }, (row: Element) => {
    rows.push(row.children.filter((cell): cell is Element => cell.type === 'element'));
  });
  const [heads = [], ...body] = rows;
  const isEmpty = (cell: Element): boolean => cell.children.length === 0;
  const headsRows = heads[0] !== undefined && isEmpty(heads[0]);
  for (const cell of heads) {
    if (isEmpty(cell)) cell.tagName = 'td';
    else cell.properties.scope = 'col';
  }
  for (const [first] of headsRows ? body : []) {
    if (!first || isEmpty(first)) continue;
    first.tagName = 'th';
    first.properties.scope = 'row';
  }
}

const FEW_ROWS = 9;

/** A short table goes to the next page whole. */
function keepTogether(table: Element): string[] {
  let rows = 0;
  visit(table, { type: 'element', tagName: 'tr' }, () => {
    rows += 1;
  });
  return rows <= FEW_ROWS ? ['keep'] : [];
}

function finishLink(
  element: Element,
  index: number | undefined,
  parent: Parents | undefined,
  targets: ReadonlyMap<string, string>,
): typeof SKIP | [typeof SKIP, number] | undefined {
  const { href, dataFootnoteRef, dataFootnoteBackref } = element.properties;
  if (dataFootnoteRef !== undefined || dataFootnoteBackref !== undefined) return undefined;
  if (typeof href === 'string' && !href.startsWith('#')) return undefined;
  const target = typeof href === 'string' ? targets.get(readTarget(href)) : undefined;
  if (target !== undefined) {
    element.properties.href = `#${target}`;
    return undefined;
  }
  if (parent && index !== undefined) parent.children.splice(index, 1, ...(element.children as never[]));
  return [SKIP, index ?? 0];
}

function replace(parent: HastNodes | undefined, index: number | undefined, content: ElementContent): void {
  if (parent && 'children' in parent && index !== undefined) parent.children[index] = content;
}
