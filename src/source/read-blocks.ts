import type { Code, NoteBlockNode, Parents, Root } from 'mdast';
import { SKIP, visit } from 'unist-util-visit';
import { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import { readFence } from './block-fence.ts';
import type { BlockKind } from './block-kinds.ts';
import { checkMentions } from './check-mentions.ts';
import { mapPlaces, type PlaceMap } from './map-places.ts';
import type { Assumption, Block, DocumentReference, Hold } from './note-source.ts';
import { type NoteText, placeOf } from './note-text.ts';
import { readAssumptions } from './read-assumptions.ts';
import { readCalcBlock } from './read-calc-block.ts';
import { readFormulaBlock } from './read-formula-block.ts';
import { readHolds } from './read-holds.ts';
import { claimId, writtenId } from './read-names.ts';
import { readReferences } from './read-references.ts';
import { readYaml } from './read-yaml.ts';
import type { SourceNode } from './source-node.ts';

export interface NoteBlocks {
  readonly blocks: Block[];
  readonly faultyBlocks: Set<string>;
  readonly assumptions: Assumption[];
  readonly holds: Hold[];
  readonly references: DocumentReference[];
}

/** Reads the marked blocks of a note, and puts a node of type 'noteBlock' in the place of each. */
export function readBlocks(tree: Root, note: NoteText): NoteBlocks {
  const reader = new BlockReader(note);
  visit(tree, 'code', (code, index, parent) => {
    const kind = readFence(code, note);
    if (!kind || index === undefined || !parent) return undefined;
    reader.read(kind, code, parent, index);
    return [SKIP, index];
  });
  reader.checkMentions(tree);
  return reader.found;
}

class BlockReader {
  readonly found: NoteBlocks = {
    blocks: [],
    faultyBlocks: new Set(),
    assumptions: [],
    holds: [],
    references: [],
  };
  readonly #note: NoteText;
  readonly #blockIds = new Map<string, Place>();
  readonly #assumptionIds = new Map<string, Place>();
  readonly #holdIds = new Map<string, Place>();
  readonly #referenceIds = new Map<string, Place>();

  readonly #contents: SourceNode[] = [];

  constructor(note: NoteText) {
    this.#note = note;
  }

  /** When all blocks are read: the items may stand behind what mentions them. */
  checkMentions(tree: Root): void {
    const listed = { assumptions: this.#assumptionIds.keys(), holds: this.#holdIds.keys() };
    checkMentions(tree, this.#contents, listed, this.#note);
  }

  read(kind: BlockKind, code: Code, parent: Parents, index: number): void {
    // Faults of one block are gathered apart, so that it is known which blocks have some.
    const collector = new Collector();
    const { node: content, broken } = readYaml(code.value, this.#places(code), collector);
    const place = placeOf(code, this.#note);
    const node: SourceNode = content.type === 'empty' ? { ...content, place } : content;
    this.#contents.push(node);
    const id = writtenId(node);
    if (kind === 'calc' || kind === 'formula') {
      const isNew = !id || claimId(id.text, id.place, this.#blockIds, collector);
      const read = kind === 'calc' ? readCalcBlock : readFormulaBlock;
      const block = broken ? undefined : read(node, place, collector);
      if (block && isNew) this.found.blocks.push(block);
      if (collector.hasErrors && id) this.found.faultyBlocks.add(id.text);
      replace(parent, index, { kind, ...(id ? { block: id.text } : {}) });
    } else {
      if (!broken) this.#readItems(kind, node, collector);
      replace(parent, index, { kind, items: node.type === 'list' ? node.items.length : 0 });
    }
    this.#note.collector.addAll(collector);
  }

  #places(code: Code): PlaceMap {
    const firstLine = code.position?.start.line ?? 1;
    return mapPlaces(this.#note.path, code.value, this.#note.lines, firstLine);
  }

  #readItems(kind: BlockKind, node: SourceNode, collector: Collector): void {
    const { assumptions, holds, references } = this.found;
    if (kind === 'assumptions') assumptions.push(...readAssumptions(node, this.#assumptionIds, collector));
    if (kind === 'holds') holds.push(...readHolds(node, this.#holdIds, collector));
    if (kind === 'references') references.push(...readReferences(node, this.#referenceIds, collector));
  }
}

function replace(parent: Parents, index: number, block: Omit<NoteBlockNode, 'type' | 'position'>): void {
  const position = parent.children[index]?.position;
  parent.children[index] = { type: 'noteBlock', ...block, ...(position ? { position } : {}) };
}
