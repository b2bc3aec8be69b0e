import type { WordedBlock, WordedNote } from '../evaluation/evaluated-note.ts';
import type { OtherNote } from '../evaluation/other-notes/taken-value.ts';
import { restingBlocks } from '../review/clauses/resting-blocks.ts';
import type { ReliedOnNote } from '../review/sign-off/relied-on-notes.ts';
import type { ProjectSource } from '../source/project-source.ts';
import type { Words } from '../words/words.ts';
import { listJudgedDependents } from './judged-dependents.ts';
import { ALONE, type Numbering } from './numbering.ts';
import { listOtherNotes } from './other-notes-view.ts';
import { collectReferences, type ReferenceList } from './reference-list.ts';
import { methodBlocks } from './schedule/method-blocks.ts';
import { likeness } from './unchanged-givens.ts';
import { type Family, listFamilies, numberBlocks } from './variants/families.ts';

/** What is shown of a block: its result and what the author says beside it, not its text. */
export type ShownBlock = Pick<WordedBlock, 'id' | 'title' | 'case' | 'evaluated' | 'accepted'>;

export function shownOf({ id, title, case: ofCase, evaluated, accepted }: ShownBlock): ShownBlock {
  return { id, title, ...(ofCase ? { case: ofCase } : {}), evaluated, accepted };
}

/**
 * What the views of one calculation may know of its note. What they find by asking is all that they learn of other blocks, so that
 * the page of a calculation can be remembered by it.
 */
export interface BlockContext {
  readonly project: Pick<ProjectSource, 'people'>;
  readonly references: Pick<ReferenceList, 'phrases' | 'open'>;
  readonly words: Words;
  /** The number of a calculation as it is printed, 'S1' of a schedule; undefined where there is none of that id. */
  numberOf(id: string): string | undefined;
  /** What a calculation is called where another refers to it: 'calculation 3', 'schedule 1'. */
  nameOf(id: string): string | undefined;
  /** A note from which values are taken, by the number of its file. */
  otherNote(number: string): ShownOtherNote | undefined;
  /** The first calculation of the note with that purpose. */
  firstFor(purpose: string): ShownBlock | undefined;
  /** The first calculation that has a caution of these words. */
  firstCautioned(words: string): string | undefined;
  /** The ids of all that have it, in their order: a long answer, which only the first of them needs. */
  cautionedBy(words: string): readonly string[];
  /** The ids of the calculations that take a value over from one and judge it by checks of their own. */
  judgedBy(id: string): readonly string[];
  /** A given or result of a calculation, as it is set there. */
  valueIn(block: string, name: string): ShownValue | undefined;
  /** The id of the first calculation with a given like that, by its `likeness`. */
  firstGivenLike(likeness: string): string | undefined;
}

/** What a calculation shows of one of its values. */
export interface ShownValue {
  readonly name: string;
  readonly symbol: string;
  readonly meaning: string;
  /** Of a given alone. */
  readonly print?: string;
  readonly range?: string;
}

/** A note on which the one that is shown rests. */
export interface ShownOtherNote extends OtherNote {
  /** Where the page tells of it. */
  readonly id: string;
  /** 'signed off, issued 2032-02-20' */
  readonly state: string;
  readonly sound: boolean;
  /** The numbers of the files of the notes through which it is reached. */
  readonly through: readonly string[];
  /** The values that are taken from it directly, in words. */
  readonly values: readonly {
    readonly target: string;
    readonly calculation: string;
    readonly meaning: string;
  }[];
}

/** A block with its number in the document. */
export interface NumberedBlock extends WordedBlock {
  /** '3', '201-3'; of a base and its variants '3a', '3b' */
  readonly number: string;
}

/** What the views of one note share. */
export interface NoteContext extends BlockContext {
  readonly note: WordedNote;
  /** The blocks of the note, in its order. */
  readonly blocks: readonly NumberedBlock[];
  readonly blockOf: ReadonlyMap<string, NumberedBlock>;
  /** The schedules of the note, each as one calculation. */
  readonly methods: readonly NumberedBlock[];
  /** The blocks that are set out as one calculation, by the id of each. */
  readonly families: ReadonlyMap<string, Family<NumberedBlock>>;
  readonly numbering: Numbering;
  readonly otherNotes: readonly ShownOtherNote[];
  readonly project: ProjectSource;
  readonly references: ReferenceList;
  /** Ids of a larger document, outside the note, to which phrases of its text lead. */
  readonly beyond: readonly string[];
}

export function contextOf(
  note: WordedNote,
  project: ProjectSource,
  words: Words,
  numbering = ALONE,
  restsOn: readonly ReliedOnNote[] = [],
): NoteContext {
  const ofBlocks = numberBlocks(note.blocks, numbering.prefix);
  const blocks = note.blocks.map((block) => ({ ...block, number: ofBlocks.get(block.id)! }));
  const methods = methodBlocks(note, numbering, words);
  const numbers = new Map([...blocks, ...methods].map(({ id, number }) => [id, number]));
  const names = new Map([
    ...blocks.map(({ id, number }): [string, string] => [id, `calculation ${number}`]),
    ...note.schedules.map(({ id }, i): [string, string] => [id, `schedule ${numbering.prefix}${i + 1}`]),
  ]);
  const first = new Map<string, ShownBlock>();
  for (const block of note.blocks) {
    const { purpose } = block.evaluated;
    if (!first.has(purpose)) first.set(purpose, shownOf(block));
  }
  const givens = new Map<string, string>();
  for (const { id, evaluated } of note.blocks) {
    for (const given of evaluated.givens) {
      const like = likeness(given);
      if (!givens.has(like)) givens.set(like, id);
    }
  }
  const cautioned = new Map<string, string[]>();
  for (const { id, evaluated } of note.blocks) {
    for (const text of new Set(evaluated.cautions.map((one) => one.text))) {
      const ids = cautioned.get(text);
      if (ids) ids.push(id);
      else cautioned.set(text, [id]);
    }
  }
  let dependents: ReturnType<typeof listJudgedDependents> | undefined;
  const blockOf = new Map(blocks.map((block) => [block.id, block]));
  const otherNotes = listOtherNotes(note.taken, restsOn, numbering.prefix, {
    words,
    locale: note.source.frontMatter.locale,
  });
  return {
    note,
    blocks,
    blockOf,
    families: listFamilies(blocks),
    numbering,
    otherNotes,
    project,
    methods,
    references: collectReferences(restingBlocks(note), note.source.references, project),
    beyond: [],
    words,
    numberOf: (id) => numbers.get(id),
    nameOf: (id) => names.get(id),
    otherNote: (number) => otherNotes.find(({ fileNumber }) => fileNumber === number),
    firstFor: (purpose) => first.get(purpose),
    firstCautioned: (text) => cautioned.get(text)?.[0],
    cautionedBy: (text) => cautioned.get(text) ?? [],
    judgedBy: (id) => {
      dependents ??= listJudgedDependents(note);
      return dependents.get(id) ?? [];
    },
    valueIn: (id, name) => valueIn(blockOf.get(id), name),
    firstGivenLike: (like) => givens.get(like),
  };
}

function valueIn(block: WordedBlock | undefined, name: string): ShownValue | undefined {
  const given = block?.evaluated.givens.find((one) => one.name === name);
  if (given) {
    const { symbol, meaning, print, range } = given;
    return { name, symbol, meaning, print, ...(range ? { range: range.print } : {}) };
  }
  const step = block?.evaluated.steps.find((one) => one.name === name);
  return step && { name, symbol: step.symbol, meaning: step.meaning };
}
