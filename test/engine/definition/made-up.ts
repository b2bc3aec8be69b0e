import { type Code, wordMessage } from '../../../src/diagnostics/messages.ts';
import { commonPractice } from '../../../src/engine/definition/basis.ts';
import { compileDefinition } from '../../../src/engine/definition/compile-definition.ts';
import type { CompiledCalculation } from '../../../src/engine/definition/compiled.ts';
import type {
  CalculationDefinition,
  CheckDefinition,
  EvidenceGiven,
  QuantityGiven,
} from '../../../src/engine/definition/definition.ts';
import type { Inputs } from '../../../src/engine/definition/inputs.ts';
import { type RunOutcome, runCalculation } from '../../../src/engine/definition/run-calculation.ts';
import { evidenceInputs } from '../../../src/engine/definition/run-evidence.ts';
import type { WorkTools } from '../../../src/engine/definition/work-step.ts';
import { wordCalculation } from '../../../src/evaluation/word-calculation.ts';
import type { Quantity } from '../../../src/quantity/quantity.ts';
import { readQuantity } from '../../../src/quantity/read-quantity.ts';
import { ENGLISH } from '../../../src/words/words.ts';

/** Small definitions that exist for these tests alone. */
export const basis = commonPractice('made up for a test');

export function length(symbol: string, more: Partial<QuantityGiven> = {}): QuantityGiven {
  return { type: 'quantity', symbol, meaning: `length ${symbol}`, unit: 'm', ...more };
}

export function number(symbol: string, more: Partial<QuantityGiven> = {}): QuantityGiven {
  return length(symbol, { unit: '1', meaning: `number ${symbol}`, ...more });
}

/** A step that works out a length. */
export function step(symbol: string, formula: string) {
  return { symbol, meaning: `result ${symbol}`, unit: 'm', basis, formula };
}

/** A requirement on a length; `text` reads 'value <= limit'. */
export function check(text: string, more: Partial<CheckDefinition> = {}): CheckDefinition {
  const [, value, relation, limit] = /^(.+?) (<=|>=|<|>) (.+)$/.exec(text)!;
  return {
    criterion: text,
    value: value!,
    relation: relation as CheckDefinition['relation'],
    limit: limit!,
    force: 'requirement',
    basis,
    remedies: [],
    ...more,
  };
}

/** Several definitions of a test share givens of which each uses some. */
const SPARE: readonly Code[] = ['given-without-use'];

export type Parts = Partial<CalculationDefinition>;

/** The whole of a definition of which a test tells parts. */
export function define(parts: Parts): CalculationDefinition {
  return {
    name: 'made-up',
    title: 'Made up',
    purpose: 'For a test.',
    givens: {},
    steps: {},
    evidence: [],
    ...parts,
  };
}

export function compiled(parts: Parts): CompiledCalculation {
  const compilation = compileDefinition(define(parts), SPARE);
  if (compilation.ok) return compilation.calculation;
  throw new Error(faultsOf(parts).join('\n'));
}

/** Every fault of a definition: 'part: message', with the hint behind it. */
export function faultsOf(parts: Parts, toldElsewhere: readonly Code[] = SPARE): string[] {
  const compilation = compileDefinition(define(parts), toldElsewhere);
  if (compilation.ok) return [];
  return compilation.faults.map(({ where, problem }) => {
    const { message, hint } = wordMessage(problem.code, problem.data as never);
    return `${where}: ${message}${hint === undefined ? '' : ` (${hint})`}`;
  });
}

/** Givens as an author writes them; a range behind the value: '5 m; 4 m .. 7 m'. */
export type Written = Readonly<Record<string, EvidenceGiven>>;

export function inputsOf(calculation: CompiledCalculation, given: Written): Inputs {
  const ranges = new Map<string, { low: Quantity; high: Quantity }>();
  const plain = Object.entries(given).map(([name, written]) => {
    const [, value, low, high] = /^(.+); (.+) \.\. (.+)$/.exec(String(written)) ?? [];
    if (!value || !low || !high) return [name, written] as const;
    ranges.set(name, { low: quantityOf(low), high: quantityOf(high) });
    return [name, value] as const;
  });
  const inputs = evidenceInputs(calculation, Object.fromEntries(plain));
  return new Map(
    [...inputs].map(([name, input]) => {
      const range = ranges.get(name);
      return [name, range ? { ...input, range } : input];
    }),
  );
}

function quantityOf(text: string): Quantity {
  const reading = readQuantity(text);
  if (!reading.ok) throw new Error(text);
  return reading.value;
}

/** Runs a made-up calculation; what a test looks at, by name. */
export function run(parts: Parts | CompiledCalculation, given: Written, tools?: WorkTools) {
  const calculation = 'symbols' in parts ? parts : compiled(parts);
  const outcome: RunOutcome = runCalculation(calculation, inputsOf(calculation, given), tools);
  const evaluated = outcome.ok ? wordCalculation(outcome.evaluated, ENGLISH) : undefined;
  const faults = outcome.ok
    ? []
    : outcome.faults.map(({ problem }) => wordMessage(problem.code, problem.data as never).message);
  const stepOf = (name: string) => evaluated?.steps.find((line) => line.name === name);
  const need = <T>(found: T | undefined, name: string): T => {
    if (found === undefined) throw new Error(`no '${name}': ${faults.join('; ')}`);
    return found;
  };
  return {
    faults,
    outcome,
    evaluated,
    /** The SI number of a step, its choice or its words; undefined where it was left out. */
    result(name: string): number | string | undefined {
      const result = stepOf(name)?.result;
      if (result?.type === 'number') return result.si;
      if (result?.type === 'words') return result.words;
      return result?.type === 'choice' ? result.choice : undefined;
    },
    step: (name: string) => need(stepOf(name), name),
    hasCheck: (name: string) => evaluated?.checks.some((one) => one.name === name) ?? false,
    check: (name: string) =>
      need(
        evaluated?.checks.find((one) => one.name === name),
        name,
      ),
    /** As printed: '1.25 m', or the words. */
    limiting(given: string): string {
      const { result } = need(
        evaluated?.limiting.find((one) => one.given === given),
        given,
      );
      return result.type === 'number' ? result.displayed.text : result.type === 'words' ? result.words : '';
    },
    governing: (given: string) =>
      need(
        evaluated?.limiting.find((one) => one.given === given),
        given,
      ).governing,
    cautions: evaluated?.cautions.map(({ id }) => id) ?? [],
  };
}
