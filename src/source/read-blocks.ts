import { Collector } from '../diagnostics/collector.ts';
import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import { hasErrors } from '../diagnostics/diagnostic.ts';
import type { Place } from '../diagnostics/place.ts';
import type { Memory } from '../memory/memory.ts';
import { type BlockKind, hasOwnId } from './block-kinds.ts';
import { checkMentions, type ListedIds } from './check-mentions.ts';
import type {
  Assumption,
  Block,
  ComparisonBlock,
  DocumentReference,
  Hold,
  PhotoBlock,
  ScheduleBlock,
} from './note-source.ts';
import type { NoteText } from './note-text.ts';
import type { NoteTree, Piece } from './note-tree.ts';
import { readAssumptions } from './read-assumptions.ts';
import { readCalcBlock } from './read-calc-block.ts';
import { readComparison } from './read-comparison.ts';
import { readFormulaBlock } from './read-formula-block.ts';
import { readHolds } from './read-holds.ts';
import { claimId } from './read-names.ts';
import { readPhoto } from './read-photo.ts';
import { readReferences } from './read-references.ts';
import { readScheduleBlock } from './read-schedule-block.ts';
import type { SourceNode } from './source-node.ts';

export interface NoteBlocks {
  readonly blocks: Block[];
  readonly schedules: ScheduleBlock[];
  readonly faultyBlocks: Set<string>;
  readonly assumptions: Assumption[];
  readonly comparisons: ComparisonBlock[];
  readonly photos: PhotoBlock[];
  readonly holds: Hold[];
  readonly references: DocumentReference[];
}

/** Reads what the marked blocks of a note mean. Of a block with broken YAML the faults are told, and that it is there. */
export function readBlocks(
  { frontMatter, prose, pieces }: NoteTree,
  note: NoteText,
  memory: Memory,
): NoteBlocks {
  const reader = new BlockReader(note.collector, memory);
  for (const piece of pieces) reader.read(piece);
  // When all blocks are read: the items may stand behind what mentions them.
  const front = frontMatter?.content;
  const summary = front?.type === 'map' ? front.entries.filter(({ key }) => key === 'summary') : [];
  const contents = [...summary.map(({ value }) => value), ...pieces.map(({ content }) => content)];
  checkMentions(prose, contents, reader.listed(), note);
  return reader.found;
}

/** What a block means, with the faults in its meaning. */
interface BlockReading {
  readonly block: Block | ScheduleBlock | undefined;
  readonly faults: readonly Diagnostic[];
}

const NOTHING_READ: BlockReading = { block: undefined, faults: [] };

const READERS = { calc: readCalcBlock, formula: readFormulaBlock, schedule: readScheduleBlock };

class BlockReader {
  readonly found: NoteBlocks = {
    blocks: [],
    schedules: [],
    comparisons: [],
    photos: [],
    faultyBlocks: new Set(),
    assumptions: [],
    holds: [],
    references: [],
  };
  readonly #collector: Collector;
  readonly #memory: Memory;
  readonly #blockIds = new Map<string, Place>();
  readonly #assumptionIds = new Map<string, Place>();
  readonly #holdIds = new Map<string, Place>();
  readonly #referenceIds = new Map<string, Place>();
  readonly #brokenLists = new Set<BlockKind>();

  constructor(collector: Collector, memory: Memory) {
    this.#collector = collector;
    this.#memory = memory;
  }

  listed(): ListedIds {
    const known = (kind: BlockKind, ids: ReadonlyMap<string, Place>) =>
      this.#brokenLists.has(kind) ? undefined : ids.keys();
    return {
      assumptions: known('assumptions', this.#assumptionIds),
      holds: known('holds', this.#holdIds),
    };
  }

  read(piece: Piece): void {
    // Faults of one block are gathered apart, so that it is known which blocks have some.
    const collector = new Collector();
    for (const fault of piece.faults) collector.add(fault);
    const { kind } = piece;
    if (hasOwnId(kind)) this.#readBlock(kind, piece, collector);
    else if (piece.broken) this.#brokenLists.add(piece.kind);
    else if (kind === 'comparison') this.#readComparison(piece, collector);
    else if (kind === 'photo') this.#readPhoto(piece, collector);
    else this.#readItems(piece, collector);
    this.#collector.addAll(collector);
  }

  /** One whose fence is not closed may hold prose: then that it is not closed is all that is said of it. */
  #readBlock(kind: keyof typeof READERS, piece: Piece, collector: Collector): void {
    const { content, broken, closed, place, head } = piece;
    const { id } = head;
    const isNew = !id || claimId(id.text, id.place, this.#blockIds, collector);
    const { block, faults } = broken ? NOTHING_READ : this.#readContent(kind, content, place);
    if (closed) for (const fault of faults) collector.add(fault);
    const isSound = !broken && !hasErrors(faults);
    if (block && isNew && (closed || isSound)) this.#keep(block);
    if ((!isSound || collector.hasErrors) && id) this.found.faultyBlocks.add(id.text);
  }

  #keep(block: Block | ScheduleBlock): void {
    if (block.kind === 'schedule') this.found.schedules.push(block);
    else this.found.blocks.push(block);
  }

  #readContent(kind: keyof typeof READERS, content: SourceNode, place: Place): BlockReading {
    return this.#memory.recall('block', `${kind} ${this.#memory.nameOf(content)}`, () => {
      const collector = new Collector();
      return { block: READERS[kind](content, place, collector), faults: collector.list() };
    });
  }

  #readComparison({ content, place, closed }: Piece, ofPiece: Collector): void {
    const collector = closed ? ofPiece : new Collector();
    const comparison = readComparison(content, place, collector);
    if (comparison && closed) this.found.comparisons.push(comparison);
  }

  #readPhoto({ content, place, closed }: Piece, ofPiece: Collector): void {
    const collector = closed ? ofPiece : new Collector();
    const photo = readPhoto(content, place, collector);
    if (photo && closed) this.found.photos.push(photo);
  }

  #readItems({ kind, content, closed }: Piece, ofPiece: Collector): void {
    const collector = closed ? ofPiece : new Collector();
    const { assumptions, holds, references } = this.found;
    if (kind === 'assumptions') assumptions.push(...readAssumptions(content, this.#assumptionIds, collector));
    if (kind === 'holds') holds.push(...readHolds(content, this.#holdIds, collector));
    if (kind === 'references') references.push(...readReferences(content, this.#referenceIds, collector));
  }
}
