import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { type NoteTree, samePiece } from '../../src/source/note-tree.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readNoteTree } from '../../src/source/read-note-tree.ts';
import { told } from '../support/told.ts';

const FRONT = '---\nnumber: T-1\ntitle: Trial\nrevision: A\nstatus: for-review\ndate: 2031-05-14\n---\n';
const WHOLE = '```yaml calc\nid: whole\ncalculation: arrester-connection\ngiven:\n  line_lead: 1 m\n```\n';

const treeOf = (body: string): NoteTree => readNoteTree('n.md', `${FRONT}\n${body}`);
const keysOf = (tree: NoteTree): string[] => tree.pieces.map(({ key }) => key);

/** The codes and lines that reading the note tells, lines counted from the first below the front matter. */
function faultsOf(body: string): string[] {
  const collector = new Collector();
  readNote('n.md', `${FRONT}\n${body}`, collector);
  return told(collector).map(({ code, place }) => `${code}@${place.line - 8}`);
}

/** What a broken block still says of itself: id, calculation, each given with the text at the place of its name and its value. */
function headOf(yaml: string) {
  const tree = treeOf(`\`\`\`yaml calc\n${yaml}\n\`\`\`\n`);
  const [piece] = tree.pieces;
  const { id, calculation, given } = piece!.head;
  const at = (place: { start: number; end: number }) => piece!.text.slice(place.start, place.end);
  return {
    broken: piece!.broken,
    id: id && at(id.place),
    calculation: calculation && at(calculation.place),
    given: given.map(({ keyPlace, value }) => [
      at(keyPlace),
      value.type === 'empty' ? 'at fault' : at(value.place),
    ]),
  };
}

const HEAD = 'id: pump\ncalculation: arrester-connection\n';

describe('a block with broken YAML keeps its id, its calculation and the givens beside the fault', () => {
  const rest = [
    ['earth_lead', '3 m'],
    ['steepness', '8 kA/us'],
  ];
  const lines = '\n  earth_lead: 3 m\n  steepness: 8 kA/us';
  test.each([
    ['a quote that is not closed', `given:\n  line_lead: "2 m${lines}`, [['line_lead', 'at fault'], ...rest]],
    ['a bracket', `given:\n  line_lead: { value: 2 m${lines}`, [['line_lead', 'at fault'], ...rest]],
    ['half a key', `given:\n  line_le${lines}`, rest],
    ['a tab', `given:\n\tline_lead: 2 m${lines.replaceAll('  ', '\t')}`, [['line_lead', '2 m'], ...rest]],
    ['a colon in a text', `given:\n  line_lead: as seen: 2 m${lines}`, [['line_lead', 'at fault'], ...rest]],
    ['half a key above', `titl\ngiven:${lines}`, rest],
    ['a reserved sign', `given:\n  line_lead: @2 m${lines}`, [['line_lead', 'at fault'], ...rest]],
    [
      'a line out of its column',
      `given:\n  line_lead: 2 m\n     bond: 1 m${lines}`,
      expect.arrayContaining(rest),
    ],
  ])('%s', (_, yaml, given) => {
    expect(headOf(`${HEAD}${yaml}`)).toEqual({
      broken: true,
      id: 'pump',
      calculation: 'arrester-connection',
      given,
    });
  });

  test('and what is well-formed is not broken, however odd', () => {
    expect(headOf(`${HEAD}given:\n  line_lead: !re\n  bond:`)).toMatchObject({ broken: false, id: 'pump' });
  });
});

describe('one fault is one message', () => {
  test.each([
    ['half a tag', `${HEAD}!re\ngiven:\n  line_lead: 2 m\n  earth_lead: 3 m`, ['unknown-tag@4']],
    [
      'a line of prose',
      `${HEAD}given:\n  line_lead: 2 m\nas measured\n  earth_lead: 3 m`,
      ['missing-colon@6'],
    ],
    [
      'two brackets',
      `${HEAD}given:\n  leads: [{ length: 2 m },\n    { length: 3 m\n  bond: 1 m`,
      ['unclosed-bracket@5', 'unclosed-bracket@6'],
    ],
    [
      'a lost line',
      `${HEAD}    line_lead: 2 m\n    earth_lead: 3 m\n    bond: 1 m`,
      ['indented-under-value@4'],
    ],
  ])('%s', (_, yaml, expected) => {
    expect(faultsOf(`\`\`\`yaml calc\n${yaml}\n\`\`\`\n`)).toEqual(expected);
  });

  test('and two that have nothing to do with one another are two', () => {
    const yaml = `${HEAD}given:\n  line_lead: "2 m\n  earth_lead: 3 m\n  bond: { value: 1 m\n  steepness: 8 kA/us`;
    expect(faultsOf(`\`\`\`yaml calc\n${yaml}\n\`\`\`\n`)).toEqual([
      'unclosed-quote@5',
      'unclosed-bracket@7',
    ]);
  });

  test('a list that is at fault accuses nobody who mentions its items', () => {
    const list = '```yaml assumptions\n- id: A1\n  text: "dry\n  state: confirmed\n```\n';
    expect(faultsOf(`By assumption A1 and assumption A2.\n\n${list}`)).toEqual(['unclosed-quote@5']);
  });
});

describe('a block is whole whatever stands open above it', () => {
  test.each([
    [
      'a block without an end',
      '```yaml calc\nid: new\n\nSymbols: see the list.\n',
      ['calc new', 'calc whole'],
      ['block-in-code@5'],
    ],
    ['the opening line of one', '```yaml calc\n\n', ['calc', 'calc whole'], ['block-in-code@3']],
    ['plain code', '```text\nas it is\n\n', ['calc whole'], ['block-in-code@4']],
    ['code with longer fences', '````\nas it is\n\n', ['calc whole'], ['unclosed-fence@1']],
    ['a formula', '$$\nU = L \\cdot i\n\n', ['calc whole'], ['unclosed-math@1']],
    ['a remark', '<!-- ask\n\n', ['calc whole'], ['unclosed-comment@1']],
    ['HTML', '<pre>\nx\n\n', ['calc whole'], ['raw-html@1']],
    [
      'two of them',
      '$$\nx\n\n```yaml calc\nid: new\n\n',
      ['calc new', 'calc whole'],
      ['unclosed-math@1', 'block-in-code@7'],
    ],
  ])('%s', (_, open, keys, faults) => {
    const tree = treeOf(`${open}${WHOLE}\nThe end.\n`);
    expect(keysOf(tree)).toEqual(keys);
    expect(samePiece(tree.pieces.at(-1)!, treeOf(WHOLE).pieces[0]!)).toBe(true);
    expect(tree.prose.children.at(-1)).toMatchObject({ type: 'paragraph' });
    expect(faultsOf(`${open}${WHOLE}\nThe end.\n`)).toEqual(faults);
  });

  test('and what is shown between longer fences stays code', () => {
    const shown = `~~~text\n${WHOLE}~~~\n\n\`\`\`\`md\n${WHOLE}\`\`\`\`\n`;
    expect(keysOf(treeOf(`${shown}\n${WHOLE}`))).toEqual(['calc whole']);
  });
});

describe('half a front matter', () => {
  test.each([
    ['cut off', '---\nnumber: T-1\ntitle: Tri'],
    ['without an end', `---\nnumber: T-1\ntitle: Tri\n\n${WHOLE}`],
    ['that a line in the prose seems to end', `---\nnumber: T-1\ntitle: Tri\n\n${WHOLE}\n---\n\nMore.\n`],
  ])('%s', (_, text) => {
    const collector = new Collector();
    const note = readNote('n.md', text, collector)!;
    expect(note.frontMatter).toMatchObject({ number: 'T-1', title: 'Tri' });
    expect(told(collector).map(({ code }) => code)).toEqual(['front-matter-unterminated']);
    expect(note.blocks.map(({ id }) => id)).toEqual(text.includes('whole') ? ['whole'] : []);
  });

  test('with a line at fault keeps the others', () => {
    const collector = new Collector();
    const note = readNote('n.md', FRONT.replace('Trial', '"Trial').concat('\nText.\n'), collector)!;
    expect(note.frontMatter).toMatchObject({ number: 'T-1', title: '', revision: 'A', date: '2031-05-14' });
    expect(told(collector).map(({ code, place }) => `${code}@${place.line}`)).toEqual(['unclosed-quote@3']);
  });
});

describe('pieces', () => {
  const two = `${WHOLE}\n${WHOLE.replace('whole', 'other').replace('1 m', '"1 m')}`;
  test('are the same wherever they stand, and their faults move with them', () => {
    const [before, after] = [treeOf(two), treeOf(`# Title\n\n${WHOLE.replace('whole', 'first')}\n\n${two}`)];
    expect(keysOf(after)).toEqual(['calc first', 'calc whole', 'calc other']);
    for (const piece of before.pieces) {
      const moved = after.pieces.find(({ key }) => key === piece.key)!;
      expect(samePiece(piece, moved)).toBe(true);
      expect({ ...moved, start: piece.start }).toEqual(piece);
      expect(moved.start).toBeGreaterThan(piece.start);
    }
    expect(faultsOf(two)).toEqual(['unclosed-quote@12']);
    expect(faultsOf(`# Title\n\nText.\n\n${two}`)).toEqual(['unclosed-quote@16']);
  });

  test('differ by every character, and by what closes them', () => {
    const [one] = treeOf(WHOLE).pieces;
    for (const other of [
      WHOLE.replace('1 m', '1  m'),
      WHOLE.replace('```\n', '~~~\n'),
      WHOLE.replace(/```\n$/, ''),
    ]) {
      expect(samePiece(one!, treeOf(other).pieces[0]!)).toBe(false);
    }
  });

  test('have keys of their own, by id where there is one', () => {
    const list = '```yaml holds\n- id: H1\n```\n';
    const body = `${WHOLE}\n${WHOLE}\n${list}\n${list}\n\`\`\`yaml formula\nsteps:\n\`\`\`\n`;
    expect(keysOf(treeOf(body))).toEqual(['calc whole', 'calc whole 2', 'holds', 'holds 2', 'formula']);
  });

  test.each(['', '\uFEFF', '---', '<<<<<<< a\n=======\n>>>>>>> b\n', '> '.repeat(400), '\ud83d', '\0'])(
    'of %j there is a tree',
    (text) => {
      const tree = readNoteTree('n.md', text);
      expect(tree.pieces).toEqual([]);
      expect(tree.unreadable).toBe(tree.prose.children.length === 0 && tree.frontMatter === undefined);
    },
  );
});
