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

/** Everything that changed, verdicts that turned first, as one list of parts. */
export function outlineComparison(comparison: Comparison): OutlinePart[] {
  const { turned, project, submittals, notes } = comparison;
  const severalNotes = new Set(turned.map(({ note }) => note)).size > 1;
  const verdicts = turned.map(({ note, block, check, criterion, before, after }) => ({
    name: `${severalNotes ? `${note}: ` : ''}${block}.${check} (${criterion})`,
    before,
    after,
    percent: '',
  }));
  return [
    ...part('Verdicts that turned', [{ title: '', rows: verdicts }]),
    ...part('project.yaml', [{ title: '', rows: outlineProject(project) }]),
    ...outlineSubmittals(submittals).map(({ parts: [only], path, what }) => ({
      ...only!,
      heading: `${path}${what}`,
    })),
    ...outlineNotes(notes).flatMap(({ path, what, parts }) => [
      ...(what === '' ? [] : [{ heading: `${path}${what}`, tables: [], text: [] }]),
      ...parts.map((one) => ({ ...one, heading: `${path}: ${one.heading}` })),
    ]),
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

/** What changed in each note, in the order of the document. */
export function outlineNotes(notes: readonly NoteChange[]): OutlineNote[] {
  return notes.map((note) => ({
    path: note.path,
    what: note.renamedFrom ? `, renamed from ${note.renamedFrom}` : wordState(note.state),
    parts: [
      ...note.blocks.map(outlineBlock),
      ...part('assumptions', note.assumptions.map(outlineItem)),
      ...part('open points', note.holds.map(outlineItem)),
      ...part('references', note.references.map(outlineItem)),
      ...part('values taken from other notes', [{ title: '', rows: note.taken.map(row) }]),
      ...part('blocks set side by side', [{ title: '', rows: note.comparisons.map(row) }]),
      ...part('images', [{ title: '', rows: note.images.map(imageRow) }]),
      ...(note.text.length > 0 ? [{ heading: 'text', tables: [], text: note.text }] : []),
    ],
  }));
}

function outlineBlock(block: BlockChange): OutlinePart {
  const { id, renamedFrom, state, calculation, title } = block;
  const what = renamedFrom ? `, renamed from ${renamedFrom}` : wordState(state);
  const tables: OutlineTable[] = [
    { title: 'verdicts and checks', rows: block.checks.flatMap(checkRows) },
    { title: 'givens', rows: block.given.map(row) },
    { title: 'results', rows: block.results.map(row) },
    { title: 'limiting values', rows: block.limiting.map(row) },
    { title: 'cautions', rows: block.cautions.map(row) },
    { title: 'wording', rows: block.wording.map(row) },
  ];
  return {
    heading: `${id} (${calculation}: ${title})${what}`,
    tables: tables.filter(({ rows }) => rows.length > 0),
    text: [],
  };
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

function row({ name: own, before, after, percent, takenFrom = [] }: FactChange): OutlineRow {
  const name = takenFrom.length === 0 ? own : `${own} (taken from ${takenFrom.join(', ')})`;
  return { name, before, after, percent: percent === undefined ? '' : wordPercent(percent) };
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
