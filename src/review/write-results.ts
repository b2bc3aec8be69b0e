import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { MapEntry, SourceNode } from '../source/source-node.ts';
import { ENGLISH } from '../words/words.ts';
import { recordBlock } from './record-block.ts';
import { recordTaken } from './record-taken.ts';
import { mapNode, type RecordedNode, textNode } from './recorded-node.ts';
import { saysSame, wordNumber } from './recorded-number.ts';

/** The file of recorded results that belongs to a note: '003-intake.md' -> '003-intake.results.yaml'. */
export function resultsPath(notePath: string): string {
  return notePath.replace(/\.md$/, '.results.yaml');
}

/** What a file of recorded results holds so far. */
export interface RecordedResults {
  readonly text: string;
  readonly node: SourceNode;
}

/**
 * The recorded results of a note as text: everything in the order of the document, one fact a line. Each block is an entry of its own
 * at the beginning of a line, `block tx1-as-found:`, which git takes for the heading of every hunk below it.
 *
 * @param recorded what the file holds so far: a number that has not moved beyond the tolerance keeps its text
 * @param form of the file: that in which it stands, so that only what changed differs, or the present one; up to version 0.4.0 all blocks
 *   stood in one entry
 */
export function writeResults(
  note: EvaluatedNote,
  digest: string,
  recorded: RecordedResults | undefined,
  form: 'as it stands' | 'present' = 'as it stands',
): string {
  const old = recorded?.node;
  const gathered = entryOf(old, 'blocks');
  const blocks = note.blocks.map((block) => [block.id, recordBlock(block)] as const);
  if (gathered?.type === 'map' && form === 'as it stands')
    return writeTree(note, digest, old, [['blocks', mapNode(blocks)]]);
  const entries = blocks.map(([id, node]) => [`block ${id}`, node] as const);
  return writeTree(note, digest, gathered ? spreadOut(old!, gathered) : old, entries);
}

/** Recorded results as far as they are results. */
export function withoutDigest(results: string): string {
  return results.replace(/^source_sha256: .*$/m, '');
}

function writeTree(
  note: EvaluatedNote,
  digest: string,
  recorded: SourceNode | undefined,
  blocks: readonly (readonly [string, RecordedNode])[],
): string {
  const { number, revision } = note.source.frontMatter;
  const node = mapNode([
    ['note', textNode(number)],
    ['revision', textNode(revision)],
    ['from', recordTaken(note)],
    ...blocks,
    ['source_sha256', textNode(digest)],
  ]);
  const lines = ['# Recorded results, written by surgenote compile: change the note and compile again.'];
  writeNode(node, recorded, '', lines);
  return `${lines.join('\n')}\n`;
}

/** A tree in the earlier form as the present one has it. */
function spreadOut(node: SourceNode, blocks: SourceNode): SourceNode {
  if (node.type !== 'map' || blocks.type !== 'map') return node;
  const entries = blocks.entries.map((entry) => ({ ...entry, key: `block ${entry.key}` }));
  return { ...node, entries: [...node.entries, ...entries] };
}

/** The lines of a tree of facts, without what is recorded so far. */
export function wordTree(node: RecordedNode): string[] {
  const lines: string[] = [];
  writeNode(node, undefined, '', lines);
  return lines;
}

function writeNode(node: RecordedNode, old: SourceNode | undefined, indent: string, lines: string[]): void {
  if (node.type === 'map') {
    for (const [key, value] of node.entries) {
      const before = entryOf(old, key);
      if (isLeaf(value)) lines.push(`${indent}${quote(key)}: ${wordLeaf(value, before)}`);
      else {
        lines.push(`${indent}${quote(key)}:`);
        writeNode(value, before, `${indent}  `, lines);
      }
    }
  } else if (node.type === 'list') {
    for (const [i, item] of node.items.entries()) {
      const inside: string[] = [];
      const before = old?.type === 'list' ? old.items[i] : undefined;
      if (isLeaf(item)) inside.push(`${indent}  ${wordLeaf(item, before)}`);
      else writeNode(item, before, `${indent}  `, inside);
      // The mark of the item stands in the indentation of its first line.
      lines.push(
        ...inside.map((line, j) => (j === 0 ? `${indent}- ${line.slice(indent.length + 2)}` : line)),
      );
    }
  }
}

type Leaf = Extract<RecordedNode, { type: 'text' | 'sentence' | 'number' }>;

function isLeaf(node: RecordedNode): node is Leaf {
  return node.type !== 'map' && node.type !== 'list';
}

function wordLeaf(leaf: Leaf, old: SourceNode | undefined): string {
  if (leaf.type === 'text') return quote(leaf.text);
  // Records are in English, whatever the language of the page: so they can be compared.
  if (leaf.type === 'sentence') return quote(ENGLISH.word(leaf.sentence));
  return old?.type === 'scalar' && saysSame(old.text, leaf.number) ? old.text : wordNumber(leaf.number);
}

function entryOf(node: SourceNode | undefined, key: string): SourceNode | undefined {
  return node?.type === 'map' ? node.entries.find((entry: MapEntry) => entry.key === key)?.value : undefined;
}

/** What other readers of YAML would take for something else than a text. */
const NOT_A_TEXT = /^(?:true|false|yes|no|on|off|y|n|null|~|[-+.]?\d[\d_.,:eExXoO+-]*|[-+]?\.(?:inf|nan))$/i;

/** Plain where YAML reads it as the text that it is, else in double quotes. */
function quote(text: string): string {
  const plain =
    /^[A-Za-z0-9.+-][^\p{C}\u2028\u2029]*$/u.test(text) && !/: |:$| #|\s$|^[-?] |^-$|^-{3}|^\.{3}/.test(text);
  return plain && !NOT_A_TEXT.test(text) ? text : JSON.stringify(text).replace(UNSEEN, spell);
}

/** What JSON leaves as it is and nobody sees: other controls, other ends of lines, turns of the direction of writing. */
const UNSEEN = /[\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]/g;

function spell(character: string): string {
  return `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`;
}
