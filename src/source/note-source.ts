import type { Root } from 'mdast';
import type { Place } from '../diagnostics/place.ts';
import type { Locale } from '../words/locales.ts';
import type { Piece } from './note-tree.ts';
import type { Recipient } from './read-distribution.ts';
import type { SheetSource } from './read-sheets.ts';
import type { SourceNode } from './source-node.ts';

export interface RevisionRow {
  readonly revision: string;
  readonly date: string;
  /** Why, not only what. */
  readonly reason: string;
  readonly sections?: string;
  readonly prepared?: string;
  readonly checked?: string;
  readonly approved?: string;
}

/** By what a document is signed: sign-off records and their keys, or a pen on the print. */
export const SIGNATURE_KINDS = ['ink', 'keys'] as const;

export type SignatureKind = (typeof SIGNATURE_KINDS)[number];

/** The front matter of a note. Names of people are keys of `people` in project.yaml. */
export interface FrontMatter {
  readonly number: string;
  readonly title: string;
  readonly revision: string;
  /** Purpose of issue, a state of the project's list. Draft, void, superseded and withdrawn are derived, never written. */
  readonly status: string;
  /** The day of the note, ISO 8601; that of its issue stands in the register. */
  readonly date: string;
  readonly documentType: string;
  readonly discipline?: string;
  readonly clientDocumentNumber?: string;
  readonly classification?: string;
  /** Who receives the document; empty: whom the project names. */
  readonly distribution: readonly Recipient[];
  readonly supersedes?: string;
  readonly affects: readonly string[];
  readonly prepared?: string;
  readonly checked?: string;
  readonly approved?: string;
  readonly revisions: readonly RevisionRow[];
  /** Standards that the note works to, with editions. */
  readonly standards: readonly string[];
  /** What was found, what to do, by how much it then complies, in two or three sentences: markdown of paragraphs alone. */
  readonly summary?: AuthorSummary;
  /** Why clauses that are quoted from memory may stay uncompared at issue; the document prints it. */
  readonly sourcesOpen?: string;
  /** 'full': the nomenclature lists every symbol, not those alone that stand for more than one thing. */
  readonly nomenclature?: 'full';
  readonly pageSize: 'A4' | 'Letter';
  /** Drawings on pages of their own behind the end of the note. */
  readonly sheets?: readonly SheetSource[];
  /** As the project says where absent. */
  readonly signatures?: SignatureKind;
  /** Dates and spelling of the words that the program writes. */
  readonly locale: Locale;
  /** Place of every key that was written, for messages: 'number', 'revisions.0.date'. */
  readonly places: ReadonlyMap<string, Place>;
}

export interface GivenSource {
  readonly name: string;
  readonly namePlace: Place;
  /** Empty where the value is missing or at fault; that has been reported. */
  readonly value: SourceNode;
  readonly source?: string;
  /** Both ends, as written. */
  readonly range?: { readonly low: SourceNode; readonly high: SourceNode; readonly place: Place };
  readonly plusMinus?: SourceNode;
  /** Of a value that was not written in the block; its places are those where it was written. */
  readonly origin?: GivenOrigin;
}

/** Where a given comes from that a block does not write: the block that writes it, or an entry of the register. */
export type GivenOrigin =
  | { readonly kind: 'base'; readonly id: string }
  | { readonly kind: 'register'; readonly entry: string };

/** For what a block stands: what is there, what the note proposes, another way, or values for other blocks alone. */
export type BlockCase = 'as-found' | 'proposed' | 'alternative' | 'auxiliary';

/** A name in a block's text that leads to something, with its place. */
export interface WrittenName {
  readonly name: string;
  readonly place: Place;
}

/** A caution that the author has accepted, with a name and a reason; the note prints it. */
export interface Acceptance {
  readonly caution: string;
  readonly by: string;
  readonly reason: string;
  readonly place: Place;
}

/** A text in YAML with values in it, as pieces in their order. */
export type TextWithValues = readonly (string | ProseValue)[];

/** The author's finding on the first page. */
export interface AuthorSummary {
  /** Paragraphs with emphasis, code and values; nothing else. */
  readonly tree: Root;
  readonly values: readonly ProseValue[];
  readonly place: Place;
}

/** What is to be done about a block, in the author's words. */
export interface BlockAction {
  readonly what: TextWithValues;
  /** The title of the block where absent. */
  readonly where?: TextWithValues;
  readonly owner?: TextWithValues;
  /** ISO 8601. */
  readonly due?: string;
  readonly duePlace?: Place;
  /** By what it is shown to be done. */
  readonly proof?: TextWithValues;
  readonly place: Place;
}

interface BlockBase {
  readonly id: string;
  readonly idPlace: Place;
  readonly title?: string;
  /** Without it the block is what the note stands for. */
  readonly case?: BlockCase;
  /** The block from which calculation and givens come. */
  readonly basedOn?: WrittenName;
  /** Givens of the base that are left out. */
  readonly without?: readonly WrittenName[];
  /** The opening fence. */
  readonly place: Place;
  readonly accepted: readonly Acceptance[];
  /** Of a row of a table: where a given would stand whose cell is empty. */
  readonly absent?: ReadonlyMap<string, Place>;
  readonly action?: BlockAction;
}

/** `yaml calc` */
export interface CalcBlock extends BlockBase {
  readonly kind: 'calc';
  /** Empty in a block on a base that does not write it, until `expandBases` has completed it. */
  readonly calculation: string;
  /** Where it is written: in the block, or in the base. */
  readonly calculationPlace: Place;
  /** Entries of the register, 'equipment.SPD1', whose values fill the givens of their names that are not written. */
  readonly givensFrom?: readonly WrittenName[];
  readonly given: readonly GivenSource[];
}

/** One symbol of a `yaml formula` block. */
export interface OwnGiven extends GivenSource {
  readonly symbol: string;
  readonly symbolPlace: Place;
  readonly meaning: string;
  readonly unit: string;
  readonly unitPlace: Place;
}

export interface OwnStep {
  readonly name: string;
  readonly namePlace: Place;
  readonly symbol: string;
  readonly symbolPlace: Place;
  readonly meaning: string;
  readonly unit: string;
  readonly unitPlace: Place;
  readonly formula: string;
  readonly formulaPlace: Place;
  /** Where the formula comes from: standard and clause, book and page, or 'common practice'. */
  readonly source?: string;
  /** For an empirical formula: name -> unit in which it counts. */
  readonly numeric?: Readonly<Record<string, string>>;
}

export interface OwnCheck {
  readonly name: string;
  readonly namePlace: Place;
  readonly criterion: string;
  readonly value: string;
  readonly valuePlace: Place;
  readonly relation: '<=' | '>=' | '<' | '>';
  readonly limit: string;
  readonly limitPlace: Place;
  readonly force: 'requirement' | 'recommendation';
  readonly source?: string;
  readonly remedies: readonly string[];
  readonly remediesPlace?: Place;
}

/** `yaml formula`: the engineer's own calculation. */
export interface FormulaBlock extends BlockBase {
  readonly kind: 'formula';
  readonly purpose?: string;
  readonly given: readonly OwnGiven[];
  readonly steps: readonly OwnStep[];
  readonly checks: readonly OwnCheck[];
}

export type Block = CalcBlock | FormulaBlock;

/** A given that stands in a column of a table, with the unit in which its cells count, where the block says it. */
export interface ColumnSource {
  readonly given: string;
  readonly givenPlace: Place;
  readonly column: WrittenName;
  readonly unit?: WrittenName;
}

/** `yaml schedule`: one calculation over the rows of a table in a file of the project. */
export interface ScheduleBlock {
  readonly kind: 'schedule';
  readonly id: string;
  readonly idPlace: Place;
  readonly title?: string;
  /** The opening fence. */
  readonly place: Place;
  /** What all rows have in common, as the block that they would be without cells: calculation or base, givens, accepted cautions. */
  readonly common: CalcBlock;
  /** The file: a path in the project, with forward slashes. */
  readonly rows: WrittenName;
  /** The column with the name of each row; without it rows are known by their number. */
  readonly rowId?: WrittenName;
  /** The column with the case of each row; without it they have that of `common`. */
  readonly caseColumn?: WrittenName;
  readonly columns: readonly ColumnSource[];
  readonly columnsPlace: Place;
  readonly groupBy?: WrittenName;
  /** How many of the worst rows are set out in full. */
  readonly inFull: number;
  /** How many have a line in the table of the page; as many as its rule says where absent. */
  readonly inTable?: number;
}

/** `yaml comparison`: blocks of one calculation side by side. */
export interface ComparisonBlock {
  readonly title?: string;
  /** Ids of blocks, each once, at least two. */
  readonly of: readonly WrittenName[];
  /** The opening fence. */
  readonly place: Place;
}

/** A numbered mark on a picture, and what it says. */
export interface Callout {
  /** Fractions of the width and of the height of the picture, from its left and from its top. */
  readonly at: readonly [number, number];
  readonly text: string;
  /** The value that is measured there. */
  readonly given?: ProseValue;
  readonly place: Place;
}

export interface PhotoPicture {
  readonly address: string;
  readonly place: Place;
  readonly alt: string;
  readonly callouts: readonly Callout[];
}

/** `yaml photo`: a picture with call-outs, or two beside each other. */
export interface PhotoBlock {
  readonly pictures: readonly PhotoPicture[];
  readonly caption: string;
  /** Of all pictures together, in millimetres on paper. */
  readonly width?: number;
  /** The opening fence. */
  readonly place: Place;
}

export interface Assumption {
  readonly id: string;
  readonly text: string;
  readonly basis?: string;
  readonly state: 'confirmed' | 'to be confirmed';
  readonly owner?: string;
  readonly due?: string;
  readonly closedBy?: string;
  readonly place: Place;
}

/** An open point that blocks issue. */
export interface Hold {
  readonly id: string;
  readonly missing: string;
  readonly effect: string;
  readonly state: 'open' | 'closed';
  readonly owner?: string;
  readonly due?: string;
  readonly closedBy?: string;
  readonly place: Place;
}

export interface DocumentReference {
  readonly id: string;
  readonly title: string;
  readonly designation?: string;
  readonly edition?: string;
  readonly issuer?: string;
  readonly place: Place;
}

/** A value in the prose, `{{ block.name }}`; it stands in the tree as a node of type 'proseValue'. */
export interface ProseValue {
  readonly target: string;
  readonly place: Place;
}

/**
 * A note, read. Where the collector holds errors, keys that are missing or at fault are empty texts, so that the rest can
 * be examined all the same. In the tree, fenced YAML blocks of ours are replaced by nodes of type 'noteBlock' with `block` = the
 * block's id for calc, formula and schedule, or undefined with `kind` = 'comparison' | 'photo' | 'assumptions' | 'holds' | 'references'; values in the prose
 * by nodes of type 'proseValue' with `target`. The front matter is not in the tree.
 */
export interface NoteSource {
  /** Relative to the project, with forward slashes. */
  readonly path: string;
  readonly text: string;
  readonly frontMatter: FrontMatter;
  readonly tree: Root;
  /** The marked blocks as they stand in the text, those at fault too. */
  readonly pieces: readonly Piece[];
  readonly blocks: readonly Block[];
  readonly schedules: readonly ScheduleBlock[];
  readonly comparisons: readonly ComparisonBlock[];
  readonly photos: readonly PhotoBlock[];
  /** Ids of blocks with a fault that has been reported: what refers to them cannot be judged further. */
  readonly faultyBlocks: ReadonlySet<string>;
  readonly assumptions: readonly Assumption[];
  readonly holds: readonly Hold[];
  readonly references: readonly DocumentReference[];
  readonly proseValues: readonly ProseValue[];
  /** Images by the address written in the note; their files are checked and read by files/. */
  readonly images: readonly { readonly address: string; readonly place: Place }[];
}

declare module 'mdast' {
  interface NoteBlockNode extends Node {
    type: 'noteBlock';
    kind: 'calc' | 'formula' | 'schedule' | 'comparison' | 'photo' | 'assumptions' | 'holds' | 'references';
    /** Its key among the pieces of the note. */
    piece: string;
    block?: string;
    /** How many items a register holds as it is written. */
    items?: number;
  }
  interface ProseValueNode extends Node {
    type: 'proseValue';
    target: string;
  }
  interface RootContentMap {
    noteBlock: NoteBlockNode;
    proseValue: ProseValueNode;
  }
  interface PhrasingContentMap {
    proseValue: ProseValueNode;
  }
  interface BlockContentMap {
    noteBlock: NoteBlockNode;
  }
}
