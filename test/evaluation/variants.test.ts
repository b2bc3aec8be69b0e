import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { evaluateProject } from '../../src/evaluation/evaluate-project.ts';
import type { EvaluatedNote } from '../../src/evaluation/evaluated-note.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { told } from '../support/told.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';

/** A block on a base: id, then lines of YAML. */
const on = (id: string, base: string, lines = '') =>
  `\`\`\`yaml calc\nid: ${id}\nbased_on: ${base}\n${lines}\n\`\`\`\n`;

/** 40 kV + 10 kA/us * 1 uH/m * (2.3 m + 5.2 m) = 115 kV at the terminals. */
const BAY = `\`\`\`yaml calc
id: bay
calculation: arrester-connection
title: Arrester of the bay
case: as-found
given:
  arrangement: common-earth
  line_lead: 2.3 m
  earth_lead: { value: 5.2 m, range: [5 m, 6 m], source: site survey }
  residual_voltage: { value: 40 kV, source: data sheet }
  residual_waveform: 1/20
  steepness: 10 kA/us
  impulse_withstand: 95 kV
\`\`\`
`;

/** 0.1 times 32 thunderstorm days: 3.2 flashes; IEC 62305-2 (2010), Annex A, A.1. */
const HALL = `\`\`\`yaml calc
id: hall
calculation: collection-area
given:
  length: 42 m
  width: 18 m
  height: 9 m
  thunderstorm_days: 32
  location_factor: 0.5
\`\`\`
`;

const SPAN = `\`\`\`yaml formula
id: span
purpose: The drop along a lead.
given:
  lead: { value: 1.4 m, symbol: l, meaning: length of the lead, unit: m, source: survey }
  slope: { value: 8 kA/us, symbol: S, meaning: steepness, unit: kA/us }
steps:
  drop: { symbol: u, meaning: drop along the lead, unit: kV, formula: "1 uH/m * lead * slope" }
checks:
  short: { criterion: the lead takes no more than 10 kV, value: drop, relation: "<=", limit: 10 kV }
\`\`\`
`;

interface Trial {
  readonly note: EvaluatedNote;
  readonly messages: readonly string[];
  readonly codes: readonly string[];
  /** 'line: code' in the order of the source. */
  readonly at: readonly string[];
  /** Line, message, hint. */
  readonly cautions: readonly (readonly (string | undefined)[])[];
  readonly list: ReturnType<typeof told>;
}

function evaluate(...blocks: readonly string[]): Trial {
  const collector = new Collector();
  const project = readProject('project.yaml', PROJECT, collector)!;
  const source = readNote('1.md', `${FRONT_MATTER}\n## Trial\n\n${blocks.join('\n')}`, collector)!;
  const { notes } = evaluateProject(project, [source], collector);
  const list = told(collector).filter(({ severity }) => severity === 'error');
  const lineOf = (line: number) => source.text.split('\n')[line - 1]!;
  return {
    cautions: told(collector)
      .filter(({ severity }) => severity === 'caution')
      .map(({ place, message, hint }) => [lineOf(place.line), message, hint]),
    note: notes[0]!,
    list,
    messages: list.map(({ message }) => message),
    codes: list.map(({ code }) => code),
    at: list.map(({ place, code }) => `${lineOf(place.line)}: ${code}`),
  };
}

const block = ({ note }: Trial, id: string) => note.blocks.find((one) => one.id === id)!;
const givenOf = (trial: Trial, id: string, name: string) =>
  block(trial, id).evaluated.givens.find((given) => given.name === name);
/** In SI. */
const result = (trial: Trial, id: string, name: string) => {
  const found = block(trial, id).evaluated.steps.find((step) => step.name === name)?.result;
  return found?.type === 'number' ? found.si : undefined;
};

describe('a block on a base', () => {
  test('has its calculation and givens with sources and ranges, but for what it writes', () => {
    const trial = evaluate(BAY, on('short', 'bay', 'case: proposed\ngiven:\n  line_lead: 0.6 m'));
    expect(trial.messages).toEqual([]);
    // 40 kV + 10 kV/m times 7.5 m, and times 5.8 m.
    expect(result(trial, 'bay', 'terminal_voltage')).toBeCloseTo(115e3, 6);
    expect(result(trial, 'short', 'terminal_voltage')).toBeCloseTo(98e3, 6);
    expect(block(trial, 'short')).toMatchObject({ case: 'proposed', title: { key: expect.any(String) } });
    expect(givenOf(trial, 'short', 'earth_lead')).toMatchObject({
      source: 'site survey',
      range: { lowSi: 5, highSi: 6 },
    });
    const { given } = block(trial, 'short').source;
    expect(given.find(({ name }) => name === 'earth_lead')!.origin).toEqual({ kind: 'base', id: 'bay' });
    expect(given.find(({ name }) => name === 'line_lead')!.origin).toBeUndefined();
  });

  test('may stand before it, and on a block that stands on another; a given says where it is written', () => {
    const trial = evaluate(
      on('last', 'middle', 'given:\n  earth_lead: 0.4 m'),
      on('middle', 'bay', 'given:\n  line_lead: 0.3 m'),
      BAY,
    );
    expect(trial.messages).toEqual([]);
    expect(result(trial, 'last', 'terminal_voltage')).toBeCloseTo(47e3, 6);
    const { given } = block(trial, 'last').source;
    const originOf = (name: string) => given.find((one) => one.name === name)!.origin;
    expect(originOf('line_lead')).toEqual({ kind: 'base', id: 'middle' });
    expect(originOf('steepness')).toEqual({ kind: 'base', id: 'bay' });
    // A value that is written takes no range from the base.
    expect(givenOf(trial, 'last', 'earth_lead')!.range).toBeUndefined();
  });

  test('leaves out what it is told to', () => {
    const trial = evaluate(BAY, on('bare', 'bay', 'without: [impulse_withstand]'));
    expect(trial.messages).toEqual([]);
    expect(givenOf(trial, 'bare', 'impulse_withstand')).toBeUndefined();
    expect(block(trial, 'bare').evaluated.checks[0]!.verdict).toBe('cannot-be-judged');
  });

  test('takes over no acceptance of a caution, no title, no case', () => {
    const accepted = BAY.replace(
      'given:',
      'accept:\n  - { caution: steepness-below-front, by: jd, reason: none }\ngiven:',
    );
    const trial = evaluate(accepted, on('bare', 'bay'));
    expect(block(trial, 'bare').accepted).toEqual([]);
    expect(block(trial, 'bare').case).toBeUndefined();
  });

  test('writes an alternative, and the one of the base gives way with its range', () => {
    const ranged = HALL.replace('thunderstorm_days: 32', 'thunderstorm_days: { value: 32, range: [25, 40] }');
    const trial = evaluate(ranged, on('new', 'hall', 'given:\n  ground_flash_density: 4.5 1/km^2/year'));
    expect(trial.messages).toEqual([]);
    expect(givenOf(trial, 'new', 'thunderstorm_days')).toBeUndefined();
    expect(block(trial, 'new').evaluated.givens.some(({ range }) => range)).toBe(false);
    const density = (events: number) => events / 1e6 / 365 / 86400;
    expect(result(trial, 'hall', 'flash_density')! / density(3.2)).toBeCloseTo(1, 9);
    expect(result(trial, 'new', 'flash_density')).toBeUndefined();
    const ratio = result(trial, 'new', 'dangerous_events')! / result(trial, 'hall', 'dangerous_events')!;
    expect(ratio).toBeCloseTo(4.5 / 3.2, 9);
  });

  test('takes the formulas of a formula block, and differs in values alone', () => {
    const trial = evaluate(SPAN, on('shorter', 'span', 'given:\n  lead: 0.9 m'));
    expect(trial.messages).toEqual([]);
    // 1 uH/m * 1.4 m * 8 kA/us = 11.2 kV; with 0.9 m 7.2 kV.
    expect(result(trial, 'span', 'drop')).toBeCloseTo(11.2e3, 8);
    expect(result(trial, 'shorter', 'drop')).toBeCloseTo(7.2e3, 8);
    expect(block(trial, 'shorter').evaluated.checks.map(({ verdict }) => verdict)).toEqual(['complies']);
    // The source of the value that was there says nothing of another.
    expect(givenOf(trial, 'shorter', 'lead')!.source).toBeUndefined();
  });

  test('may ask for a limiting value of its base', () => {
    const trial = evaluate(
      BAY.replace('95 kV', '125 kV'),
      on('short', 'bay', 'given:\n  line_lead: !ref bay.limiting.line_lead'),
    );
    expect(trial.messages).toEqual([]);
    expect(block(trial, 'short').evaluated.checks[0]!.verdict).toBe('complies');
    expect(block(trial, 'bay').evaluated.checks[0]!.verdict).toBe('does-not-comply');
  });
});

describe('errors of blocks on a base', () => {
  test.each<[string, readonly string[], readonly string[]]>([
    [
      'an unknown base, with the nearest',
      [BAY, on('a', 'bai')],
      ["there is no block 'bai' in this note to be based on"],
    ],
    ['a base that is the block itself', [on('a', 'a')], ["'a' is based on itself"]],
    [
      'a circle, told once, and nothing of what stands on it',
      [on('a', 'b'), on('b', 'c'), on('c', 'a'), on('d', 'c', 'given:\n  line_lead: 1 kV')],
      ['these blocks are based on one another in a circle: a -> b -> c -> a'],
    ],
    [
      'a base of another calculation',
      [BAY, on('a', 'bay', 'calculation: separation-distance')],
      ["'bay' is a calculation 'arrester-connection', and 'separation-distance' is written here"],
    ],
    [
      'a calculation beside formulas of the base',
      [SPAN, on('a', 'span', 'calculation: arrester-connection')],
      ["'span' is a formula block, and 'arrester-connection' is written here"],
    ],
    [
      'without what is not there',
      [BAY, on('a', 'bay', 'without: [line_led]')],
      ["'bay' gives no 'line_led' that could be left out"],
    ],
    [
      'what is left out twice, and what is left out and given',
      [BAY, on('a', 'bay', 'without: [line_lead, line_lead]\ngiven:\n  line_lead: 1 m')],
      [
        "'line_lead' is left out by 'without' and written under 'given'",
        "'line_lead' appears twice in 'without'",
      ],
    ],
    [
      'without and no base',
      [BAY.replace('given:', 'without: [line_lead]\ngiven:')],
      ["'without' leaves out givens of a base or of the register, and this block takes none from there"],
    ],
    ['a base without a name', [BAY, on('a', '')], ["'based_on' has no value"]],
    [
      'formulas on a base',
      [SPAN, '```yaml formula\nid: a\nbased_on: span\ngiven:\n  lead: 1 m\n```\n'],
      ["a formula block states its own formulas and has no 'based_on'"],
    ],
    [
      'a given that the formulas do not have',
      [SPAN, on('a', 'span', 'given:\n  leed: 1 m')],
      ["the formulas of 'span' have no given 'leed'"],
    ],
    [
      'a given of the formulas left out',
      [SPAN, on('a', 'span', 'without: [slope]')],
      ["'slope' cannot be left out: 'span' is a formula block, and its formulas state all their givens"],
    ],
    [
      'a base that is at fault: told there, and not again here',
      [BAY.replace('2.3 m', '2.3 kV'), on('a', 'bay'), on('b', 'a', 'given:\n  steepness: 4 kA/us')],
      ["'line_lead' is a length; '2.3 kV' is a voltage"],
    ],
    [
      'a base with a calculation that there is not',
      [BAY.replace('arrester-connection', 'arrester-conection'), on('a', 'bay')],
      ["there is no calculation 'arrester-conection'"],
    ],
    [
      'a base whose YAML is broken',
      [BAY.replace('given:', 'given: ['), on('a', 'bay')],
      ['the [ that opens here is not closed'],
    ],
  ])('%s', (_, blocks, expected) => {
    expect(evaluate(...blocks).messages).toEqual(expected);
  });

  test('what refers to a block whose base is at fault is not at fault itself', () => {
    const trial = evaluate(
      BAY.replace('2.3 m', '!ref lost.line_lead'),
      on('lost', 'nobody'),
      'A length of {{ lost.line_lead }}.',
    );
    expect(trial.codes).toEqual(['unknown-base']);
  });

  test('what is right in the base and wrong in the variant stands where the base is named', () => {
    const trial = evaluate(
      BAY.replace('line_lead: 2.3 m', 'line_lead: !ref bay.earth_lead').replace('!ref bay', '!ref other'),
      on('other', 'bay', 'given:\n  line_lead: 1.1 m'),
      on('third', 'bay', 'title: one that takes the reference over'),
    );
    expect(trial.messages).toEqual([]);
    const circle = evaluate(
      BAY.replace('line_lead: 2.3 m', 'line_lead: !ref other.limiting.line_lead'),
      on('other', 'bay', 'given:\n  earth_lead: 1.1 m'),
    );
    expect(circle.at).toEqual(['based_on: bay: reference-cycle']);
    expect(circle.messages[0]).toContain('other -> other');
    expect(circle.list[0]!.related![0]!.place.line).toBeLessThan(circle.list[0]!.place.line);
  });

  test('an alternative that gives way in one group and is needed in another says so', () => {
    const line = `\`\`\`yaml calc
id: line
calculation: line-constants
given:
  kind: overhead
  height: 9 m
  radius: 8 mm
\`\`\`
`;
    const trial = evaluate(line, on('a', 'line', 'given:\n  inductance: 1.2 uH/m'));
    expect(trial.codes).toEqual(['no-alternative']);
    expect(trial.list[0]!.related!.map(({ note }) => note)).toContain(
      "'kind' of the base was replaced by its alternative 'inductance'",
    );
  });

  test('a given that is not used any more is told where the base is named, with what to write', () => {
    const trial = evaluate(HALL, on('a', 'hall', 'without: [thunderstorm_days]'));
    expect(trial.cautions).toEqual([
      [
        'based_on: hall',
        "'location_factor' is taken over from 'hall' and not used here: no formula or check of the chosen options needs it",
        'leave it out: without: [location_factor]',
      ],
    ]);
    expect(evaluate(HALL.replace('  thunderstorm_days: 32\n', ''), on('a', 'hall')).cautions).toHaveLength(1);
  });
});
