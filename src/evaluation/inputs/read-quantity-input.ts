import type { Place } from '../../diagnostics/place.ts';
import { problem } from '../../diagnostics/problem.ts';
import { relatedNote } from '../../diagnostics/related-note.ts';
import type { ListGiven, QuantityGiven } from '../../engine/definition/definition.ts';
import type { GivenInput } from '../../engine/definition/inputs.ts';
import { judgeQuantity, readGivenText } from '../../engine/definition/read-given.ts';
import { displayEntered } from '../../quantity/display.ts';
import type { Unit } from '../../quantity/unit.ts';
import type { VoltageKind } from '../../quantity/voltage-kind.ts';
import type { SourceNode } from '../../source/source-node.ts';
import type { Target } from '../resolve-target.ts';
import { evaluateGivenFormula } from './evaluate-given-formula.ts';
import { type InputContext, type KindUseOfPart, wrongTarget } from './input-context.ts';

/** A given, or a column of a table, whose values are quantities. */
export interface QuantityPart<Definition = QuantityGiven | ListGiven> {
  /** As formulas name it: 'lines.length'. */
  readonly name: string;
  readonly definition: Definition;
  readonly unit: Unit;
  /** An end of the range of a given, or its margin. */
  readonly isBound?: true;
}

export type QuantityInput = GivenInput & { value: { type: 'quantity' } };

/** One quantity: written, taken over by a reference, or the result of a formula. Undefined where it is at fault. */
export function readQuantityInput(
  context: InputContext,
  part: QuantityPart,
  node: SourceNode,
): QuantityInput | undefined {
  switch (node.type) {
    case 'scalar':
      return writtenQuantity(context, part, node.text, node.place);
    case 'reference': {
      const target = context.resolve(node.target, node.place);
      return target && referredQuantity(context, part, node.target, target, node.place);
    }
    case 'formula':
      return formulaQuantity(context, part, node.text, node.place);
    default: {
      const expected = 'one quantity, such as 1.8 m';
      return context.fail(problem('wrong-shape', { name: part.name, expected }), node.place);
    }
  }
}

function writtenQuantity(
  context: InputContext,
  part: QuantityPart,
  text: string,
  place: Place,
): QuantityInput | undefined {
  const { name, definition, unit } = part;
  const reading = readGivenText(name, definition, unit, text);
  if (!reading.ok) return context.fail(reading.problem, place, text.length);
  const { kind } = reading.value;
  context.use(part, { text, inFormula: `{${text}}`, kind, place, from: { type: 'stated' } });
  return { value: { type: 'quantity', quantity: reading.value }, origin: 'given' };
}

function formulaQuantity(
  context: InputContext,
  part: QuantityPart,
  text: string,
  place: Place,
): QuantityInput | undefined {
  const { name, definition, unit } = part;
  const result = evaluateGivenFormula(context, text, unit, place);
  if (!result) return undefined;
  const { quantity, symbols } = result;
  const { kind } = quantity;
  context.use(part, { text, inFormula: `(${text})`, kind, place, from: { type: 'formula', symbols } });
  const fault = judgeQuantity(name, definition, unit, quantity, displayEntered(quantity).text);
  if (fault) return context.fail(fault, place);
  return { value: { type: 'quantity', quantity }, origin: 'formula', computed: true, written: text };
}

function referredQuantity(
  context: InputContext,
  part: QuantityPart,
  written: string,
  target: Target,
  place: Place,
): QuantityInput | undefined {
  if (target.type === 'text') return registerQuantity(context, part, written, target, place);
  if (target.type !== 'quantity') return context.fail(wrongTarget(written, target, 'one quantity'), place);
  const { name, definition, unit } = part;
  const { quantity, computed, rounded, digits } = target;
  const text = `${written} = ${target.print.replace('\u00a0', ' ')}`;
  const fault = judgeQuantity(name, definition, unit, quantity, text, `{${written}}`);
  if (fault) return context.fail(fault, place);
  context.use(part, useOfTarget(written, quantity.kind, place));
  return {
    value: { type: 'quantity', quantity },
    origin: 'reference',
    computed,
    ...(rounded ? { rounded } : {}),
    ...(computed && digits ? { digits } : {}),
    written,
  };
}

function registerQuantity(
  context: InputContext,
  part: QuantityPart,
  written: string,
  target: Target & { type: 'text' },
  place: Place,
): QuantityInput | undefined {
  const { name, definition, unit } = part;
  const reading = readGivenText(name, definition, unit, target.text, `{${written}}`);
  if (!reading.ok) {
    const related = [{ place: target.place, note: relatedNote('register-entry', {}) }];
    return context.fail(reading.problem, place, -1, related);
  }
  context.use(part, useOfTarget(written, reading.value.kind, place));
  return {
    value: { type: 'quantity', quantity: reading.value },
    origin: 'reference',
    written,
    ...(target.source === undefined ? {} : { source: target.source }),
  };
}

/** What a value that is taken over tells of kinds. */
export function useOfTarget(target: string, kind: VoltageKind | undefined, place: Place): KindUseOfPart {
  return { text: target, inFormula: `{${target}}`, kind, place, from: { type: 'target', target } };
}
