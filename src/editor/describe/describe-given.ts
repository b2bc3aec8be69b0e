import type { CompiledCalculation } from '../../engine/definition/compiled.ts';
import type { ColumnDefinition, GivenDefinition } from '../../engine/definition/definition.ts';
import { describeCheck, describeGiven, describeStep } from '../../engine/handbook/describe-calculation.ts';
import { nameDimension } from '../../quantity/dimension.ts';
import { readUnit } from '../../quantity/unit.ts';

/** LaTeX as plain as it can be read: 'U_\mathrm{p}' as 'U_p'. */
function plainSymbol(tex: string): string {
  return tex
    .replace(/\\(?:mathrm|text|mathit|operatorname)\{([^{}]*)\}/g, '$1')
    .replace(/\\,|\\ /g, ' ')
    .replace(/\{(\w)\}/g, '$1');
}

/** A given of a calculation as the handbook has it, in markdown, with its symbol. */
export function aboutGiven(calculation: CompiledCalculation, name: string): string | undefined {
  const given = calculation.definition.givens[name];
  if (!given) return undefined;
  const lines = describeGiven(calculation, name, given);
  return [...lines, ...('symbol' in given ? symbolLine(given.symbol) : [])].join('\n');
}

/** A value of a calculation as the handbook has it, whatever it is there. */
export function aboutName(calculation: CompiledCalculation, name: string): string | undefined {
  const { steps, checks = {}, limiting = [], editions } = calculation.definition;
  const step = steps[name];
  if (step) return [...describeStep(name, step, editions), ...symbolLine(step.symbol)].join('\n');
  if (calculation.definition.givens[name]) return aboutGiven(calculation, name);
  if (checks[name]) return describeCheck(name, checks[name]).join('\n');
  const sought = limiting.find(({ given }) => `limiting.${given}` === name);
  return sought && `- \`${name}\`: ${sought.seek} \`${sought.given}\`: ${sought.meaning}`;
}

export function aboutCalculation({ definition }: CompiledCalculation): string {
  return `**${definition.title}.** ${definition.purpose}`;
}

/** What is needed of a given, in a few words: 'required, a length in m'. */
export function wordNeed(calculation: CompiledCalculation, name: string, given: GivenDefinition): string {
  const needed = calculation.required.has(name)
    ? 'required'
    : isAlternative(calculation, name)
      ? 'one of several'
      : 'default' in given && given.default
        ? `default ${given.default.value}`
        : 'optional';
  return `${needed}, ${wordShape(given)}`;
}

export function isAlternative({ definition }: CompiledCalculation, name: string): boolean {
  return (definition.alternatives ?? []).some(({ oneOf }) => oneOf.includes(name));
}

export function wordShape(given: GivenDefinition | ColumnDefinition): string {
  switch (given.type) {
    case 'choice':
      return 'a choice';
    case 'names':
      return 'a list of names';
    case 'name':
      return 'a name';
    case 'rows':
      return given.single ? 'a table of one row' : 'a table';
    case 'list':
    case 'quantity': {
      const reading = readUnit(given.unit);
      const dimension = reading.ok ? nameDimension(reading.value.dimension) : given.unit;
      const shape = given.unit === '1' ? dimension : `${dimension} in ${given.unit}`;
      return given.type === 'list' ? `a list; each is ${shape}` : shape;
    }
  }
}

function symbolLine(symbol: string): string[] {
  return [`  - symbol: \`${plainSymbol(symbol)}\``];
}
