import { targetsOf } from '../evaluation/caution-ranges-elsewhere.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { listInherited } from '../evaluation/inherit/list-inherited.ts';
import type { EvaluatedSubmittal } from '../evaluation/submittal/evaluated-submittal.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { compareBlock, pairBlocks } from './compare-blocks.ts';
import { compareFacts, type Facts, flattenFacts } from './compare-facts.ts';
import { compareProject } from './compare-project.ts';
import { compareSubmittals } from './compare-submittals.ts';
import { compareText } from './compare-text.ts';
import type { BlockChange, Comparison, ItemChange, NoteChange, TurnedVerdict } from './comparison.ts';
import { recordTaken } from './record-taken.ts';
import { compareSchedules } from './schedule/compare-schedules.ts';
import { summariseComparison } from './summarise-comparison.ts';

/** A project as it was at one time, evaluated without errors. */
export interface ProjectState {
  readonly project: ProjectSource;
  readonly notes: readonly EvaluatedNote[];
  readonly submittals?: readonly EvaluatedSubmittal[];
  /** Images of a note by their addresses, each with the digest of its content. */
  imagesOf(note: EvaluatedNote): ReadonlyMap<string, string>;
}

interface NotePair {
  readonly before: EvaluatedNote | undefined;
  readonly after: EvaluatedNote | undefined;
}

/** What changed between two states of a project. Both are evaluated by the same program: its own changes do not show. */
export function compareStates(before: ProjectState, after: ProjectState): Comparison {
  const notes = pairNotes(before.notes, after.notes).flatMap((pair) => {
    const change = compareNote(pair, before, after);
    return change ? [change] : [];
  });
  const turned = notes.flatMap(listTurned);
  const project = compareProject(before.project, after.project);
  return {
    summary: summariseComparison({ turned, project, notes }, before, after),
    turned,
    project,
    submittals: compareSubmittals(before.submittals ?? [], after.submittals ?? []),
    notes,
  };
}

/** By path; of the rest, a note that bears the number of one that is gone is that one. */
function pairNotes(before: readonly EvaluatedNote[], after: readonly EvaluatedNote[]): NotePair[] {
  const old = new Map(before.map((note) => [note.source.path, note]));
  const paths = new Set(after.map(({ source }) => source.path));
  const gone = new Set(before.filter(({ source }) => !paths.has(source.path)));
  const pairs = after.map((note): NotePair => {
    const same = old.get(note.source.path);
    if (same) return { before: same, after: note };
    const { number } = note.source.frontMatter;
    const moved = [...gone].find(({ source }) => source.frontMatter.number === number);
    if (moved) gone.delete(moved);
    return { before: moved, after: note };
  });
  return [...pairs, ...[...gone].map((note) => ({ before: note, after: undefined }))];
}

/** What changed in one note; undefined where nothing did. */
export function compareNote(
  { before, after }: NotePair,
  oldState: ProjectState,
  newState: ProjectState,
): NoteChange | undefined {
  const note = (after ?? before)!;
  const pairs = pairBlocks(before?.blocks ?? [], after?.blocks ?? []);
  const renamed = new Map(
    pairs.flatMap((pair) => (pair.before && pair.after ? [[pair.before.id, pair.after.id] as const] : [])),
  );
  const items = (kind: 'assumptions' | 'holds' | 'references'): ItemChange[] =>
    compareItems(before?.source[kind] ?? [], after?.source[kind] ?? []);
  const change: NoteChange = {
    path: note.source.path,
    ...(before && after && before.source.path !== after.source.path
      ? { renamedFrom: before.source.path }
      : {}),
    state: !before ? 'added' : !after ? 'removed' : 'changed',
    blocks: [
      ...pairs.flatMap((pair) => compareBlock(pair) ?? []),
      ...compareSchedules(before?.schedules ?? [], after?.schedules ?? []),
    ].map((block) => markInherited(block, after)),
    assumptions: items('assumptions'),
    holds: items('holds'),
    references: items('references'),
    taken: compareFacts(proseOnly(before), proseOnly(after)),
    images: compareFacts(
      before ? oldState.imagesOf(before) : new Map(),
      after ? newState.imagesOf(after) : new Map(),
    ),
    comparisons: compareFacts(comparisonsOf(before, renamed), comparisonsOf(after)),
    // The whole text of a note that came or went says no more than that.
    text: before && after ? compareText(before.source, after.source, renamed) : [],
  };
  const lists = [
    change.blocks,
    change.assumptions,
    change.holds,
    change.references,
    change.taken,
    change.images,
    change.comparisons,
    change.text,
  ];
  const changed = change.state !== 'changed' || change.renamedFrom !== undefined;
  return changed || lists.some((list) => list.length > 0) ? change : undefined;
}

/** Says of each given of a block that changed which other blocks and schedules have it from there. */
function markInherited(change: BlockChange, note: EvaluatedNote | undefined): BlockChange {
  if (!note) return change;
  const heirs = [
    ...note.blocks.map(({ id, source }) => ({ id, inherited: listInherited(source) })),
    ...note.schedules.map(({ id, inherited }) => ({ id, inherited })),
  ];
  return {
    ...change,
    given: change.given.map((fact) => {
      const name = fact.name.split('.')[0]!;
      const inheritedBy = heirs
        .filter(({ inherited }) => inherited.get(name) === change.id)
        .map(({ id }) => id);
      return inheritedBy.length === 0 ? fact : { ...fact, inheritedBy };
    }),
  };
}

/** What is set side by side: the titles by the blocks, named by their new ids. */
function comparisonsOf(
  note: EvaluatedNote | undefined,
  renamed: ReadonlyMap<string, string> = new Map(),
): Facts {
  const titles = new Map<string, string>();
  for (const { title = 'without title', of } of note?.source.comparisons ?? []) {
    const ids = of.map(({ name }) => renamed.get(name) ?? name).join(', ');
    const others = titles.get(ids);
    titles.set(ids, others === undefined ? title : `${others}; ${title}`);
  }
  return titles;
}

/** The values of other notes that no given of a block takes over: those of the prose. */
function proseOnly(note: EvaluatedNote | undefined): Facts {
  if (!note) return new Map();
  const given = new Set(note.blocks.flatMap(({ evaluated }) => evaluated.givens.flatMap(targetsOf)));
  return flattenFacts(recordTaken({ taken: note.taken.filter(({ target }) => !given.has(target)) }));
}

/** Anything with an id and texts. */
type Item = { readonly id: string } & object;

function compareItems(before: readonly Item[], after: readonly Item[]): ItemChange[] {
  const [old, fresh] = [before, after].map((items) => new Map(items.map((item) => [item.id, item])));
  return [...new Set([...fresh!.keys(), ...old!.keys()])].flatMap((id): ItemChange[] => {
    const [a, b] = [old!.get(id), fresh!.get(id)];
    const facts = compareFacts(factsOf(a), factsOf(b));
    if (facts.length === 0) return [];
    return [{ id, state: !a ? 'added' : !b ? 'removed' : 'changed', facts }];
  });
}

function factsOf(item: Item | undefined): ReadonlyMap<string, string> {
  return new Map(
    Object.entries(item ?? {}).filter(
      (entry): entry is [string, string] => entry[0] !== 'id' && typeof entry[1] === 'string',
    ),
  );
}

function listTurned(note: NoteChange): TurnedVerdict[] {
  return note.blocks.flatMap((block) =>
    block.checks
      .filter(({ turned }) => turned)
      .map(({ name, criterion, before, after, afterCode }) => ({
        note: note.path,
        block: block.id,
        check: name,
        criterion,
        ...(before === undefined ? {} : { before }),
        ...(after === undefined ? {} : { after }),
        ...(afterCode === undefined ? {} : { afterCode }),
      })),
  );
}
