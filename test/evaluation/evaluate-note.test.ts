import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { evaluateNote } from '../../src/evaluation/evaluate-note.ts';
import type { EvaluatedNote } from '../../src/evaluation/evaluated-note.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { ENGLISH } from '../../src/words/words.ts';
import { trials } from '../support/at-length.ts';
import { told } from '../support/told.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';

interface Trial {
  readonly note: EvaluatedNote;
  readonly codes: readonly string[];
  readonly messages: readonly string[];
  readonly collector: Collector;
}

/** Evaluates a note made of blocks: id -> givens of an arrester-connection, or a whole fenced block. */
function evaluate(blocks: Readonly<Record<string, string>>, prose = ''): Trial {
  const fences = Object.entries(blocks).map(([id, text]) =>
    text.startsWith('```')
      ? text
      : `\`\`\`yaml calc\nid: ${id}\ncalculation: arrester-connection\ngiven:\n${text.replace(/^/gm, '  ')}\n\`\`\``,
  );
  const collector = new Collector();
  const project = readProject('project.yaml', PROJECT, collector)!;
  const source = readNote(
    '1.md',
    `${FRONT_MATTER}\n## Trial\n\n${fences.join('\n\n')}\n\n${prose}\n`,
    collector,
  )!;
  const note = evaluateNote(project, source, collector);
  const list = told(collector);
  return { note, collector, codes: list.map((d) => d.code), messages: list.map((d) => d.message) };
}

const REST =
  'arrangement: common-earth\nearth_lead: 1 m\nresidual_voltage: 33 kV\nresidual_waveform: 1/20\nsteepness: 10 kA/us';
const SOUND = `line_lead: 1.8 m\n${REST}`;

function lineLead(note: EvaluatedNote, id: string): number {
  const given = note.blocks
    .find((block) => block.id === id)!
    .evaluated.givens.find((g) => g.name === 'line_lead')!;
  return given.value.type === 'quantity' ? given.value.quantity.si : Number.NaN;
}

describe('references', () => {
  test('lead to givens and results of other blocks, in any order', () => {
    const { note, codes } = evaluate({
      first: `line_lead: !ref second.counted_length\n${REST}`,
      second: `line_lead: !ref third.line_lead\n${REST}`,
      third: SOUND,
    });
    expect(codes).toEqual([]);
    expect(lineLead(note, 'second')).toBe(1.8);
    expect(lineLead(note, 'first')).toBeCloseTo(2.8, 12);
    expect(note.blocks.map((block) => block.id)).toEqual(['first', 'second', 'third']);
  });

  test('lead to the register, choices included, and bring the source along', () => {
    const { note, codes } = evaluate({
      one: `${SOUND.replace('common-earth', '!ref equipment.TX1.arrangement')}\nimpulse_withstand: !ref equipment.TX1.withstand`,
    });
    expect(codes).toEqual([]);
    const withstand = note.blocks[0]!.evaluated.givens.find((g) => g.name === 'impulse_withstand')!;
    expect(withstand).toMatchObject({ origin: 'reference', source: 'rating plate', print: '75\u00a0kV' });
    expect(note.usedRegister.get('equipment.TX1.withstand')!.print).toMatch(/^75.kV peak$/);
  });

  test('a formula computes with units, and a hyphen outside braces is a minus', () => {
    const { note, codes } = evaluate({
      'as-found': SOUND,
      two: `line_lead: !formula "{as-found.line_lead} - 30 cm"\n${REST}`,
    });
    expect(codes).toEqual([]);
    expect(lineLead(note, 'two')).toBeCloseTo(1.5, 12);
  });

  test.each([
    ['to nothing', '!ref nowhere.line_lead', 'unknown-block'],
    ['to a name that is not there', '!ref other.line_leed', 'unknown-name'],
    ['to a name without a value', '!ref other.protective_ratio', 'absent-name'],
    ['to a value of another dimension', '!ref other.lead_drop', 'wrong-dimension'],
    ['to a verdict', '!ref other.withstand_margin', 'no-number'],
    ['to a choice', '!ref other.arrangement', 'reference-kind'],
    [
      'in a formula of another dimension',
      '!formula "{other.line_lead} * {other.line_lead}"',
      'result-dimension',
    ],
    [
      'in a formula of unequal dimensions',
      '!formula "{other.line_lead} + {other.lead_drop}"',
      'unequal-dimensions',
    ],
  ])('%s: %s is an error', (_, value, code) => {
    expect(evaluate({ one: `line_lead: ${value}\n${REST}`, other: SOUND }).codes).toEqual([code]);
  });

  test('an r.m.s. value for a peak one is an error', () => {
    const { messages } = evaluate({ one: SOUND.replace('33 kV', '!ref equipment.TX1.supply') });
    expect(messages).toEqual([
      "'residual_voltage' is a peak value; '11 kV rms phase-phase' is an r.m.s. value, phase to phase",
    ]);
  });

  test('a circle is refused with every place on it, once', () => {
    const { codes, collector } = evaluate({
      a: `line_lead: !ref b.line_lead\n${REST}`,
      b: `line_lead: !ref c.line_lead\n${REST}`,
      c: `line_lead: !ref a.line_lead\n${REST}`,
    });
    expect(codes).toEqual(['reference-cycle']);
    expect(collector.list()[0]!.related).toHaveLength(2);
  });

  /** Blocks of which each takes its length from the next; the last has `end`. */
  const chain = (length: number, end: string): Record<string, string> =>
    Object.fromEntries(
      Array.from({ length }, (_, i) => {
        const value = i === length - 1 ? end : `!formula "b${i + 1}.long + 1 mm"`;
        const given = `l: { symbol: l, meaning: length, unit: m, value: ${value} }`;
        const step = 'long: { symbol: L, meaning: length, unit: m, formula: 1 * l }';
        return [`b${i}`, `\`\`\`yaml formula\nid: b${i}\ngiven:\n  ${given}\nsteps:\n  ${step}\n\`\`\``];
      }),
    );

  /** At length as many as a note can hold. */
  const LONG = trials(301, 1500);

  test('in a long chain', () => {
    const { note, codes } = evaluate(chain(LONG, '2 m'));
    expect(codes).toEqual([]);
    const { result } = note.blocks[0]!.evaluated.steps[0]!;
    // 2 m, and 1 mm for each block but the last.
    expect(result.type === 'number' && result.si).toBeCloseTo(2 + (LONG - 1) / 1000, 9);
  });

  test('in a circle as long', () => {
    const { codes, note } = evaluate(chain(LONG, '!ref b300.long'));
    expect(codes).toEqual(['reference-cycle']);
    expect(note.blocks).toEqual([]);
  });

  test('to a block that failed they raise no second fault', () => {
    const { codes } = evaluate({
      bad: SOUND.replace('1.8 m', '1.8 kV'),
      good: `line_lead: !ref bad.line_lead\n${REST}`,
    });
    expect(codes).toEqual(['wrong-dimension']);
  });
});

describe('values in the prose', () => {
  test('print as in the calculation; a check gives its verdict, a limiting value its number', () => {
    const { note, codes } = evaluate(
      { one: `${SOUND}\nimpulse_withstand: 75 kV` },
      '{{ one.terminal_voltage }}, {{ one.line_lead }}, {{ one.withstand_margin }}, {{ one.limiting.line_lead }}, {{ equipment.TX1.withstand }}',
    );
    expect(codes).toEqual([]);
    // 33 kV for 1/20, + 2.8 m * 10 kV/m = 61.0 kV; 75 kV/1.15 = 65.2 kV leaves 3.22 m in all, 2.22 m for the line side.
    expect(
      Object.fromEntries(
        [...note.proseTexts].map(([k, v]) => [k, ENGLISH.word(v).replaceAll('\u00a0', ' ')]),
      ),
    ).toEqual({
      'one.terminal_voltage': '61.0 kV',
      'one.line_lead': '1.8 m',
      'one.withstand_margin': 'complies',
      'one.limiting.line_lead': '2.22 m',
      'equipment.TX1.withstand': '75 kV peak',
    });
  });

  test('one that leads to nothing is an error', () => {
    expect(evaluate({ one: SOUND }, '{{ one.nothing }}').codes).toEqual(['unknown-name']);
  });
});

describe('ranges', () => {
  const withRange = (range: string) =>
    evaluate({ one: `${SOUND.replace('1.8 m', `{ value: 1.8 m, ${range} }`)}\nimpulse_withstand: 75 kV` });
  const check = (trial: Trial) => trial.note.blocks[0]!.evaluated.checks[0]!;

  test('within which the verdict holds', () => {
    expect(check(withRange('range: [1 m, 2.2 m]'))).toMatchObject({
      verdict: 'complies',
      overRange: { holds: true },
    });
  });

  test('within which it turns: the verdict is that of the worst point, and the sentence says where', () => {
    const { verdict, overRange } = check(withRange('plus_minus: 0.6 m'));
    expect(verdict).toBe('does-not-comply');
    expect(ENGLISH.word(overRange!.sentence).replaceAll('\u00a0', ' ')).toMatch(
      /\(1\.2 m to 2\.4 m\); the value shown is the least favourable, at 2\.4 m\. At the points examined it is met up to 2\.22 m\.$/,
    );
  });

  test('a value taken over from where it varies is cautioned, unless it has a range here or nothing is judged', () => {
    const first = `${SOUND.replace('1.8 m', '{ value: 1.8 m, range: [1.6 m, 2.4 m] }')}\nimpulse_withstand: 75 kV`;
    const ids = (second: string) =>
      evaluate({ one: first, two: second })
        .note.blocks.find(({ id }) => id === 'two')!
        .evaluated.cautions.map(({ id, text }) => `${id}: ${ENGLISH.word(text)}`)
        .filter((line) => line.startsWith('ranges-not-carried'));
    const taken = (value: string) => `${SOUND.replace('1.8 m', value)}\nimpulse_withstand: 75 kV`;
    expect(ids(taken('!ref one.line_lead'))).toEqual([
      // In the words of the given, for a reader who never sees the source.
      expect.stringMatching(/: length of the lead from the tap on the line to the arrester head\. /),
    ]);
    expect(ids(taken('!formula "{one.lead_drop} / (10 kV/m)"'))).toHaveLength(1);
    expect(ids(taken('!formula "{one.lead_inductance} * 1 m^2/uH"'))).toEqual([]);
    expect(ids(taken('{ value: !ref one.line_lead, range: [1.6 m, 2.4 m] }'))).toEqual([]);
    expect(ids(taken('1.8 m'))).toEqual([]);
  });

  test.each([
    ['range: [2.2 m, 1 m]', 'range-order'],
    ['range: [2 m, 3 m]', 'outside-range'],
    ['range: [-1 m, 3 m]', 'outside-permitted'],
  ])('%s is an error', (range, code) => {
    expect(withRange(range).codes).toContain(code);
  });
});

test('what only a check needs is optional, and without it the check cannot be judged', () => {
  const { note, codes } = evaluate({ one: SOUND });
  expect(codes).toEqual([]);
  expect(note.blocks[0]!.evaluated.checks[0]).toMatchObject({
    verdict: 'cannot-be-judged',
    missing: ['impulse_withstand'],
  });
});

test('a given that nothing uses is told, an accepted caution that was not given is refused', () => {
  const { codes } = evaluate({
    one: '```yaml calc\nid: one\ncalculation: arrester-connection\ngiven:\n  line_lead: 1 m\n  arrangement: common-earth\n  earth_lead: 1 m\n  residual_voltage: 33 kV\n  steepness: 10 kA/us\n  tail_length: 1 m\naccept:\n  - { caution: no-such-caution, by: A, reason: B }\n```',
  });
  expect([...codes].sort()).toEqual(['unknown-accepted-caution', 'unused-given']);
});

test("the engineer's own calculation has units, checks and places for its faults", () => {
  const own = (formula: string, value = '2 ohm') => `\`\`\`yaml formula
id: own
given:
  i: { symbol: I, meaning: current, unit: kA, value: 5 kA }
  r: { symbol: R, meaning: resistance, unit: ohm, value: ${value} }
steps:
  u: { symbol: U, meaning: drop, unit: kV, formula: "${formula}" }
checks:
  limit: { criterion: Drop, value: u, relation: "<=", limit: 10 kV, force: requirement }
\`\`\``;
  const sound = evaluate({ own: own('i * r') });
  expect(sound.codes).toEqual([]);
  expect(sound.note.blocks[0]!.evaluated.checks[0]).toMatchObject({ verdict: 'complies', atLimit: true });
  expect(evaluate({ own: own('i + r') }).codes).toEqual(['unequal-dimensions']);
  expect(evaluate({ own: own('i * q') }).codes).toEqual(['unknown-symbol']);
  expect(evaluate({ own: own('i / (r - r) * r * r', '2 ohm') }).codes).toEqual(['division-by-zero']);
});

describe('one value is printed in one way in a note', () => {
  const block = (id: string, given: string, steps: string) =>
    `\`\`\`yaml formula\nid: ${id}\ngiven:\n${given}\nsteps:\n${steps}\n\`\`\``;
  const given = (name: string, value: string) =>
    `  ${name}: { symbol: ${name}, meaning: ${name}, unit: m, value: ${value} }`;
  const line = (name: string, formula: string) =>
    `  ${name}: { symbol: ${name.toUpperCase()}, meaning: ${name}, unit: m, formula: ${formula} }`;
  const blocks = {
    first: block('first', given('a', '200 m'), line('part', 'a / 7')),
    second: block('second', given('b', '!ref first.part'), line('twice', 'b * 2')),
    // 200 / 7 is 28.5714, twice that 57.1429: less 57 m with three digits it would read 0.1 and not 0.143.
    third: block('third', given('c', '!ref second.twice'), line('rest', 'c - 57 m')),
    other: block('other', given('d', '!ref second.twice'), line('more', 'd + 1 m')),
  };

  test('with the digits that the last line of a chain needs, wherever it stands', () => {
    const { note, codes } = evaluate(blocks, 'It is {{ second.twice }} of {{ first.part }}.');
    expect(codes.filter((code) => code.startsWith('unknown'))).toEqual([]);
    const of = (id: string) => note.blocks.find((one) => one.id === id)!.evaluated;
    const step = (id: string, name: string) => {
      const { result } = of(id).steps.find((one) => one.name === name)!;
      return result.type === 'number' ? result.displayed : undefined;
    };
    expect(step('third', 'rest')?.text).toBe('0.143 m');
    const twice = step('second', 'twice')!;
    expect(Math.abs(twice.value - 57 - 0.143)).toBeLessThan(0.00101);
    for (const [id, name] of [
      ['third', 'c'],
      ['other', 'd'],
    ]) {
      expect(of(id!).givens.find((one) => one.name === name)!.text).toBe(twice.text);
    }
    const part = step('first', 'part')!;
    expect(of('second').givens[0]!.text).toBe(part.text);
    expect(Math.abs(part.value * 2 - twice.value)).toBeLessThanOrEqual(twice.lastDigit * 1.001);
    expect(note.proseTexts.get('second.twice')).toBe(twice.print);
  });

  test('and with the usual ones where no line needs more', () => {
    const { other: _, third: __, ...calm } = blocks;
    const { note } = evaluate(calm);
    expect(note.blocks.map(({ evaluated }) => evaluated.steps[0]!.result)).toMatchObject([
      { displayed: { text: '28.6 m' } },
      { displayed: { text: '57.1 m' } },
    ]);
  });
});
