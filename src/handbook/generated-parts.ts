import type { FunctionName } from '../formula/formula.ts';
import { CONSTANTS, FUNCTIONS } from '../formula/words.ts';
import { nameDimension } from '../quantity/dimension.ts';
import { PLAIN_UNITS, takesPrefix, UNIT_PREFIXES, UNIT_TABLE } from '../quantity/unit-table.ts';
import { DESCRIBED_KEYS, type KeyedPart } from '../source/described-keys.ts';
import { COMMON_STATES, DERIVED_STATES } from '../source/document-states.ts';
import { BLOCK_CASES } from '../source/read-case.ts';
import { LANGUAGES } from '../words/languages.ts';

/** Markdown that the code knows, by the names of the marks that stand for it in a topic: `<!-- generated: units -->`. */
export type GeneratedParts = Readonly<Record<string, string>>;

/** What every topic may have put in. */
export function generatedParts(): GeneratedParts {
  const keys = (Object.keys(DESCRIBED_KEYS) as KeyedPart[]).map((part) => [
    `keys of ${part}`,
    listKeys(part),
  ]);
  return {
    ...Object.fromEntries(keys),
    units: listUnits(),
    functions: listFunctions(),
    constants: [...CONSTANTS].map(([name, value]) => `- \`${name}\`: ${value}`).join('\n'),
    states: COMMON_STATES.filter(({ key }) => !DERIVED_STATES.includes(key))
      .map(({ key, title }) => `- \`${key}\`: ${title}`)
      .join('\n'),
    cases: BLOCK_CASES.map((one) => `- \`${one}\`: ${CASE_MEANINGS[one]}`).join('\n'),
    languages: LANGUAGES.map((language) => `\`${language}\``).join(', '),
  };
}

const CASE_MEANINGS: Readonly<Record<(typeof BLOCK_CASES)[number], string>> = {
  'as-found': 'what is there now',
  proposed: 'what is proposed',
  alternative: 'what might be done instead',
  auxiliary: 'a calculation that serves others',
};

function listKeys(part: KeyedPart): string {
  return DESCRIBED_KEYS[part]
    .map(
      ({ key, required, meaning, example }) =>
        `- \`${key}\`${required ? ' (required)' : ''}: ${meaning}${example === undefined ? '' : `, for example \`${example}\``}`,
    )
    .join('\n');
}

/** The units by what they measure, in the order of the table. */
function listUnits(): string {
  const byDimension = new Map<string, string[]>();
  for (const symbol of PLAIN_UNITS) {
    const name = nameDimension(UNIT_TABLE.get(symbol)!.dimension);
    byDimension.set(name, [
      ...(byDimension.get(name) ?? []),
      `\`${symbol}\`${takesPrefix(symbol) ? ' *' : ''}`,
    ]);
  }
  const lines = [...byDimension].map(([name, symbols]) => `- ${name}: ${symbols.join(', ')}`);
  const prefixes = UNIT_PREFIXES.map((prefix) => `\`${prefix}\``).join(', ');
  return [
    ...lines,
    '',
    `Units with an asterisk take the prefixes ${prefixes}. Units are multiplied by a blank, divided by \`/\`, and raised by \`^2\` or \`²\`: \`50 ohm m\`, \`10 kA/us\`, \`50 mm^2\`. Capitals count: \`mH\` is not \`MH\`. A year has 365 days.`,
  ].join('\n');
}

function listFunctions(): string {
  return (Object.keys(FUNCTIONS) as FunctionName[])
    .map((name) => {
      const { arguments: count, overLists } = FUNCTIONS[name];
      const list = overLists && count === 'one or more' ? '; of one list too' : '';
      return `- \`${name}(${count === 'one' ? 'x' : 'x, y, ...'})\`: ${FUNCTION_MEANINGS[name]}${list}`;
    })
    .join('\n');
}

const FUNCTION_MEANINGS: Readonly<Record<FunctionName, string>> = {
  sqrt: 'square root',
  exp: 'exponential function',
  ln: 'natural logarithm',
  log10: 'logarithm to the base 10',
  abs: 'magnitude',
  min: 'least of the values',
  max: 'greatest of the values',
  sum: 'sum of a list, or over the rows of a table',
  product: 'product of a list, or over the rows of a table',
  count: 'number of entries of a list',
  sin: 'sine',
  cos: 'cosine',
  tan: 'tangent',
  asin: 'inverse sine',
  acos: 'inverse cosine',
  atan: 'inverse tangent',
  sinh: 'hyperbolic sine',
  cosh: 'hyperbolic cosine',
  tanh: 'hyperbolic tangent',
  asinh: 'inverse hyperbolic sine',
  acosh: 'inverse hyperbolic cosine',
  floor: 'next whole number below',
  ceil: 'next whole number above',
};
