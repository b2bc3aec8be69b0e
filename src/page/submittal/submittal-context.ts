import type { EvaluatedNote } from '../../evaluation/evaluated-note.ts';
import type { SubmittalNote } from '../../evaluation/submittal/evaluated-submittal.ts';
import { wordNote } from '../../evaluation/word-note.ts';
import type { Memory } from '../../memory/memory.ts';
import type { NoteReview } from '../../review/sign-off/note-review.ts';
import type { ProjectSource } from '../../source/project-source.ts';
import type { Words } from '../../words/words.ts';
import type { Phrase } from '../link-phrases.ts';
import { contextOf, type NoteContext } from '../note-context.ts';

/** A note within a submittal, as the views of the document need it. */
export interface PartContext {
  readonly label: string;
  /** The heading that the note has within the document. */
  readonly title: string;
  /** What stands before every id of the note. */
  readonly scope: string;
  /** The id of its heading. */
  readonly headingId: string;
  /** The name of its pages in the style sheet. */
  readonly pages: string;
  readonly evaluated: EvaluatedNote;
  readonly context: NoteContext;
  readonly review: NoteReview;
}

/** Headings, calculations and figures of a note bear its number, and what names another note of the document leads there. */
export function contextsOf(
  notes: readonly SubmittalNote[],
  reviews: ReadonlyMap<SubmittalNote['note'], NoteReview>,
  project: ProjectSource,
  words: Words,
  memory: Memory,
): readonly PartContext[] {
  return notes.map(({ note, listed, label }) => {
    const others = notes.filter((one) => one.note !== note).flatMap(phrasesOf);
    const numbering = { prefix: `${label}-`, above: 1 };
    const review: NoteReview = reviews.get(note) ?? { signOffs: [], issues: [], mark: 'draft' };
    const context = leadToParts(
      contextOf(wordNote(note, words, memory), project, words, numbering, review.restsOn),
      notes,
    );
    const { references } = context;
    return {
      label,
      title: listed.heading ?? note.source.frontMatter.title,
      scope: `n${idOf(label)}`,
      headingId: noteId(label),
      evaluated: note,
      pages: `note-${idOf(label)}`,
      context: {
        ...context,
        references: { ...references, phrases: [...references.phrases, ...others] },
        beyond: others.map(({ target }) => target),
      },
      review,
    };
  });
}

/** What is taken from a note of the same document leads to that note, anything else to what is said of its note. */
function leadToParts(context: NoteContext, notes: readonly SubmittalNote[]): NoteContext {
  return {
    ...context,
    otherNote: (number) => {
      const other = context.otherNote(number);
      const within = other && notes.find(({ note }) => note.source.path === other.path);
      return within ? { ...other, id: noteId(within.label) } : other;
    },
  };
}

function phrasesOf({ label, note }: SubmittalNote): Phrase[] {
  const target = noteId(label);
  return [`note ${label}`, note.source.frontMatter.number].map((text) => ({ text, target }));
}

/** The heading of a note. No id within a note begins so. */
function noteId(label: string): string {
  return `note-${idOf(label)}`;
}

/** Different labels have different ids. */
function idOf(label: string): string {
  return label.replace(/[^A-Za-z0-9]/g, (sign) => `_${sign.codePointAt(0)!.toString(16)}_`);
}
