import { problem } from '../../diagnostics/problem.ts';
import type { NamesGiven } from '../../engine/definition/definition.ts';
import type { GivenInput } from '../../engine/definition/inputs.ts';
import type { SourceNode } from '../../source/source-node.ts';
import type { InputContext } from './input-context.ts';

/** What a name may consist of: the note prints rows of them with other signs between. */
const NAME = /^[\p{L}\p{N}][\p{L}\p{N} _-]*$/u;

/** A list of names. Undefined where one is at fault. */
export function readNamesInput(
  context: InputContext,
  name: string,
  definition: NamesGiven,
  node: SourceNode,
): GivenInput | undefined {
  if (node.type !== 'list') {
    const expected = 'a list of names, such as [a, b]';
    return context.fail(problem('wrong-shape', { name, expected }), node.place);
  }
  const least = definition.least ?? 1;
  if (node.items.length < least) {
    return context.fail(problem('too-few-items', { name, least, found: node.items.length }), node.place);
  }
  const names = node.items.flatMap((item) => readName(context, name, item) ?? []);
  if (names.length < node.items.length) return undefined;
  return { value: { type: 'rows', rows: names.map((one) => ({ name: one })) }, origin: 'given' };
}

/** One name, as it stands in a list of them or in a column of a table. */
export function readName(context: InputContext, name: string, node: SourceNode): string | undefined {
  const text = node.type === 'scalar' ? node.text.trim() : '';
  if (NAME.test(text)) return text;
  const expected = 'one name of letters, digits, spaces, hyphens and underscores';
  return context.fail(problem('wrong-shape', { name, expected }), node.place);
}
