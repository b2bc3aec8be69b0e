import { joinWords } from '../../../diagnostics/words.ts';
import { compareValues } from '../../../formula/compare-values.ts';
import { recall } from '../../definition/basis.ts';
import type { Solution, StepDefinition, StepValues } from '../../definition/definition.ts';
import { bonding, protectionSystem } from './risk-tables.ts';

/** The classes of protection system, from none to the most demanding. */
const LEVELS = Object.keys(protectionSystem.values);

const RISKS = [
  ['R1', 'tolerable_r1', 'R_{1,k}', 'loss of human life'],
  ['R2', 'tolerable_r2', 'R_{2,k}', 'loss of public service'],
  ['R3', 'tolerable_r3', 'R_{3,k}', 'loss of heritage'],
] as const;

/** The calculation with a protection system of a class in place of that given, and devices of its level; better ones stay. */
function atLevel(values: StepValues, level: string): StepValues {
  const devices = level === 'III' || level === 'IV' ? 'III-IV' : level;
  const probability = (option: string) => Number(bonding.values[option]);
  const given = values.choice('measures.bonding');
  return values.again({
    'measures.protection_system': level,
    'measures.bonding': probability(given) < probability(devices) ? given : devices,
  });
}

function suffices(values: StepValues): boolean {
  return RISKS.every(
    ([risk, limit]) => !values.has(risk) || compareValues(values.number(risk), '<=', values.number(limit)),
  );
}

/** The risks with each class of protection system, and the least demanding with which all of them are tolerable. */
export const levelsOfProtection: Solution = {
  needs: ['R1', 'tolerable_r1', 'tolerable_r2', 'tolerable_r3'],
  mayUse: ['R2', 'R3', 'measures'],
  solve: (values) => {
    const cases = LEVELS.map((level) => ({ level, values: atLevel(values, level) }));
    const selected = cases.find((one) => suffices(one.values));
    const risks = RISKS.flatMap(([risk]) =>
      values.has(risk) ? [[`${risk}_by_level`, cases.map((one) => one.values.number(risk))] as const] : [],
    );
    return {
      results: { ...Object.fromEntries(risks), selected_lpl: { choice: selected?.level ?? 'insufficient' } },
    };
  },
};

const METHOD =
  'the calculation above repeated with each class in place of the protection system that is given, and with devices of ' +
  'its level at the entrance of the lines, or better ones that are given; all other measures as given';

const common = { unit: '1/year', resultOf: 'levels', gives: 'list', rounded: 'up' } as const;
const basis = recall('iec-62305-2-2010', '5.5 and 5.6, selection of measures');

/** The results of `levelsOfProtection`. */
export const stepsOfLevels: Readonly<Record<string, StepDefinition>> = {
  ...Object.fromEntries(
    RISKS.map(([risk, , symbol, loss]): [string, StepDefinition] => [
      `${risk}_by_level`,
      {
        ...common,
        symbol,
        meaning: `risk of ${loss} without a protection system, and with one of class ${joinWords(LEVELS.slice(1))}, in this order`,
        basis,
        method: risk === 'R1' ? METHOD : 'repeated in the same way',
        ...(risk === 'R1' ? {} : { when: `given ${risk}` }),
      },
    ]),
  ),
  selected_lpl: {
    symbol: '\\text{LPL}',
    meaning: 'least demanding class of protection system with which every risk calculated above is tolerable',
    unit: '1',
    basis,
    resultOf: 'levels',
    method:
      'the first of these classes with which no calculated risk exceeds its tolerable value; none: no protection system ' +
      'is required for these risks beside the measures given; insufficient: class I alone is not sufficient',
    gives: { options: [...LEVELS, 'insufficient'] },
  },
};
