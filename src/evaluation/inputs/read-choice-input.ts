import { nearestName } from '../../diagnostics/nearest-name.ts';
import type { Place } from '../../diagnostics/place.ts';
import { problem } from '../../diagnostics/problem.ts';
import { relatedNote } from '../../diagnostics/related-note.ts';
import type { ChoiceGiven } from '../../engine/definition/definition.ts';
import type { GivenInput } from '../../engine/definition/inputs.ts';
import type { SourceNode } from '../../source/source-node.ts';
import { type InputContext, wrongTarget } from './input-context.ts';

/** One of the options of a choice, written or taken over. Undefined where it is none of them. */
export function readChoiceInput(
  context: InputContext,
  name: string,
  { options: defined }: Pick<ChoiceGiven, 'options'>,
  node: SourceNode,
): GivenInput | undefined {
  const options = Object.keys(defined);
  const read = readOption(context, name, options, node);
  if (!read) return undefined;
  const { choice, stands, ...rest } = read;
  if (options.includes(choice)) return { value: { type: 'choice', choice }, ...rest };
  const nearest = nearestName(choice, options);
  const related = stands && [{ place: stands, note: relatedNote('register-entry', {}) }];
  return context.fail(
    problem('unknown-option', { name, text: choice, nearest, options }),
    node.place,
    -1,
    related,
  );
}

interface WrittenOption extends Omit<GivenInput, 'value'> {
  readonly choice: string;
  /** Where it stands in the register. */
  readonly stands?: Place;
}

function readOption(
  context: InputContext,
  name: string,
  options: readonly string[],
  node: SourceNode,
): WrittenOption | undefined {
  const expected = `one of ${options.join(', ')}`;
  if (node.type === 'scalar') return { choice: node.text.trim(), origin: 'given' };
  if (node.type !== 'reference') return context.fail(problem('wrong-shape', { name, expected }), node.place);
  const target = context.resolve(node.target, node.place);
  if (!target) return undefined;
  const taken = { origin: 'reference', written: node.target } as const;
  if (target.type === 'choice') return { choice: target.choice, ...taken };
  if (target.type !== 'text') return context.fail(wrongTarget(node.target, target, expected), node.place);
  const source = target.source === undefined ? {} : { source: target.source };
  return { choice: target.text, stands: target.place, ...taken, ...source };
}
