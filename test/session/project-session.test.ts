import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Positions } from '../../src/diagnostics/positions.ts';
import { contentKey } from '../../src/memory/content-key.ts';
import { openProject, type ProjectSession } from '../../src/session/project-session.ts';
import { trials } from '../support/at-length.ts';
import { numbered } from '../support/write-project.ts';
import { connection, type TrialBlock, type TrialNote, writeNote, writeRegister } from './trial-project.ts';

/** Everything that a session says, as one text. */
function contentOf(session: ProjectSession): string {
  const state = session.state();
  const { notes, diagnostics } = state;
  const said = notes.map(({ source, blocks, proseTexts, usedRegister }) => ({
    path: source.path,
    blocks: blocks.map(({ id, title, evaluated }) => ({ id, title, evaluated })),
    proseTexts,
    usedRegister,
  }));
  const positions = new Positions(state);
  return contentKey({ said, diagnostics, at: diagnostics.map(({ place }) => positions.of(place)) });
}

interface TrialState {
  readonly notes: readonly TrialNote[];
  readonly silent: string;
  readonly withstand: string;
}

function filesOf({ notes, silent, withstand }: TrialState): [string, string][] {
  return [
    ['project.yaml', writeRegister(silent, withstand)],
    ...notes.map((note, i): [string, string] => [`${i + 1}.md`, numbered(`${i + 1}.md`, writeNote(note))]),
  ];
}

const IDS = ['one', 'two', 'three', 'four', 'five'];
const blockOf: fc.Arbitrary<TrialBlock> = fc.record(
  {
    id: fc.constantFrom(...IDS),
    title: fc.constantFrom('As found', 'Proposed'),
    given: fc.oneof(
      fc
        .record({
          seed: fc.nat({ max: 4 }),
          more: fc.constantFrom<Readonly<Record<string, string>>>(
            {},
            { line_lead: '!ref one.line_lead' },
            { line_lead: '!formula "{two.line_lead} + 0.3 m"' },
            { earth_lead: '{ value: 1.2 m, range: [1 m, 1.5 m] }' },
            { impulse_withstand: '!ref equipment.TX1.withstand' },
            { impulse_withstand: '!ref three.twice' },
            { residual_voltage: '!ref equipment.TX1.silent' },
            { line_leed: '1 m' },
            { line_lead: '1 kV' },
          ),
        })
        .map(({ seed, more }) => connection(seed, more)),
      // Values that do not say their kind, and calculations that do: what is learnt of them here holds there.
      fc.record({
        unit: fc.constantFrom('kV', 'kV peak', 'kV rms'),
        value: fc.constantFrom(
          '12 kV',
          '15 kV peak',
          '!ref equipment.TX1.silent',
          '!ref four.twice',
          '!ref five.u',
          '!formula "1.1 * {equipment.TX1.silent}"',
        ),
      }),
    ),
    broken: fc.constantFrom(false, false, false, true),
  },
  { requiredKeys: ['id', 'given'] },
);
const noteOf: fc.Arbitrary<TrialNote> = fc.record({
  blocks: fc.array(blockOf, { minLength: 1, maxLength: 5 }),
  prose: fc.constantFrom(
    'Words.',
    'Other words, and {{ one.line_lead }}.',
    '![sketch](#nowhere)\n\n[there](#nothing)',
  ),
});
const stateOf: fc.Arbitrary<TrialState> = fc.record({
  notes: fc.array(noteOf, { minLength: 1, maxLength: 2 }),
  silent: fc.constantFrom('48 kV', '48 kV peak', '52 kV rms'),
  withstand: fc.constantFrom('75 kV peak', '95 kV peak', '75 kV', 'not known'),
});

/** Some states, in each of which a part of the one before is left as it was. */
const courseOf = fc.array(
  fc.record({ next: stateOf, kept: fc.constantFrom('nothing', 'register', 'first note', 'first blocks') }),
  { minLength: 2, maxLength: 5 },
);

function follow(before: TrialState, next: TrialState, kept: string): TrialState {
  const { notes, silent, withstand } = before;
  if (kept === 'register') return { ...next, silent, withstand };
  if (kept === 'first note') return { ...next, notes: [notes[0]!, ...next.notes.slice(1)] };
  if (kept !== 'first blocks') return next;
  const [first] = next.notes;
  const blocks = [...notes[0]!.blocks.slice(0, 2), ...first!.blocks.slice(2)];
  return { ...next, notes: [{ ...first!, blocks }, ...next.notes.slice(1)] };
}

test('after any edits a session says what one opened anew says', () => {
  fc.assert(
    fc.property(courseOf, (course) => {
      let state = course[0]!.next;
      const session = openProject(filesOf(state));
      for (const { next, kept } of course) {
        const before = filesOf(state);
        state = follow(state, next, kept);
        const files = new Map(filesOf(state));
        for (const [path] of before) if (!files.has(path)) session.change(path, undefined);
        for (const [path, text] of files) session.change(path, text);
        expect(contentOf(session)).toBe(contentOf(openProject(files)));
      }
    }),
    { numRuns: trials(5, 60) },
  );
});

const COUNTED = ['piece', 'block', 'inputs', 'run', 'kinds', 'result'];

const NOTHING = Object.fromEntries(COUNTED.map((query) => [query, 0]));

/** What was computed of blocks since this was last asked. */
function countsOf(session: ProjectSession): Record<string, number> {
  const counts = session.takeCounts();
  return Object.fromEntries(COUNTED.map((query) => [query, counts.get(query) ?? 0]));
}

describe('in a note of hundreds of blocks', () => {
  const SIZE = trials(300, 1000);
  // No two have the same givens. Every tenth takes its earth lead from the one before; every hundredth knows a withstand.
  const blocks = Array.from({ length: SIZE }, (_, i): TrialBlock => {
    const taken = i % 10 === 9 ? { earth_lead: `!ref block-${i - 1}.earth_lead` } : {};
    const withstand = i % 100 === 50 ? { impulse_withstand: '!ref equipment.TX1.withstand' } : {};
    const given = connection(i, { steepness: `${5 + i / 1000} kA/us`, ...taken, ...withstand });
    return { id: `block-${i}`, given };
  });
  const write = (changed: readonly TrialBlock[], prose = 'Words.') => writeNote({ blocks: changed, prose });
  const session = openProject([
    ['project.yaml', writeRegister('48 kV', '75 kV peak')],
    ['1.md', write(blocks)],
  ]);
  const edit = (at: number, by: Partial<TrialBlock>) =>
    write(blocks.map((block, i) => (i === at ? { ...block, ...by } : block)));
  const given = (at: number, name: string, value: string) => ({
    given: { ...blocks[at]!.given, [name]: value },
  });
  const stateAfter = (text: string) => {
    session.change('1.md', text);
    const { notes, diagnostics } = session.state();
    return {
      counts: countsOf(session),
      found: notes[0]!.blocks.length,
      codes: diagnostics.map(({ code }) => code),
    };
  };

  test('each block is computed once', () => {
    expect(session.state().notes[0]!.blocks).toHaveLength(SIZE);
    expect(countsOf(session)).toEqual({
      piece: SIZE,
      block: SIZE,
      inputs: SIZE,
      run: SIZE,
      kinds: SIZE,
      result: SIZE,
    });
    session.state();
    expect(countsOf(session)).toEqual(NOTHING);
  });

  test('one given edited: its block alone, where nobody reads it', () => {
    const { counts } = stateAfter(edit(121, given(121, 'line_lead', '2.705 m')));
    expect(counts).toEqual({ piece: 1, block: 1, inputs: 1, run: 1, kinds: 1, result: 1 });
    expect(session.resultOf('1.md', 'block-121')!.evaluated.givens[1]!.text).toBe('2.705 m');
  });

  test('one given edited: its block and the one that reads it', () => {
    const { counts } = stateAfter(edit(248, given(248, 'earth_lead', '2.605 m')));
    expect(counts.run).toBe(2);
    expect(counts.inputs).toBe(2);
    expect(session.resultOf('1.md', 'block-249')!.evaluated.givens[2]!.text).toBe('2.605 m');
  });

  test('a given that the reader does not read', () => {
    const { counts } = stateAfter(edit(248, given(248, 'line_lead', '2.605 m')));
    expect(counts.run).toBe(1);
  });

  test('an edit that is taken back: nothing', () => {
    const { counts } = stateAfter(write(blocks));
    expect(counts).toEqual(NOTHING);
  });

  test('prose and titles: no block', () => {
    expect(
      stateAfter(write(blocks, 'Other words.\n\nOn more lines, so that all blocks move.')).counts,
    ).toEqual(NOTHING);
    const titled = stateAfter(edit(77, { title: 'Boathouse' }));
    // The givens below a title move within their block.
    expect(titled.counts).toEqual({ ...NOTHING, piece: 1, block: 1, inputs: 1, kinds: 1 });
    expect(session.resultOf('1.md', 'block-77')!.title).toBe('Boathouse');
  });

  test('a block that is added, renamed, removed', () => {
    const added: TrialBlock = { id: 'added', given: connection(3, { steepness: '7.7777 kA/us' }) };
    expect(stateAfter(write([...blocks, added]))).toMatchObject({
      counts: { piece: 1, inputs: 1, run: 1 },
      found: SIZE + 1,
    });
    expect(stateAfter(edit(200, { id: 'renamed' }))).toMatchObject({
      counts: { run: 0 },
      found: SIZE,
      codes: [],
    });
    const removed = stateAfter(write(blocks.filter((_, i) => i !== 260)));
    expect(removed).toMatchObject({ counts: NOTHING, found: SIZE - 1, codes: [] });
  });

  test('a block that others read is renamed: they are at fault', () => {
    const renamed = stateAfter(edit(208, { id: 'renamed' }));
    expect(renamed).toMatchObject({ counts: { run: 0 }, codes: ['unknown-block'], found: SIZE - 1 });
    expect(stateAfter(write(blocks))).toMatchObject({ counts: { run: 0 }, codes: [], found: SIZE });
  });

  test('YAML that is broken and mended: no other block', () => {
    const broken = stateAfter(edit(250, { broken: true }));
    expect(broken.codes.length).toBeGreaterThan(0);
    expect(broken).toMatchObject({ counts: { ...NOTHING, piece: 1 }, found: SIZE - 1 });
    expect(stateAfter(write(blocks))).toMatchObject({ counts: { run: 0 }, codes: [], found: SIZE });
  });

  test('an entry of the register: the blocks that read it', () => {
    session.change('project.yaml', writeRegister('48 kV', '95 kV peak'));
    expect(session.state().diagnostics).toEqual([]);
    expect(countsOf(session)).toMatchObject({ inputs: SIZE / 100, run: SIZE / 100, result: SIZE / 100 });
    session.change('project.yaml', writeRegister('50 kV', '95 kV peak'));
    session.state();
    expect(countsOf(session)).toEqual(NOTHING);
  });
});

test('two blocks with the same givens, in whatever notes, are one run', () => {
  const block = (id: string): TrialBlock => ({ id, given: connection(5) });
  const session = openProject([
    ['project.yaml', writeRegister('48 kV', '75 kV')],
    ['1.md', writeNote({ blocks: [block('a'), block('b')], prose: '' })],
    ['2.md', numbered('2.md', writeNote({ blocks: [block('c')], prose: '' }))],
  ]);
  const { notes } = session.state();
  expect(notes.map(({ blocks }) => blocks.map(({ id }) => id))).toEqual([['a', 'b'], ['c']]);
  expect(countsOf(session).run).toBe(1);
});

test('a session without project.yaml reads its notes and evaluates none', () => {
  const session = openProject([['1.md', writeNote({ blocks: [], prose: 'Words.' })]]);
  expect(session.state()).toMatchObject({ project: undefined, notes: [] });
  expect(session.sourceOf('1.md')).toMatchObject({ path: '1.md' });
  expect(session.sourceOf('2.md')).toBeUndefined();
});

test('what a block says of the kind of a value holds for the others that take it, as long as it says so', () => {
  const own = (id: string, unit: string, value: string): TrialBlock => ({ id, given: { unit, value } });
  const follower = writeNote({
    blocks: [own('far', 'kV', '!ref equipment.TX1.silent'), own('end', 'kV rms', '!ref far.twice')],
    prose: '',
  });
  const first = (unit: string) =>
    writeNote({ blocks: [own('near', unit, '!ref equipment.TX1.silent')], prose: '' });
  const session = openProject([
    ['project.yaml', writeRegister('48 kV', '75 kV')],
    ['1.md', first('kV')],
    ['2.md', numbered('2.md', follower)],
  ]);
  const codesWith = (unit: string) => {
    session.change('1.md', first(unit));
    return session.state().diagnostics.map(({ code, place }) => `${place.file} ${code}`);
  };
  expect(codesWith('kV')).toEqual([]);
  expect(codesWith('kV peak')).toEqual(['2.md kind-serves-as-both']);
  expect(codesWith('kV rms')).toEqual([]);
  session.takeCounts();
  expect(codesWith('kV peak')).toEqual(['2.md kind-serves-as-both']);
  expect(countsOf(session)).toEqual(NOTHING);
});

describe('the pages of calculations', () => {
  const block = (id: string, seed: number, more: Readonly<Record<string, string>> = {}): TrialBlock => ({
    id,
    given: connection(seed, more),
  });
  const before = [
    block('a', 1),
    block('b', 2, { line_lead: '!ref c.line_lead' }),
    block('c', 3),
    block('d', 4),
  ];
  const register = (people = '') => `${writeRegister('48 kV', '75 kV peak')}${people}`;
  const session = openProject([
    ['project.yaml', register()],
    ['1.md', writeNote({ blocks: before, prose: 'Words.' })],
  ]);
  const options = { images: new Map(), software: { name: 'trial', version: '0' }, digest: '0'.repeat(64) };
  const pageOf = (one: ProjectSession) => {
    const { notes, project, diagnostics } = one.state();
    expect(diagnostics).toEqual([]);
    return one.pageOf(notes[0]!, project!, options).html;
  };
  /** How many calculations were set, after it was seen that the page is that of a session opened anew. */
  const setAfter = (blocks: readonly TrialBlock[], prose = 'Words.', projectText = register()) => {
    session.takeCounts();
    const files = [
      ['project.yaml', projectText],
      ['1.md', writeNote({ blocks, prose })],
    ] as const;
    for (const [path, text] of files) session.change(path, text);
    expect(pageOf(session)).toBe(pageOf(openProject(files)));
    return session.takeCounts().get('page') ?? 0;
  };
  const changed = (at: number, by: TrialBlock) => before.map((one, i) => (i === at ? by : one));

  test('are made anew where what they show is another, and nowhere else', () => {
    expect(setAfter(before)).toBe(4);
    expect(setAfter(before)).toBe(0);
    expect(setAfter(changed(3, block('d', 9)))).toBe(1);
    expect(setAfter(changed(3, { ...before[3]!, title: 'Slipway' }))).toBe(1);
    expect(setAfter(before, 'Other words, and {{ c.line_lead }}.')).toBe(0);
    // The others say of which givens they have the same as the first.
    expect(setAfter(changed(0, block('a', 8)))).toBe(4);
    expect(setAfter([block('new', 5), ...before])).toBe(5);
    // `b` stays where it is and names the number of `c`; the first names all for which its cautions hold, in their order.
    expect(setAfter([before[0]!, before[1]!, before[3]!, before[2]!])).toBe(4);
    expect(setAfter(before)).toBe(0);
    const people = 'people:\n  ada: { name: A. Quill }\n';
    expect(setAfter(before, 'Words.', register(people))).toBe(4);
  });
});
