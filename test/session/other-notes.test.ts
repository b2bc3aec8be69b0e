import { describe, expect, test } from 'vitest';
import { openProject } from '../../src/session/project-session.ts';
import { ENGLISH } from '../../src/words/words.ts';
import { toldOf } from '../support/told.ts';
import { FRONT_MATTER, numbered, PROJECT } from '../support/write-project.ts';

type Given = Readonly<Record<string, string>>;

/** The rise of potential of an electrode that carries the peak of a first stroke: U = R i, in the note's own formula. */
const own = (id: string, unit: string, value: string, factor: string) => `\`\`\`yaml formula
id: ${id}
given:
  x: { symbol: "x", meaning: what is taken, unit: ${unit}, value: ${value} }
steps:
  y: { symbol: "y", meaning: its multiple, unit: ${unit}, formula: "${factor} * x" }
checks:
  least: { criterion: not too small, value: y, relation: ">=", limit: "0 * x", source: trial }
\`\`\``;

const calc = (id: string, calculation: string, given: Given) => {
  const lines = Object.entries(given).map(([name, value]) => `  ${name}: ${value}`);
  return `\`\`\`yaml calc\nid: ${id}\ncalculation: ${calculation}\ngiven:\n${lines.join('\n')}\n\`\`\``;
};

const note = (...parts: readonly string[]) => `${FRONT_MATTER}\n## Trial\n\n${parts.join('\n\n')}\n`;

const HEIGHT = 'plant:\n  B: { height: { value: 38 m, source: drawing } }\n';

function open(notes: Readonly<Record<string, string>>) {
  return openProject([
    ['project.yaml', `${PROJECT}${HEIGHT}`],
    ...Object.entries(notes).map(([path, text]): [string, string] => [path, numbered(path, text)]),
  ]);
}

function told(notes: Readonly<Record<string, string>>, asked?: readonly string[]) {
  const state = open(notes).state(asked ? { notes: asked } : {});
  return toldOf(state.diagnostics, state).map(
    ({ place, message }) => `${place.file}:${place.line}: ${message}`,
  );
}

const DOWNS = { perimeter: '132 m', height: '!ref plant.B.height', count: '14' };

describe('values of another note', () => {
  test('a choice, a number, a number in a formula and a limiting value keep what they are over there', () => {
    const session = open({
      // IEC 62305-1:2010, Table 3: the peak of the first positive stroke is 150 kA at level II, 100 kA at III.
      '201-class.md': note(
        calc('stroke', 'lightning-parameters', { lpl: 'II' }),
        calc('cable', 'arrester-connection', {
          arrangement: 'common-earth',
          line_lead: '1.8 m',
          earth_lead: '7.5 m',
          residual_voltage: '33 kV',
          residual_waveform: '1/20',
          steepness: '10 kA/us',
          impulse_withstand: '75 kV',
        }),
      ),
      '202-downs.md': note(
        'Level {{ 201/stroke.lpl }}; at most {{ 201/cable.limiting.earth_lead }}.',
        calc('downs', 'down-conductors', { lpl: '!ref 201/stroke.lpl', ...DOWNS }),
        own('half', 'm', '!ref 201/cable.line_lead', '0.5'),
        own('sum', 'm', '!formula "2 * {201/cable.line_lead} + 0.4 m"', '1'),
      ),
    });
    const { notes, others, diagnostics } = session.state({ notes: ['202-downs.md'] });
    expect(diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(notes.map(({ source }) => source.path)).toEqual(['202-downs.md']);
    expect(others.map(({ source }) => source.path)).toEqual(['201-class.md']);
    const block = (id: string) => notes[0]!.blocks.find((one) => one.id === id)!.evaluated;
    expect(block('downs').givens.find(({ name }) => name === 'lpl')).toMatchObject({
      value: { choice: 'II' },
      origin: 'reference',
      written: '201/stroke.lpl',
    });
    expect(block('half').steps[0]!.result).toMatchObject({ type: 'number', si: 0.9 });
    expect(block('sum').steps[0]!.result).toMatchObject({ type: 'number', si: 4 });
    const taken = notes[0]!.taken.map(({ target, from, meaning }) => [
      target,
      from.number,
      ENGLISH.word(meaning!),
    ]);
    expect(taken).toEqual([
      ['201/stroke.lpl', '201-class', expect.stringMatching(/^lightning protection level/)],
      ['201/cable.line_lead', '201-class', expect.stringMatching(/^length of the lead from the tap/)],
      [
        '201/cable.limiting.earth_lead',
        '201-class',
        expect.stringMatching(/^length of the lead from the arrester/),
      ],
    ]);
    const limiting = others[0]!.blocks[1]!.evaluated.limiting.find(({ given }) => given === 'earth_lead')!;
    expect(notes[0]!.proseTexts.get('201/cable.limiting.earth_lead')).toBe(
      limiting.result.type === 'number' ? limiting.result.displayed.print : '',
    );
  });

  test('dimension and kind are held across notes', () => {
    const notes = {
      '007-a.md': note(own('volts', 'kV', '12 kV rms phase-phase', '1')),
      '008-b.md': note(own('length', 'm', '!ref 007/volts.x', '1')),
      '009-c.md': note(
        own('peak', 'kV', '9 kV peak', '1'),
        own('sum', 'kV', '!formula "{007/volts.x} + {peak.x}"', '1'),
      ),
    };
    expect(told(notes)).toEqual([
      expect.stringMatching(/^008-b\.md:\d+: 'x' is a length; '007\/volts\.x = 12 kV' is a voltage$/),
      expect.stringMatching(/^009-c\.md:\d+: .*r\.m\.s\..*peak/),
    ]);
  });

  test('a schedule over there gives its counts and the values of its rows', () => {
    const boards = `\`\`\`yaml schedule
id: arresters
calculation: arrester-connection
rows: data/arresters.csv
row_id: bay
columns:
  earth_lead: { column: lead, unit: m }
given:
  arrangement: common-earth
  line_lead: 1.8 m
  residual_voltage: 33 kV
  residual_waveform: 1/20
  steepness: 10 kA/us
  impulse_withstand: 75 kV
\`\`\``;
    const files = (target: string) => ({
      'data/arresters.csv': 'bay,lead\nT1,1.1\nT2,7.5\n',
      '5-survey.md': note(boards),
      '6-use.md': note(
        `Text {{ ${target} }}.`,
        own('one', 'kV', '!ref 5/arresters.T1.terminal_voltage', '1'),
      ),
    });
    // 33 kV + (1.8 + 1.1) m * 10 kA/us * 1 uH/m = 62 kV; of T2 126 kV, which 75 kV does not withstand.
    const state = open(files('5/arresters.does_not_comply')).state({ notes: ['6-use.md'] });
    expect(toldOf(state.diagnostics, state)).toEqual([]);
    expect(state.notes[0]!.proseTexts.get('5/arresters.does_not_comply')).toBe('1');
    expect(state.notes[0]!.blocks[0]!.evaluated.steps[0]!.result).toMatchObject({ si: 62e3 });
    expect(
      state.notes[0]!.taken.map(({ target, meaning }) => [target, meaning && ENGLISH.word(meaning)]),
    ).toEqual([
      ['5/arresters.T1.terminal_voltage', expect.stringMatching(/^voltage at the terminals/)],
      ['5/arresters.does_not_comply', undefined],
    ]);
    expect(told(files('5/arresters.T9.terminal_voltage'), ['6-use.md'])).toEqual([
      expect.stringMatching(/^6-use\.md:\d+: .*5\/arresters.*T9/),
    ]);
  });

  test('a value that varies over there is cautioned here', () => {
    const state = open({
      '3-a.md': note(own('lead', 'm', '2 m, range: [1 m, 4 m]', '3')),
      '4-b.md': note(own('twice', 'm', '!ref 3/lead.y', '2')),
    }).state();
    const cautions = state.notes[1]!.blocks[0]!.evaluated.cautions;
    expect(cautions.map(({ id }) => id)).toEqual(['ranges-not-carried']);
  });
});

describe('what cannot be taken', () => {
  const A = note(own('a', 'm', '5 m', '2'));

  test('each fault is told at its place, with what is near', () => {
    const refer = (target: string) => ({ '201-a.md': A, '305-b.md': note(`Text {{ ${target} }}.`) });
    const of = (target: string) => told(refer(target)).map((line) => line.replace(/^.*?: /, ''));
    expect(of('210/a.y')).toEqual([
      "there is no note 210: no file name in the project's folder begins with that number",
    ]);
    expect(of('201/b.y')).toEqual(["201-a.md has no calculation 'b'"]);
    expect(of('201/a.z')).toEqual(["block '201/a' has no result or given 'z'"]);
    expect(of('305/a.y')).toEqual(['305 is the number of this note itself']);
    expect(of('201/plant.B.height')).toEqual(["201-a.md has no calculation 'plant'"]);
    for (const target of ['1e3/a.y', '../a.y', '201//a.y', '201/a', '-201/a.y', '²01/a.y', '201 /a.y'])
      expect(of(target)[0], target).toMatch(/does not name a value of another note/);
    // A number is what is written: 0201 and 201 are two.
    expect(of('0201/a.y')[0]).toMatch(/there is no note 0201/);
  });

  test('a name that goes on with a letter has no number', () => {
    const b = note('Text {{ 201/a.y }}.');
    expect(told({ '201a-old.md': A, '201-a.md': A, '7.md': b })).toEqual([]);
    expect(told({ '201a-old.md': A, '7.md': b })[0]).toMatch(/there is no note 201/);
  });

  test('two notes of a number that is referred to, both by their files', () => {
    const notes = { '201-a.md': A, '201-b.md': A, '9.md': note('Text {{ 201/a.y }} and {{ 201/a.x }}.') };
    expect(told(notes)).toEqual([
      expect.stringMatching(/^9\.md:\d+: 2 notes have the number 201: 201-a\.md, 201-b\.md$/),
    ]);
    const { '9.md': _, ...unreferred } = notes;
    expect(told(unreferred)).toEqual([]);
  });

  test('a circle through several notes is told once, with the chain, and nothing that follows from it', () => {
    const notes = {
      '1-a.md': note(own('a', 'm', '!ref 2/b.y', '2')),
      '2-b.md': note(own('b', 'm', '!ref 3/c.y', '2'), own('other', 'm', '1 m', '2')),
      '3-c.md': note('Text {{ 1/a.y }}.', own('c', 'm', '4 m', '2')),
      '4-d.md': note(own('d', 'm', '!ref 2/other.y', '2')),
    };
    const circle = /^3-c\.md:\d+: the notes refer to each other in a circle: 1 -> 2 -> 3 -> 1$/;
    expect(told(notes)).toEqual([expect.stringMatching(circle)]);
    // It is found as well where only one of them is asked for.
    expect(told(notes, ['1-a.md'])).toEqual([expect.stringMatching(circle)]);
  });

  test('of a note at fault each that takes from it says so once; those behind it do not where it is told already', () => {
    const notes = {
      '1-a.md': note(own('a', 'm', '5 kV', '2'), own('sound', 'm', '1 m', '2')),
      '2-b.md': note('Text {{ 1/sound.y }} {{ 1/a.y }}.', own('b', 'm', '!ref 1/a.y', '2')),
      '3-c.md': note(own('c', 'm', '!ref 2/b.y', '2')),
    };
    const [fault, ...behind] = told(notes);
    expect(fault).toMatch(/^1-a\.md:\d+: 'x' is a length; '5 kV' is a voltage/);
    expect(behind).toEqual([
      expect.stringMatching(/^2-b\.md:\d+: note 1 has errors, so that none of its values can be taken$/),
    ]);
    // The faults of one that nobody asked for are its own affair.
    expect(told(notes, ['3-c.md'])).toEqual([expect.stringMatching(/^3-c\.md:\d+: note 2 has errors/)]);
  });

  test('a hundred notes in a chain, and five hundred in a circle', () => {
    const chain = (count: number, first: string) =>
      Object.fromEntries(
        Array.from({ length: count }, (_, i) => [
          `${1000 + i}-n.md`,
          note(own('n', 'm', i === 0 ? first : `!ref ${999 + i}/n.y`, '1')),
        ]),
      );
    const state = open(chain(100, '3 m')).state({ notes: ['1099-n.md'] });
    expect(state.others).toHaveLength(99);
    expect(state.notes[0]!.blocks[0]!.evaluated.steps[0]!.result).toMatchObject({ si: 3 });
    const [circle, ...more] = told(chain(500, '!ref 1499/n.y'));
    expect(circle).toMatch(/in a circle: 1000 -> 1499 -> 1498 -> .* -> 1000$/);
    expect(more).toEqual([]);
  });
});

describe('what is computed anew after an edit in another note', () => {
  const A = (factor: string, prose: string) =>
    note(prose, own('a', 'm', '5 m', factor), own('b', 'm', '7 m', '2'));
  const files = {
    '201-a.md': A('2', 'Text.'),
    '202-b.md': note('Text {{ 201/a.y }}.', own('c', 'm', '!ref 201/a.y', '3'), own('d', 'm', '4 m', '3')),
  };
  const WORK = ['inputs', 'run', 'result', 'kinds'];
  const countsOf = (session: ReturnType<typeof open>) => {
    session.state();
    const counts = session.takeCounts();
    return Object.fromEntries(WORK.map((query) => [query, counts.get(query) ?? 0]));
  };

  test('nothing where the value is the same, only what takes it where it is another', () => {
    const session = open(files);
    countsOf(session);
    session.change('201-a.md', A('2', 'Another text, above all blocks.'));
    expect(countsOf(session)).toEqual({ inputs: 0, run: 0, result: 0, kinds: 0 });
    session.change('201-a.md', A('(1 + 1)', 'Text.'));
    // The author's own calculation over there is another one; its value is the same.
    expect(countsOf(session)).toMatchObject({ inputs: 1, run: 1 });
    session.change('201-a.md', A('6', 'Text.'));
    expect(countsOf(session)).toMatchObject({ inputs: 2, run: 2 });
    const { notes } = session.state();
    expect(notes[1]!.blocks[0]!.evaluated.steps[0]!.result).toMatchObject({ si: 90 });
  });

  test('a note that comes, goes and is put right is followed', () => {
    const session = open(files);
    session.change('201-a.md', undefined);
    expect(session.state().diagnostics.map(({ code }) => code)).toEqual(['unknown-note', 'unknown-note']);
    session.change('201-c.md', A('2', 'Text.').replace('meaning: what', 'meaning: [what'));
    expect(session.state().diagnostics.map(({ code }) => code)).toContain('note-at-fault');
    session.change('201-c.md', A('2', 'Text.'));
    expect(session.state().diagnostics).toEqual([]);
  });
});
