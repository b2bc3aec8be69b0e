import { nearestName } from '../../../diagnostics/nearest-name.ts';
import { problem } from '../../../diagnostics/problem.ts';
import type { CompiledCalculation, CompiledStep } from '../compiled.ts';
import type { TableStep } from '../definition.ts';
import type { DefinitionFault } from '../definition-fault.ts';
import { mayHold, optionsOf, someCase } from './possible-cases.ts';
import { findUnknown } from './unknown-part.ts';

/** Tables by what is no choice, with keys that are no options, or without a value that can be asked for. */
export function checkTables(calculation: CompiledCalculation): DefinitionFault[] {
  return calculation.steps.flatMap((step) =>
    step.work.kind === 'table' ? checkTable(calculation, step, step.work.step) : [],
  );
}

function checkTable(
  calculation: CompiledCalculation,
  step: CompiledStep,
  { table }: TableStep,
): DefinitionFault[] {
  const where = `steps.${step.name}.table`;
  const choices = [...calculation.symbols].flatMap(([name, { type }]) =>
    type === 'choice' || type === 'choices' ? [name] : [],
  );
  const unknown = findUnknown(`${where}.by`, table.by, 'a choice', choices);
  if (unknown.length > 0) return unknown;
  const keys = Object.keys(table.values);
  const options = table.by.map((name) => optionsOf(calculation, name));
  const faults = keys.flatMap((key) => checkKey(`${where}.values`, key, table.by, options));
  // Keys of another shape leave every key of the right one open.
  if (keys.some((key) => key.split(' / ').length !== table.by.length)) return faults;
  const gaps = keysOf(options)
    .filter((parts) => !keys.includes(parts.join(' / ')) && canOccur(calculation, step, table.by, parts))
    .map((parts) => problem('table-gap', { key: parts.join(' / ') }));
  return [...faults, ...gaps.map((gap) => ({ where: `${where}.values`, problem: gap }))];
}

function checkKey(
  where: string,
  key: string,
  by: readonly string[],
  options: readonly (readonly string[])[],
): DefinitionFault[] {
  const parts = key.split(' / ');
  if (parts.length !== by.length) {
    const known = keysOf(options).map((one) => one.join(' / '));
    return findUnknown(where, [key], `a key by ${by.join(' and ')}`, known);
  }
  return parts.flatMap((text, i) => {
    const known = options[i]!;
    if (known.includes(text)) return [];
    const data = { name: by[i]!, text, nearest: nearestName(text, known), options: known };
    return [{ where, problem: problem('unknown-option', data) }];
  });
}

function keysOf(options: readonly (readonly string[])[]): string[][] {
  return options.reduce<string[][]>(
    (keys, list) => keys.flatMap((key) => list.map((option) => [...key, option])),
    [[]],
  );
}

/** Whether the step may apply with these options, and no limit of validity refuses them anyway. */
function canOccur(
  calculation: CompiledCalculation,
  step: CompiledStep,
  by: readonly string[],
  parts: readonly string[],
): boolean {
  const fixed = new Map(by.map((name, i) => [name, parts[i]!]));
  const limits = calculation.validity.flatMap(({ otherwise, condition }) =>
    otherwise === 'error' ? [condition] : [],
  );
  return someCase(calculation, [step.when, ...limits], fixed, (chosen) =>
    [step.when, ...limits].every((condition) => mayHold(condition, chosen)),
  );
}
