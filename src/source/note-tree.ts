import type { Root } from 'mdast';
import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import type { Place } from '../diagnostics/place.ts';
import type { BlockKind } from './block-kinds.ts';
import type { MapEntry, ScalarNode, SourceNode } from './source-node.ts';

/**
 * What stands in the text of a note, whatever its state: half typed, cut anywhere, at fault. It says nothing of what blocks
 * mean; what is at fault stands beside as data.
 */
export interface NoteTree {
  /** Relative to the project, with forward slashes. */
  readonly path: string;
  /** Without byte order mark; offsets count in it. */
  readonly text: string;
  /** Undefined where the text does not begin with one. */
  readonly frontMatter: FrontMatterPiece | undefined;
  /** The prose, with a node of type 'noteBlock' for each of the pieces. */
  readonly prose: Root;
  /** The marked blocks in the order of the text. */
  readonly pieces: readonly Piece[];
  /** Faults of the text around the pieces; those within a piece stand there. */
  readonly faults: readonly Diagnostic[];
  /** Nothing could be made of the text as a whole, and `faults` says why: it is empty, unmerged, too long, too deep. */
  readonly unreadable: boolean;
}

export interface FrontMatterPiece {
  /** The opening line. */
  readonly place: Place;
  readonly content: SourceNode;
  /** Whether a closing line was found; if not, it ends at the first blank line. */
  readonly closed: boolean;
  /** What `content` holds may be misread; then `faults` says why, or that it is not closed is reported. */
  readonly broken: boolean;
  readonly faults: readonly Diagnostic[];
}

/** A marked block as it stands in a note. Its places count from its beginning, so that it is the same wherever it stands. */
export interface Piece extends PieceText {
  /** Tells the blocks of a note apart: kind and id where it has one, else kind and number. */
  readonly key: string;
  /** Where it begins in the note now. */
  readonly start: number;
  readonly place: Place;
  /** What the YAML holds; where it is broken, what is left when the faulty lines are passed over. */
  readonly content: SourceNode;
  /** The YAML is not well-formed: `content` serves to know the block by, and not to calculate with. */
  readonly broken: boolean;
  readonly faults: readonly Diagnostic[];
  readonly head: PieceHead;
}

/** The text of a block. */
export interface PieceText {
  readonly kind: BlockKind;
  /** As it stands in the note, with its fences. */
  readonly text: string;
  /** What stands between the fences, without indentation or marks of the markdown around. */
  readonly yaml: string;
  /** Whether the fence is closed. */
  readonly closed: boolean;
}

/** What a block says of itself, even where its YAML is broken. */
export interface PieceHead {
  readonly id?: ScalarNode;
  readonly calculation?: ScalarNode;
  /** The givens with a name that can be read; a value at fault is an empty node marked as reported. */
  readonly given: readonly MapEntry[];
}

/**
 * Whether two pieces say the same of themselves: everything that is read of a block then is the same too.
 *
 * @internal
 */
export function samePiece(a: Piece, b: Piece): boolean {
  return (
    a.place.file === b.place.file &&
    a.key === b.key &&
    a.kind === b.kind &&
    a.closed === b.closed &&
    a.text === b.text &&
    a.yaml === b.yaml
  );
}
