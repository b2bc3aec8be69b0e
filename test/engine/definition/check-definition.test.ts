import { describe, expect, test } from 'vitest';
import { defineCalculation } from '../../../src/engine/definition/define-calculation.ts';
import type { CalculationDefinition, StepDefinition } from '../../../src/engine/definition/definition.ts';
import { indexCalculations } from '../../../src/engine/definition/index-calculations.ts';
import { basis, check, define, faultsOf as faultsBut, length, number, type Parts, step } from './made-up.ts';

const faultsOf = (parts: Parts): string[] => faultsBut(parts, []);

const count = number('n', { whole: true, default: { value: '2', basis } });

const kind = {
  type: 'choice',
  symbol: '\\text{kind}',
  meaning: 'kind',
  options: { short: 'a short one', long: 'a long one', round: 'a round one' },
} as const;

/** A definition in which nothing is wrong; each case below puts one mistake or two into it. */
const sound = {
  givens: {
    kind,
    width: length('b', {
      permitted: { above: '0 m', to: '10 m' },
      usual: { from: '0.1 m', to: '9 m', because: 'made up' },
      default: { value: '2 m', basis },
      typical: [{ value: '3 m', for: 'a test', basis }],
    }),
    height: length('h'),
    depth: length('t'),
    count,
    parts: {
      type: 'rows',
      meaning: 'parts',
      columns: { name: { type: 'name', meaning: 'name' }, long: length('\\ell_i'), kind },
    },
  },
  alternatives: [{ oneOf: ['height', 'depth'] }],
  steps: {
    factor: {
      symbol: 'k',
      meaning: 'factor',
      unit: '1',
      basis,
      table: { by: ['kind'], values: { short: '1', long: '2', round: '3' } },
    },
    whole: {
      ...step('w', ''),
      words: [{ when: 'given height and height > 5 m', says: 'too high' }],
      variants: [{ when: 'given height', formula: 'factor * height' }, { formula: 'factor * depth + width' }],
    } as StepDefinition,
    rest: {
      symbol: 'r',
      meaning: 'rest',
      unit: 'm',
      basis,
      needs: ['parts'],
      mayUse: ['width', 'count'],
      says: ['no rest'],
      method: 'added up',
      solve: () => ({ words: 'no rest' }),
    },
  },
  checks: {
    fits: check('whole <= width', {
      needs: ['kind'],
      verdictOfWords: { 'too high': false },
      competing: [{ meaning: 'the rest', value: 'rest', when: 'not kind is round' }],
      remedies: [{ when: 'kind is short', text: 'Less than {whole} of {kind}.' }],
    }),
  },
  validity: { narrow: { requires: 'width <= 8 m', otherwise: 'caution', text: 'up to 8 m' } },
  cautions: { long: { when: 'kind is long', text: 'It is {whole} long.' } },
  limiting: [{ given: 'width', seek: 'largest', meaning: 'widest' }],
  evidence: [
    {
      kind: 'independent',
      about: 'made up',
      source: 'by hand',
      given: { kind: 'long', height: '1 m', parts: [{ name: 'a', long: '1 m', kind: 'short' }] },
      expect: {
        whole: { value: '2 m', tolerance: '0.1 m' },
        rest: { words: 'no rest' },
        fits: { verdict: 'complies' },
      },
    },
  ],
} satisfies Parts;

const withGiven = (name: string, more: object): Parts => ({
  ...sound,
  givens: { ...sound.givens, [name]: { ...sound.givens[name as 'width'], ...more } },
});
const withStep = (name: string, more: object): Parts => ({
  ...sound,
  steps: { ...sound.steps, [name]: { ...sound.steps[name as 'factor'], ...more } as StepDefinition },
});
const withCheck = (more: object): Parts => ({
  ...sound,
  checks: { fits: { ...sound.checks.fits, ...more } },
});
const withEvidence = (more: object): Parts => ({ ...sound, evidence: [{ ...sound.evidence[0]!, ...more }] });
const table = (by: readonly string[], values: Record<string, string>) => ({ table: { by, values } });

test('a sound definition has no fault', () => {
  expect(faultsOf(sound)).toEqual([]);
});

describe('each mistake is told with the part at fault and the nearest name', () => {
  test.each<[string, Parts, readonly RegExp[]]>([
    [
      'default of another dimension',
      withGiven('width', { default: { value: '2 kg', basis } }),
      [/^givens\.width\.default: .*2 kg/],
    ],
    [
      'default outside what is permitted',
      withGiven('width', { default: { value: '11 m', basis } }),
      [/^givens\.width\.default: .*11 m.*outside/],
    ],
    [
      'default that is no whole number',
      withGiven('count', { default: { value: '1.5', basis } }),
      [/^givens\.count\.default: .*whole number/],
    ],
    [
      'default of an unknown option',
      withGiven('kind', { default: { value: 'lnog', basis } }),
      [/^givens\.kind\.default: 'lnog'.*did you mean 'long'/],
    ],
    [
      'typical of another dimension',
      withGiven('width', { typical: [{ value: '3 s', for: 'x', basis }] }),
      [/^givens\.width\.typical\.0: .*3 s/],
    ],
    [
      'typical outside what is permitted',
      withGiven('width', {
        typical: [
          { value: '3 m', for: 'x', basis },
          { value: '12 m', for: 'x', basis },
        ],
      }),
      [/^givens\.width\.typical\.1: .*12 m/],
    ],
    [
      'permitted of another dimension',
      withGiven('width', { permitted: { above: '0 V' } }),
      [/^givens\.width\.permitted: .*0 V/],
    ],
    [
      'permitted inverted',
      withGiven('width', { permitted: { from: '9 m', to: '200 cm' } }),
      [/^givens\.width\.permitted: there is no value in/],
    ],
    [
      'permitted that excludes its only value',
      withGiven('width', { permitted: { above: '2 m', to: '2 m' } }),
      [/^givens\.width\.permitted: there is no value/],
    ],
    [
      'usual inverted',
      withGiven('width', { usual: { from: '3 m', below: '2 m', because: 'x' } }),
      [/^givens\.width\.usual: there is no value/],
    ],
    [
      'usual of another dimension',
      withGiven('width', { usual: { from: '3 s', because: 'x' } }),
      [/^givens\.width\.usual: .*3 s/],
    ],
    [
      'usual beyond permitted',
      withGiven('width', { usual: { from: '1 m', to: '11 m', because: 'x' } }),
      [/^givens\.width\.usual: .*beyond/],
    ],
    [
      'usual of a column beyond permitted',
      withGiven('parts', {
        columns: {
          name: { type: 'name', meaning: 'name' },
          long: length('\\ell_i', { permitted: { from: '1 m' }, usual: { from: '0 m', because: 'x' } }),
          kind,
        },
      }),
      [/^givens\.parts\.columns\.long\.usual: /],
    ],
    [
      'broken symbols',
      withGiven('width', { symbol: 'b_{1' }),
      [/^givens\.width\.symbol: .*b_\{1.*not closed/],
    ],
    [
      'broken symbol of a step',
      withStep('rest', { symbol: 'r_' }),
      [/^steps\.rest\.symbol: .*subscript is empty/],
    ],
    [
      'misspelt alternative',
      { ...sound, alternatives: [{ oneOf: ['heigth', 'depth'] }] },
      [/^alternatives\.0: 'heigth'.*did you mean 'height'/],
    ],
    [
      'a single alternative',
      { ...sound, alternatives: [{ oneOf: ['depth', 'depth'] }] },
      [/^alternatives\.0: .*at least two/],
    ],
    ['misspelt needs of a check', withCheck({ needs: ['kidn'] }), [/^checks\.fits\.needs: 'kidn'.*'kind'/]],
    [
      'misspelt needs of a solver',
      withStep('rest', { needs: ['parts', 'part'] }),
      [/^steps\.rest: .*'part'.*'parts'/],
    ],
    [
      'misspelt mayUse',
      withStep('rest', { mayUse: ['count', 'widht'] }),
      [/^steps\.rest: .*'widht'.*'width'/],
    ],
    [
      'words that no step can say',
      withCheck({ verdictOfWords: { 'to high': false, 'no rest': true } }),
      [/^checks\.fits\.verdictOfWords: 'to high'.*'too high'/],
    ],
    [
      'misspelt limiting given',
      { ...sound, limiting: [{ given: 'widht', seek: 'largest', meaning: 'x' }] },
      [/^limiting\.0\.given: 'widht'.*'width'/],
    ],
    [
      'limiting of a choice',
      { ...sound, limiting: [{ given: 'kind', seek: 'largest', meaning: 'x' }] },
      [/^limiting\.0\.given: 'kind' is not/],
    ],
    [
      'misspelt check of a limiting value',
      { ...sound, limiting: [{ given: 'width', seek: 'largest', checks: ['fit'], meaning: 'x' }] },
      [/^limiting\.0\.checks: 'fit'.*'fits'/],
    ],
    [
      'one limiting value twice',
      { ...sound, limiting: [...sound.limiting, { given: 'width', seek: 'largest', meaning: 'other' }] },
      [/^limiting\.1: two limiting values/],
    ],
    [
      'table by what is no choice',
      withStep('factor', table(['width'], { short: '1' })),
      [/^steps\.factor\.table\.by: 'width' is not a choice/],
    ],
    [
      'table by a misspelt choice',
      withStep('factor', table(['kin'], { short: '1' })),
      [/^steps\.factor\.table\.by: 'kin'.*'kind'/],
    ],
    [
      'table key that is no option, and the gap that it leaves',
      withStep('factor', table(['kind'], { short: '1', lang: '2', round: '3' })),
      [/table\.values: 'lang'.*'long'/, /table\.values: .*no value for 'long'/],
    ],
    [
      'table key of too few parts',
      withStep('factor', table(['kind', 'kind'], { short: '1' })),
      [/table\.values: 'short' is not a key by kind and kind/],
    ],
    [
      'placeholder of a remedy',
      withCheck({ remedies: ['Less than {whol}.'] }),
      [/^checks\.fits\.remedies: \{whol\}.*did you mean \{whole\}/],
    ],
    [
      'placeholder of a caution',
      { ...sound, cautions: { long: { text: 'It is {Whole} long, {} or {whole.' } } },
      [/^cautions\.long: \{Whole\}/, /^cautions\.long: \{\}/, /^cautions\.long: \{ is written/],
    ],
    [
      'placeholder where nothing is put in',
      { ...sound, validity: { narrow: { ...sound.validity.narrow, text: 'up to {width}' } } },
      [/^validity\.narrow: \{width\}/],
    ],
    [
      'competing value of another dimension',
      withCheck({ competing: [{ meaning: 'x', value: 'factor' }] }),
      [/^checks\.fits\.competing\.0\.value: /, /^checks\.fits\.competing\.0\.limit: /],
    ],
    [
      'misspelt competing value',
      withCheck({ competing: [{ meaning: 'x', value: 'rset' }] }),
      [/^checks\.fits\.competing\.0\.value: .*'rset'.*'rest'/],
    ],
    [
      'a given without use',
      { ...sound, givens: { ...sound.givens, colour: number('c') } },
      [/^givens\.colour: nothing uses/],
    ],
    [
      'a column without use',
      { ...sound, steps: { ...sound.steps, rest: step('r', 'sum(parts.long) * count') } },
      [/^givens\.parts\.columns\.kind: nothing uses the given 'parts\.kind'/, /no rest/],
    ],
    [
      'validity that names nothing',
      { ...sound, validity: { narrow: { ...sound.validity.narrow, requires: '1 < 2' } } },
      [/^validity\.narrow: '1 < 2' names no given/],
    ],
    [
      'validity that always holds',
      {
        ...sound,
        validity: {
          narrow: { ...sound.validity.narrow, requires: 'kind is long or not kind is long or width > 2 m' },
        },
      },
      [/^validity\.narrow: .*is always true/],
    ],
    [
      'validity that never holds',
      {
        ...sound,
        validity: { narrow: { ...sound.validity.narrow, requires: 'kind is long and kind is short' } },
      },
      [/^validity\.narrow: .*never be true/],
    ],
    [
      'a value compared with itself',
      { ...sound, cautions: { long: { when: 'width > width', text: 'x' } } },
      [/^cautions\.long: 'width > width' can never be true/],
    ],
    [
      'a condition of a variant that its step excludes',
      withStep('whole', {
        when: 'kind is long',
        variants: [{ when: 'kind is short', formula: 'height' }, { formula: 'width + depth' }],
      }),
      [/^steps\.whole\.0: 'kind is short' can never be true/],
    ],
    [
      'a condition on two options at once',
      withCheck({ when: 'kind is long and not (kind is long or kind is short)' }),
      [
        /^checks\.fits\.when: .*never be true/,
        /^checks\.fits\.competing\.0\.when: /,
        /^checks\.fits\.remedies: /,
      ],
    ],
    [
      'a formula that is never reached',
      withStep('whole', {
        variants: [
          { when: 'kind is long or kind is short', formula: 'height' },
          { when: 'kind is long', formula: 'depth' },
          { formula: 'width' },
        ],
      }),
      [/^steps\.whole\.1: the formula 'depth' is never reached/],
    ],
    [
      'a last formula that is never reached',
      withStep('whole', {
        variants: [
          { when: 'not kind is round', formula: 'height' },
          { when: 'kind is round', formula: 'depth' },
          { formula: 'width' },
        ],
      }),
      [/^steps\.whole\.2: the formula 'width' is never reached/],
    ],
    [
      'evidence of an unknown given',
      withEvidence({ given: { hight: '1 m' } }),
      [/^evidence\.0\.given: 'hight'.*'height'/],
    ],
    [
      'evidence of an unknown option',
      withEvidence({ given: { kind: 'ruond', parts: [{ kind: 'shrot' }] } }),
      [/'ruond'.*'round'/, /'shrot'.*'short'/],
    ],
    [
      'evidence of an unknown column',
      withEvidence({ given: { parts: [{ lnog: '1 m' }] } }),
      [/^evidence\.0\.given: 'lnog' is not a column of parts.*'long'/],
    ],
    [
      'evidence of an unknown result',
      withEvidence({ expect: { hole: { value: '2 m', tolerance: '1 m' } } }),
      [/^evidence\.0\.expect: 'hole'.*'whole'/],
    ],
    [
      'evidence of unknown words and verdicts',
      withEvidence({ expect: { whole: { words: 'too hihg' }, fits: { verdict: 'complied' } } }),
      [/'too hihg'.*'too high'/, /'complied'.*'complies'/],
    ],
    [
      'evidence of a verdict of a step',
      withEvidence({ expect: { whole: { verdict: 'complies' } } }),
      [/^evidence\.0\.expect: 'whole' is not a check/],
    ],
    [
      'an unknown symbol in a formula',
      { ...sound, steps: { ...sound.steps, more: step('m', 'hieght * 2') } },
      [/^steps\.more\.0: .*'hieght'.*'height'/],
    ],
  ])('%s', (_, parts, expected) => {
    const found = faultsOf(parts);
    for (const pattern of expected) expect(found).toContainEqual(expect.stringMatching(pattern));
    // Nothing else is told: one mistake, one message.
    expect(found.filter((fault) => !expected.some((pattern) => pattern.test(fault)))).toEqual([]);
  });
});

test('all mistakes are told in one run', () => {
  const parts = {
    ...withGiven('width', { default: { value: '2 kg', basis }, symbol: 'b}' }),
    ...{ limiting: [{ given: 'heigth', seek: 'largest', meaning: 'x' }] },
    cautions: { long: { when: 'knd is long', text: '{wohle}' } },
  } as Parts;
  const parts2: Parts = { ...parts, steps: { ...sound.steps, more: step('m', 'height * ') } };
  expect(faultsOf(parts2).map((fault) => fault.split(':')[0])).toEqual([
    'steps.more.0',
    'cautions.long',
    'givens.width.symbol',
    'givens.width.default',
    'limiting.0.given',
    'cautions.long',
  ]);
});

test('a table by two choices needs what can be asked for, and no more', () => {
  const size = { ...kind, symbol: '\\text{size}', options: { small: 'small', big: 'big' } };
  const values = { 'short / small': '1', 'short / big': '2', 'long / small': '3', 'long / big': '4' };
  const both = (when?: string, validity: CalculationDefinition['validity'] = {}): Parts => ({
    ...sound,
    givens: { ...sound.givens, size },
    steps: {
      ...sound.steps,
      scale: {
        symbol: 's',
        meaning: 's',
        unit: '1',
        basis,
        ...table(['kind', 'size'], values),
        ...(when ? { when } : {}),
      },
    },
    validity,
  });
  expect(faultsOf(both()).map((fault) => /'(.*)'/.exec(fault)![1])).toEqual(['round / small', 'round / big']);
  expect(faultsOf(both('not kind is round'))).toEqual([]);
  expect(faultsOf(both('size is small and width > 1 m'))).toHaveLength(1);
  const narrow = {
    requires: 'kind is short or kind is long',
    otherwise: 'error',
    text: 'no round ones',
  } as const;
  expect(faultsOf(both(undefined, { narrow }))).toEqual([]);
  expect(faultsOf(both(undefined, { narrow: { ...narrow, otherwise: 'caution' } }))).toHaveLength(2);
});

test('the end that a permitted range excludes may be the end of what is usual', () => {
  const usual = { from: '0 m', to: '10 m', because: 'x' };
  expect(faultsOf(withGiven('width', { usual }))).toEqual([]);
});

test('a choice among alternatives may be absent: what only then applies is reached', () => {
  const variants = [
    { when: 'kind is long or kind is short', formula: 'width' },
    { when: 'kind is round', formula: '2 * width' },
    { formula: '3 * width' },
  ];
  const parts = withStep('whole', { variants });
  expect(faultsOf(parts)).toContainEqual(expect.stringContaining("'3 * width' is never reached"));
  const mode = { ...kind, symbol: '\\text{mode}' };
  const open = {
    ...parts,
    givens: { ...sound.givens, mode },
    alternatives: [{ oneOf: ['kind', 'mode'] }],
    steps: {
      ...parts.steps,
      used: { ...step('u', ''), variants: [{ when: 'mode is long', formula: 'width' }] },
    },
  } as Parts;
  expect(faultsOf(open).filter((fault) => fault.includes('never reached'))).toEqual([]);
});

test('two calculations of one name are refused', () => {
  const [one, other] = [
    defineCalculation(define(sound)),
    defineCalculation(define({ ...sound, title: 'Another' })),
  ];
  expect(indexCalculations([one]).get('made-up')).toBe(one);
  expect(() => indexCalculations([one, other])).toThrow("two calculations have the name 'made-up'");
});

test('a definition is compiled when it is first used, once, and throws there where it is wrong', () => {
  let read = 0;
  const definition = {
    ...define(sound),
    get steps() {
      read += 1;
      return sound.steps;
    },
  };
  const calculation = defineCalculation(definition);
  expect([calculation.name, calculation.title, read]).toEqual(['made-up', 'Made up', 0]);
  const { steps } = calculation;
  const after = read;
  expect(after).toBeGreaterThan(0);
  expect(calculation.steps).toBe(steps);
  expect(calculation.symbols.size).toBeGreaterThan(0);
  expect(read).toBe(after);
  const wrong = defineCalculation(define({ ...sound, steps: { wrong: step('w', 'widht') } }));
  expect(wrong.name).toBe('made-up');
  for (const _ of [1, 2]) expect(() => wrong.steps).toThrow("did you mean 'width'");
});

test('of a unit that cannot be read, what only follows from it is not told', () => {
  const parts: Parts = {
    givens: { width: length('b', { unit: 'metre' }), height: length('h') },
    steps: { size: step('s', 'width + height'), rest: step('r', 'size + 1 s') },
    checks: { wide: check('width <= 3 m') },
    cautions: { wide: { when: 'width > 2 m', text: 'wide' } },
  };
  expect(faultsOf(parts)).toEqual([
    expect.stringMatching(/^givens\.width: 'metre'/),
    expect.stringMatching(/^steps\.rest\.0: .*'1 s'/),
  ]);
});
