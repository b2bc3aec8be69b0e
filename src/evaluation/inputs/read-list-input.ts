import { problem } from '../../diagnostics/problem.ts';
import type { ListGiven } from '../../engine/definition/definition.ts';
import type { GivenInput } from '../../engine/definition/inputs.ts';
import { judgeQuantity } from '../../engine/definition/read-given.ts';
import type { SourceNode } from '../../source/source-node.ts';
import { type InputContext, wrongTarget } from './input-context.ts';
import { type QuantityPart, readQuantityInput, useOfTarget } from './read-quantity-input.ts';

/** A list of like quantities, written item by item or taken over whole. Undefined where an item is at fault. */
export function readListInput(
  context: InputContext,
  part: QuantityPart<ListGiven>,
  node: SourceNode,
): GivenInput | undefined {
  if (node.type === 'reference') return referredList(context, part, node);
  const { name, definition } = part;
  if (node.type !== 'list') {
    const expected = 'a list, such as [10 kA, 20 kA]';
    return context.fail(problem('wrong-shape', { name, expected }), node.place);
  }
  const items = node.items.flatMap((item) => readQuantityInput(context, part, item)?.value.quantity ?? []);
  if (items.length < node.items.length) return undefined;
  const least = definition.least ?? 1;
  if (items.length < least) {
    return context.fail(problem('too-few-items', { name, least, found: items.length }), node.place);
  }
  return { value: { type: 'list', items }, origin: 'given' };
}

function referredList(
  context: InputContext,
  part: QuantityPart<ListGiven>,
  { target: written, place }: SourceNode & { type: 'reference' },
): GivenInput | undefined {
  const { name, definition, unit } = part;
  const target = context.resolve(written, place);
  if (!target) return undefined;
  if (target.type !== 'list') return context.fail(wrongTarget(written, target, 'a list'), place);
  const { items, computed } = target;
  for (const item of items) {
    const fault = judgeQuantity(name, definition, unit, item, written, `{${written}}`);
    if (fault) return context.fail(fault, place);
  }
  context.use(part, useOfTarget(written, items[0]?.kind, place));
  return { value: { type: 'list', items }, origin: 'reference', computed, written };
}
