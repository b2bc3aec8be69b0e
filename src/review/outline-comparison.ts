import type {
  BlockChange,
  ChangeState,
  CheckChange,
  Comparison,
  FactChange,
  ItemChange,
  NoteChange,
  SubmittalChange,
  TextChange,
} from './comparison.ts';
import { wordDigits } from './recorded-number.ts';

/** A comparison as parts with headings, from which the forms for people are written. */
export interface OutlinePart {
  readonly heading: string;
  readonly tables: readonly OutlineTable[];
  readonly text: readonly TextChange[];
}

export interface OutlineTable {
  readonly title: string;
  readonly rows: readonly OutlineRow[];
}

export interface OutlineRow {
  readonly name: string;
  readonly before: string | undefined;
  readonly after: string | undefined;
  /** '+14.3 %', '' where there is none. */
  readonly percent: string;
}

/** What changed in one note. */
export interface OutlineNote {
  readonly path: string;
  /** ', added'; '' where it is in both states under one path. */
  readonly what: string;
  readonly parts: readonly OutlinePart[];
}

/** Which side of a comparison: what somebody wrote, or what came of it. */
type Side = 'written' | 'follows';

export interface OutlineOptions {
  /** How numerical methods went is told too. */
  readonly bookkeeping?: boolean;
}

/** Everything that changed as one list of parts: what was written, then the verdicts that turned, and what else follows. */
export function outlineComparison(comparison: Comparison, options: OutlineOptions = {}): OutlinePart[] {
  const { turned, project, submittals, notes } = comparison;
  const severalNotes = new Set(turned.map(({ note }) => note)).size > 1;
  const verdicts = turned.map(({ note, block, check, criterion, before, after }) => ({
    name: `${severalNotes ? `${note}: ` : ''}${block}.${check} (${criterion})`,
    before,
    after,
    percent: '',
  }));
  const ofSide = (side: Side): OutlinePart[] =>
    outlineNotes(notes, options, [side]).flatMap(({ path, what, parts }) => [
      ...(what === '' || side === 'follows' ? [] : [{ heading: `${path}${what}`, tables: [], text: [] }]),
      ...parts.map((one) => ({ ...one, heading: `${path}: ${one.heading}` })),
    ]);
  return [
    ...part('project.yaml', [{ title: '', rows: outlineProject(project) }]),
    ...outlineSubmittals(submittals).map(({ parts: [only], path, what }) => ({
      ...only!,
      heading: `${path}${what}`,
    })),
    ...ofSide('written'),
    ...part('Verdicts that changed', [{ title: '', rows: verdicts }]),
    ...ofSide('follows'),
  ];
}

/** What changed in project.yaml, as rows. */
export function outlineProject(changes: readonly FactChange[]): OutlineRow[] {
  return changes.map(row);
}

/** What changed in each submittal. */
export function outlineSubmittals(submittals: readonly SubmittalChange[]): OutlineNote[] {
  return submittals.map(({ path, state, facts }) => ({
    path,
    what: wordState(state),
    parts: part('submittal', [{ title: '', rows: facts.map(row) }]),
  }));
}

/** What changed in each note, in the order of the document; of each block what was written before what follows. */
export function outlineNotes(
  notes: readonly NoteChange[],
  options: OutlineOptions = {},
  sides: readonly Side[] = ['written', 'follows'],
): OutlineNote[] {
  const written = sides.includes('written');
  return notes.map((note) => ({
    path: note.path,
    what: note.renamedFrom ? `, renamed from ${note.renamedFrom}` : wordState(note.state),
    parts: [
      ...note.blocks.flatMap((block) => outlineBlock(block, options, sides)),
      ...(written ? outlineWords(note) : []),
      ...(sides.includes('follows')
        ? part('values taken from other notes', [{ title: '', rows: note.taken.map(row) }])
        : []),
      ...(written && note.text.length > 0 ? [{ heading: 'text', tables: [], text: note.text }] : []),
    ],
  }));
}

/** What is written in a note beside its blocks, but for its text. */
function outlineWords(note: NoteChange): OutlinePart[] {
  return [
    ...part('assumptions', note.assumptions.map(outlineItem)),
    ...part('open points', note.holds.map(outlineItem)),
    ...part('references', note.references.map(outlineItem)),
    ...part('blocks set side by side', [{ title: '', rows: note.comparisons.map(row) }]),
    ...part('images', [{ title: '', rows: note.images.map(imageRow) }]),
  ];
}

/** Nothing where the block has nothing to tell of these sides; one that came or went is told as what was written. */
function outlineBlock(block: BlockChange, options: OutlineOptions, sides: readonly Side[]): OutlinePart[] {
  const { id, renamedFrom, state, calculation, title } = block;
  const what = renamedFrom ? `, renamed from ${renamedFrom}` : wordState(state);
  const results = block.results.filter(({ bookkeeping }) => options.bookkeeping || !bookkeeping);
  const tables: Readonly<Record<Side, readonly OutlineTable[]>> = {
    written: [
      { title: 'givens', rows: block.given.filter(({ follows }) => follows === undefined).map(row) },
      { title: 'wording', rows: block.wording.map(row) },
    ],
    follows: [
      { title: 'verdicts and checks', rows: block.checks.flatMap(checkRows) },
      {
        title: 'givens that follow',
        rows: block.given.filter(({ follows }) => follows !== undefined).map(row),
      },
      { title: 'results', rows: results.map(row) },
      { title: 'limiting values', rows: block.limiting.map(row) },
      { title: 'cautions', rows: block.cautions.map(row) },
    ],
  };
  const told = sides.flatMap((side) => tables[side]).filter(({ rows }) => rows.length > 0);
  const isNews = sides.includes('written') && (state !== 'changed' || renamedFrom !== undefined);
  if (told.length === 0 && !isNews) return [];
  return [{ heading: `${id} (${calculation}: ${title})${what}`, tables: told, text: [] }];
}

function wordState(state: ChangeState): string {
  return state === 'changed' ? '' : `, ${state}`;
}

function outlineItem({ id, state, facts }: ItemChange): OutlineTable {
  return { title: `${id}${wordState(state)}`, rows: facts.map(row) };
}

function checkRows({ name, before, after, turned, facts }: CheckChange): OutlineRow[] {
  const verdict = { name: turned ? name : `${name} (verdict as before)`, before, after, percent: '' };
  return [verdict, ...facts.map((fact) => ({ ...row(fact), name: `${name}.${fact.name}` }))];
}

function row(change: FactChange): OutlineRow {
  const { name: own, before, after, percent } = change;
  const traces = traceOf(change);
  const name = traces.length === 0 ? own : `${own} (${traces.join('; ')})`;
  return { name, before, after, percent: percent === undefined ? '' : wordPercent(percent) };
}

/** Where the change was made, or to which blocks it goes on. */
function traceOf({ takenFrom = [], follows, inheritedBy = [] }: FactChange): string[] {
  return [
    ...(follows === undefined ? [] : [`follows ${follows}`]),
    ...(follows === undefined && takenFrom.length > 0 ? [`taken from ${takenFrom.join(', ')}`] : []),
    ...(inheritedBy.length > 0 ? [`inherited by ${inheritedBy.join(', ')}`] : []),
  ];
}

/** That an image changed is what a reader can use; the digests by which it is known are not. */
function imageRow({ name, before, after }: FactChange): OutlineRow {
  const both = before !== undefined && after !== undefined;
  return {
    name,
    before: before === undefined ? undefined : 'there',
    after: after === undefined ? undefined : both ? 'another content' : 'there',
    percent: '',
  };
}

function wordPercent(percent: number): string {
  return `${percent > 0 ? '+' : ''}${wordDigits(percent, 3)} %`;
}

function part(heading: string, tables: readonly OutlineTable[]): OutlinePart[] {
  const filled = tables.filter(({ rows }) => rows.length > 0);
  return filled.length > 0 ? [{ heading, tables: filled, text: [] }] : [];
}
