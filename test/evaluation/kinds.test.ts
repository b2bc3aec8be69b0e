import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { evaluateProject } from '../../src/evaluation/evaluate-project.ts';
import { wordNote } from '../../src/evaluation/word-note.ts';
import { printGiven } from '../../src/page/word-values.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { ENGLISH } from '../../src/words/words.ts';
import { toldOf } from '../support/told.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';

const REGISTER = `
grid:
  bay:
    stated: { value: 72.5 kV rms phase-phase, source: "operator" }
    level: { value: 325 kV peak, source: "rating plate" }
    silent: 48 kV
    other: 61 kV
    fault: 25 kA
`;

/** Evaluates notes made of blocks; each is a list of fenced blocks without their fences. */
function evaluate(...notes: readonly (readonly string[])[]) {
  const collector = new Collector();
  const project = readProject('project.yaml', `${PROJECT}${REGISTER}`, collector)!;
  const sources = notes.map((blocks, i) => {
    const fences = blocks.map((text) => `\`\`\`yaml ${text.trim()}\n\`\`\``);
    const frontMatter = FRONT_MATTER.replace(/^number: .*$/m, `number: T-${i + 1}`);
    return readNote(`${i + 1}.md`, `${frontMatter}\n## Trial\n\n${fences.join('\n\n')}\n`, collector)!;
  });
  const evaluated = evaluateProject(project, sources, collector);
  const errors = toldOf(evaluated.diagnostics, collector).filter(({ severity }) => severity === 'error');
  return { evaluated, errors, messages: errors.map(({ message }) => message) };
}

/** The stretch of the source that a diagnostic marks. */
function marked(notes: readonly (readonly string[])[], which = 0): string {
  const { evaluated, errors } = evaluate(...notes);
  const { file, line, column, length } = errors[which]!.place;
  const { text } = evaluated.notes.find(({ source }) => source.path === file)!.source;
  return text.split('\n')[line - 1]!.slice(column - 1, column - 1 + length);
}

const connection = (residual: string, withstand = '250 kV', id = 'conn') => `calc
id: ${id}
calculation: arrester-connection
given:
  arrangement: common-earth
  line_lead: 1.2 m
  earth_lead: 0.8 m
  residual_voltage: ${residual}
  steepness: 12 kA/us
  impulse_withstand: ${withstand}`;

const rating = (highest: string, id = 'rating') => `calc
id: ${id}
calculation: creepage-distance
given:
  base: phase-phase
  pollution_class: c
  highest_voltage: ${highest}
  creepage: 2.4 m`;

const own = (given: Readonly<Record<string, string>>, steps: Readonly<Record<string, string>>, more = '') => {
  const givens = Object.entries(given).map(([name, value]) => {
    const [unit, written] = value.includes('|') ? value.split('|') : ['kV', value];
    return `  ${name}: { symbol: "x", meaning: "value ${name}", unit: ${unit}, value: ${written} }`;
  });
  const results = Object.entries(steps).map(([name, value]) => {
    const [unit, formula] = value.includes('|') ? value.split('|') : ['kV', value];
    return `  ${name}: { symbol: "y", meaning: "result ${name}", unit: ${unit}, formula: "${formula}" }`;
  });
  return `formula\nid: own\ngiven:\n${givens.join('\n')}\nsteps:\n${results.join('\n')}${more}`;
};

const check = (value: string, limit: string) =>
  `\nchecks:\n  c: { criterion: "it holds", value: "${value}", relation: '<=', limit: "${limit}" }`;

describe('a value of one kind does not serve as another', () => {
  test('through a reference, with the formula that converts it', () => {
    const { errors } = evaluate([connection('!ref grid.bay.stated')]);
    expect(errors.map(({ message }) => message)).toEqual([
      "'residual_voltage' is a peak value; '72.5 kV rms phase-phase' is an r.m.s. value, phase to phase",
    ]);
    expect(errors[0]!.hint).toContain('!formula "sqrt(2) * {grid.bay.stated}"');
  });

  test('through a formula, which keeps the kind unless it converts it', () => {
    for (const [formula, taken] of [
      ['1.1 * {grid.bay.stated}', false],
      ['1.414 * {grid.bay.stated}', false],
      ['{grid.bay.stated} / sqrt(3)', false],
      ['sqrt(2) * {grid.bay.stated} / sqrt(3)', true],
      ['1.1 * sqrt(2/3) * {grid.bay.stated}', true],
      ['0.4 * {grid.bay.level}', true],
    ] as const) {
      const { messages } = evaluate([connection(`!formula "${formula}"`)]);
      expect([formula, messages.length === 0]).toEqual([formula, taken]);
    }
    expect(marked([[connection('!formula "1.1 * {grid.bay.stated}"')]])).toContain('1.1 * {grid.bay.stated}');
  });

  test('a formula that mixes kinds is marked where it does', () => {
    const text = '!formula "0.2 * ({grid.bay.level} - {grid.bay.stated})"';
    expect(evaluate([connection(text)]).messages[0]).toBe(
      "'{grid.bay.level}' is a peak value and '{grid.bay.stated}' is an r.m.s. value: they cannot be subtracted",
    );
    expect(marked([[connection(text)]])).toBe('{grid.bay.level} - {grid.bay.stated}');
  });

  test('lists and columns too', () => {
    const list = (currents: string) => `calc
id: mount
calculation: spd-mounting-comparison
given:
  residual_voltages:
    - { current: 5 kA, voltage: 1.1 kV }
    - { current: !ref grid.bay.fault, voltage: 1.6 kV }
  currents: ${currents}
  waveform: 8/20
  rail_lead: 0.7 m`;
    expect(evaluate([list('[3 kA, 6 kA rms]')]).messages).toContain(
      "'currents' is a peak value; '6 kA rms' is an r.m.s. value",
    );
    const both = evaluate([
      list('[3 kA, 6 kA]'),
      own({ short: 'kA rms|!ref grid.bay.fault' }, { i: 'kA|2 * short' }),
    ]);
    expect(both.messages.join('\n')).toContain("'grid.bay.fault' does not say of which kind it is");
  });
});

describe('a value that does not say its kind', () => {
  test('serves as one kind, as often as it is taken', () => {
    const { messages } = evaluate([
      connection('!ref grid.bay.silent'),
      connection('!ref grid.bay.silent', '250 kV', 'b'),
    ]);
    expect(messages).toEqual([]);
  });

  test('does not serve as two, in whatever notes: both places are named', () => {
    const { errors } = evaluate([connection('!ref grid.bay.silent')], [rating('!ref grid.bay.silent')]);
    expect(errors.map(({ message }) => message)).toEqual([
      "'grid.bay.silent' does not say of which kind it is: 'highest_voltage' takes it as an r.m.s. value, and elsewhere it is taken as a peak value",
    ]);
    expect(errors[0]!.place.file).toBe('2.md');
    expect(errors[0]!.related?.map(({ place, note }) => [place.file, note])).toEqual([
      ['1.md', "taken as 'residual_voltage'"],
    ]);
  });

  test('nor through formulas and results of own calculations', () => {
    const block = own({ a: '!ref grid.bay.silent' }, { b: '1.2 * a', c: 'b + 3 kV' });
    expect(evaluate([block, connection('!ref own.c')]).messages).toEqual([]);
    const { errors, messages } = evaluate([block, connection('!ref own.c'), rating('!ref own.a')]);
    expect(messages).toEqual([
      "'own.a' does not say of which kind it is: 'highest_voltage' takes it as an r.m.s. value, and elsewhere it is taken as a peak value",
    ]);
    expect(errors[0]!.related).toHaveLength(1);
    expect(
      evaluate([block, connection('!ref own.c')], [rating('!formula "0.9 * {grid.bay.silent}"')]).messages,
    ).toHaveLength(1);
  });

  test('nor where it stands beside values of both kinds', () => {
    const mixed = own(
      { a: '!ref grid.bay.other', p: '20 kV peak', r: '9 kV rms' },
      { b: 'a + p', c: 'a - r' },
    );
    expect(evaluate([mixed]).messages).toEqual([
      "'a' is a peak value and 'r' is an r.m.s. value: they cannot be subtracted",
    ]);
    const converted = own(
      { a: '!ref grid.bay.other', p: '20 kV peak', r: '9 kV rms' },
      { b: 'a + p', c: 'a - sqrt(2) * r' },
    );
    expect(evaluate([converted]).messages).toEqual([]);
  });
});

describe('own calculations', () => {
  test('a check compares values of one kind', () => {
    const values = { limit: '88 kV peak', working: '52 kV rms phase-phase' };
    const compared = [own(values, { w: '1.05 * working' }, check('w', 'limit'))];
    expect(evaluate(compared).messages).toEqual([
      "'w' is an r.m.s. value and 'limit' is a peak value: they cannot be compared",
    ]);
    expect(marked([compared])).toBe('limit');
    const converted = own(values, { w: '1.05 * sqrt(2) * working' }, check('w', 'limit'));
    expect(evaluate([converted]).messages).toEqual([]);
  });

  test('results carry their kind on, and what is between phases is not to earth', () => {
    const block = own({ u: '52 kV rms phase-phase' }, { e: 'u / sqrt(3)', p: 'sqrt(2) * e' });
    expect(evaluate([block, connection('!ref own.p')]).messages).toEqual([]);
    expect(evaluate([block, connection('!ref own.e')]).messages).toHaveLength(1);
    expect(evaluate([block, rating('!ref own.u')]).messages).toEqual([]);
    expect(evaluate([block, rating('!ref own.e')]).messages[0]).toContain("'highest_voltage' is");
  });

  test('givens and steps declare a kind with their unit', () => {
    const declared = own(
      { u: 'kV rms phase-earth|30 kV' },
      { p: 'kV peak|sqrt(2) * u', k: '1|p / (sqrt(2) * u)' },
    );
    const { messages, evaluated } = evaluate([declared, connection('!ref own.p')]);
    expect(messages).toEqual([]);
    expect(evaluated.notes[0]!.blocks[0]!.evaluated.givens[0]!.value).toMatchObject({
      quantity: { kind: { measure: 'rms', between: 'phase-earth' }, unit: { text: 'kV' } },
    });
    expect(evaluate([own({ u: 'kV rms|30 kV peak' }, { p: '2 * u' })]).messages).toEqual([
      "'u' is an r.m.s. value; '30 kV peak' is a peak value",
    ]);
    const wrong = [own({ u: 'kV rms|30 kV' }, { p: 'kV peak|1.4142 * u' })];
    expect(evaluate(wrong).messages).toEqual([
      "'1.4142 * u' is an r.m.s. value, and a peak value is declared",
    ]);
    expect(evaluate(wrong).errors[0]!.hint).toContain('sqrt(2) * (1.4142 * u)');
    expect(marked([wrong])).toBe('1.4142 * u');
    expect(evaluate([own({ l: 'm peak|3 m' }, { p: 'm|2 * l' })]).messages[0]).toContain("'peak' says how");
    expect(evaluate([own({ u: 'kV rms peak|3 kV' }, { p: '2 * u' })]).messages[0]).toContain('says both');
  });

  test('an empirical formula declares what it gives', () => {
    const block = `formula
id: own
given:
  u: { symbol: "U", meaning: "rated voltage", unit: kV, value: 30 kV rms }
steps:
  r: { symbol: "R", meaning: "residual voltage", unit: kV peak, formula: "2.7 * u", numeric: { u: kV } }`;
    expect(evaluate([block, connection('!ref own.r')]).messages).toEqual([]);
    expect(evaluate([block, rating('!ref own.r')]).messages).toHaveLength(1);
  });
});

test('a calculation of the catalogue carries on what is stated beyond what it declares', () => {
  const earth = connection('96 kV peak phase-earth');
  expect(
    evaluate([earth, own({ t: '!ref conn.terminal_voltage', s: '210 kV peak phase-phase' }, { d: 's - t' })])
      .messages,
  ).toEqual([
    "'s' is a voltage phase to phase and 't' is a voltage phase to earth: they cannot be subtracted",
  ]);
  expect(evaluate([connection('96 kV peak phase-earth', '210 kV peak phase-phase')]).messages[0]).toContain(
    'they cannot be',
  );
});

test('in the table of givens a voltage or current stands with its kind: stated, taken over or declared', () => {
  const { evaluated } = evaluate([
    connection('!ref grid.bay.level', '900 kV'),
    own(
      { a: '!ref grid.bay.silent', b: '!ref conn.impulse_withstand', c: '!ref grid.bay.stated' },
      { d: 'a + b' },
    ),
    `calc
id: mount
calculation: spd-mounting-comparison
given:
  residual_voltages: [{ current: 2 kA, voltage: 1.1 kV }, { current: 5 kA, voltage: 1.6 kV }]
  currents: [3 kA, 4 kA]
  waveform: 8/20
  rail_lead: 0.7 m`,
  ]);
  const printed = Object.fromEntries(
    wordNote(evaluated.notes[0]!, ENGLISH).blocks.flatMap((block) =>
      block.evaluated.givens.map((given) => [
        `${block.id}.${given.name}`,
        printGiven(given).join('; ').replaceAll('\u00a0', ' '),
      ]),
    ),
  );
  expect(printed).toMatchObject({
    'conn.residual_voltage': '325 kV peak',
    'conn.impulse_withstand': '900 kV peak',
    'own.a': '48 kV',
    'own.b': '900 kV peak',
    'own.c': '72.5 kV r.m.s., phase to phase',
    'mount.residual_voltages':
      '1: current 2 kA peak, voltage 1.1 kV peak; 2: current 5 kA peak, voltage 1.6 kV peak',
    'mount.currents': '3 kA peak; 4 kA peak',
  });
});
