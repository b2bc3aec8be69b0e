import type { Diagnostic } from '../../diagnostics/diagnostic.ts';
import { nearestName } from '../../diagnostics/nearest-name.ts';
import { problem } from '../../diagnostics/problem.ts';
import type { CompiledCalculation, CompiledGiven } from '../../engine/definition/compiled.ts';
import type { GivenInput, RegisterItem } from '../../engine/definition/inputs.ts';
import type { Ask } from '../../memory/memory.ts';
import type { GivenSource } from '../../source/note-source.ts';
import type { SourceNode } from '../../source/source-node.ts';
import type { Resolution } from '../resolve-target.ts';
import { InputContext } from './input-context.ts';
import type { KindUse } from './kind-use.ts';
import { readChoiceInput } from './read-choice-input.ts';
import { readListInput } from './read-list-input.ts';
import { readNamesInput } from './read-names-input.ts';
import { readQuantityInput } from './read-quantity-input.ts';
import { readRangeInput } from './read-range-input.ts';
import { readRowsInput } from './read-rows-input.ts';

/** The givens of a block, read by the definition of its calculation. */
export interface InputsReading {
  /** Absent where faulty. */
  readonly inputs: ReadonlyMap<string, GivenInput>;
  /** Whether something was reported, here or by a reference to a block that failed. */
  readonly failed: boolean;
  readonly diagnostics: readonly Diagnostic[];
  readonly uses: readonly KindUse[];
  /** The references that were followed. */
  readonly asked: readonly string[];
}

/**
 * Turns the givens of a block into the inputs of its calculation. Reports every fault. Whether the kinds of voltages and currents
 * go together is not judged here: `uses` says what there is to judge.
 *
 * @param ask finds what a reference leads to
 */
export function readInputs(
  calculation: CompiledCalculation,
  given: readonly GivenSource[],
  ask: Ask<Resolution>,
): InputsReading {
  const context = new InputContext(ask);
  const inputs = new Map<string, GivenInput>();
  for (const source of given) {
    const compiled = calculation.givens.get(source.name);
    const input = compiled ? readInput(context, compiled, source) : refuse(context, calculation, source);
    if (input) inputs.set(source.name, input);
    else context.leaveOut();
  }
  const { failed, diagnostics, uses, asked } = context;
  return { inputs, failed, diagnostics, uses, asked };
}

function refuse(context: InputContext, { givens, definition }: CompiledCalculation, source: GivenSource) {
  const { name, namePlace } = source;
  const known = [...givens.keys()];
  return context.fail(
    problem('unknown-given', {
      name,
      calculation: definition.name,
      nearest: nearestName(name, known),
      known,
    }),
    namePlace,
  );
}

function readInput(
  context: InputContext,
  compiled: CompiledGiven,
  source: GivenSource,
): GivenInput | undefined {
  // A value that is missing or at fault was reported where it was read.
  if (source.value.type === 'empty') return undefined;
  const range = source.range ?? source.plusMinus;
  if (range && compiled.definition.type !== 'quantity') {
    return context.fail(problem('range-not-for-this', { name: compiled.name }), source.namePlace);
  }
  const read = readValue(context, compiled, source.value);
  if (!read) return undefined;
  const bounds =
    range && read.value.type === 'quantity'
      ? readRangeInput(context, compiled, source, read.value.quantity)
      : undefined;
  if (range && !bounds) return undefined;
  const words = source.source ?? read.source;
  const item = itemThatFills(context, source);
  return {
    value: read.value,
    origin: read.origin,
    ...(read.computed ? { computed: true } : {}),
    ...(read.rounded ? { rounded: read.rounded } : {}),
    ...(read.digits ? { digits: read.digits } : {}),
    ...(read.written === undefined ? {} : { written: read.written }),
    ...(item ? { item } : {}),
    ...(words === undefined ? {} : { source: words }),
    ...(bounds ? { range: bounds } : {}),
  };
}

/** The item of the register by whose name the block takes over the value. */
function itemThatFills(context: InputContext, { origin, namePlace }: GivenSource): RegisterItem | undefined {
  if (origin?.kind !== 'register') return undefined;
  const target = context.resolve(origin.entry, namePlace);
  return target?.type === 'text' ? target.item : undefined;
}

function readValue(
  context: InputContext,
  { name, definition, unit, columnUnits }: CompiledGiven,
  node: SourceNode,
): Omit<GivenInput, 'range'> | undefined {
  switch (definition.type) {
    case 'quantity':
      return readQuantityInput(context, { name, definition, unit }, node);
    case 'choice':
      return readChoiceInput(context, name, definition, node);
    case 'list':
      return readListInput(context, { name, definition, unit }, node);
    case 'rows':
      return readRowsInput(context, name, definition, columnUnits, node);
    case 'names':
      return readNamesInput(context, name, definition, node);
  }
}
