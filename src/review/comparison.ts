import type { Verdict } from '../engine/definition/evaluated.ts';

/** One fact in two states; a side without it is undefined. */
export interface FactChange {
  /** 'line_lead', 'sections.0.length', 'source of line_lead' */
  readonly name: string;
  readonly before?: string;
  readonly after?: string;
  /** Relative change of a number, in per cent of the old value. */
  readonly percent?: number;
  /** The numbers of the notes from which the value is taken: the change was made there. */
  readonly takenFrom?: readonly string[];
  /** Of a given whose text is as before: the reference or formula from which its value comes. Nobody edited it here. */
  readonly follows?: string;
  /** The blocks that take the given over from their base: their values are this one. */
  readonly inheritedBy?: readonly string[];
  /** It tells how a numerical method went, and nothing of the installation. */
  readonly bookkeeping?: true;
}

export type ChangeState = 'changed' | 'added' | 'removed';

export interface CheckChange {
  readonly name: string;
  readonly criterion: string;
  /** 'complies, at the limit'; undefined where the check is not in that state. */
  readonly before?: string;
  readonly after?: string;
  /** The verdict now as a code. */
  readonly afterCode?: Verdict;
  /** The verdict is another, or holds over the range of its givens in one state only. */
  readonly turned: boolean;
  /** Value, limit, range. */
  readonly facts: readonly FactChange[];
}

export interface BlockChange {
  readonly id: string;
  readonly renamedFrom?: string;
  readonly state: ChangeState;
  readonly calculation: string;
  readonly title: string;
  readonly given: readonly FactChange[];
  readonly results: readonly FactChange[];
  readonly checks: readonly CheckChange[];
  readonly limiting: readonly FactChange[];
  readonly cautions: readonly FactChange[];
  /** What is written about it: title, sources, formulas, accepted cautions. */
  readonly wording: readonly FactChange[];
}

/** An assumption, hold or reference. */
export interface ItemChange {
  readonly id: string;
  readonly state: ChangeState;
  readonly facts: readonly FactChange[];
}

/** A paragraph, list item, row of a table or line of code that went or came. */
export interface TextChange {
  /** The heading under which it stands. */
  readonly section: string;
  readonly state: 'added' | 'removed';
  readonly text: string;
}

export interface NoteChange {
  readonly path: string;
  readonly renamedFrom?: string;
  readonly state: ChangeState;
  readonly blocks: readonly BlockChange[];
  readonly assumptions: readonly ItemChange[];
  readonly holds: readonly ItemChange[];
  readonly references: readonly ItemChange[];
  /** Values of other notes by their references, as far as no given of a block takes them over. */
  readonly taken: readonly FactChange[];
  readonly images: readonly FactChange[];
  /** Which blocks are set side by side, and under which title. */
  readonly comparisons: readonly FactChange[];
  readonly text: readonly TextChange[];
}

/** A verdict that turned, or one that came or went with its check or block. */
export interface TurnedVerdict {
  readonly note: string;
  readonly block: string;
  readonly check: string;
  readonly criterion: string;
  readonly before?: string;
  readonly after?: string;
  readonly afterCode?: Verdict;
}

/** What changed in a submittal itself: its title block, its words, which notes it holds and in which order. */
export interface SubmittalChange {
  readonly path: string;
  readonly state: ChangeState;
  readonly facts: readonly FactChange[];
}

/** What was written, and what came of it, in numbers. */
export interface ComparisonSummary {
  /** Givens of blocks and schedules, and cells of their rows, that say something else: not those that follow others. */
  readonly givens: number;
  /** Values of the register. */
  readonly register: number;
  readonly added: number;
  readonly removed: number;
  /** Titles, sources, assumptions, paragraphs and whatever else is written and is no value. */
  readonly others: number;
  readonly turned: number;
  /** Blocks in which nothing was written, and something is another. */
  readonly following: number;
  /** The same of rows of schedules. */
  readonly followingRows: number;
  /** The least margin now of the requirements to which the notes are held, as far as these can be judged. */
  readonly least?: {
    readonly note: string;
    readonly block: string;
    readonly check: string;
    /** A part of the limit: 0.02; below nought it is not met. */
    readonly margin: number;
  };
}

/** What lies between two states of a project. Only what changed is listed. */
export interface Comparison {
  readonly summary: ComparisonSummary;
  readonly turned: readonly TurnedVerdict[];
  /** project.yaml: people, register and the rest. */
  readonly project: readonly FactChange[];
  readonly submittals: readonly SubmittalChange[];
  readonly notes: readonly NoteChange[];
}
