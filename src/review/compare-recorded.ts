import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { SourceNode } from '../source/source-node.ts';
import { type Fact, flattenFacts } from './compare-facts.ts';
import type { FactChange } from './comparison.ts';
import { recordBlock } from './record-block.ts';
import { saysSame, wordNumber } from './recorded-number.ts';

/** What is other than recorded of one block; `state` tells of one that is not recorded, or recorded and no longer there. */
export interface RecordedChange {
  readonly block: string;
  readonly state: 'changed' | 'added' | 'removed';
  /** Verdicts that turned stand before all else. */
  readonly facts: readonly FactChange[];
}

/**
 * Holds the results of a note as they are computed now against its file of recorded results, as far as that holds blocks. Numbers count
 * as the same where compiling would leave the recorded text as it stands.
 */
export function compareRecorded(note: EvaluatedNote, recorded: SourceNode | undefined): RecordedChange[] {
  const before = blocksOf(recorded);
  const ids = new Set(note.blocks.map(({ id }) => id));
  const gone = [...before.keys()].filter((id) => !ids.has(id));
  const changes = note.blocks.flatMap((block): RecordedChange[] => {
    const old = before.get(block.id);
    if (old === undefined) return [{ block: block.id, state: 'added', facts: [] }];
    const facts = compareBlock(flattenRecorded(old), flattenFacts(recordBlock(block)));
    return facts.length === 0 ? [] : [{ block: block.id, state: 'changed', facts }];
  });
  return [...changes, ...gone.map((block): RecordedChange => ({ block, state: 'removed', facts: [] }))];
}

/** Each block is an entry of its own, `block ID`; up to version 0.4.0 all stood in one entry. */
function blocksOf(recorded: SourceNode | undefined): ReadonlyMap<string, SourceNode> {
  if (recorded?.type !== 'map') return new Map();
  const gathered = recorded.entries.find(({ key }) => key === 'blocks')?.value;
  const entries = gathered?.type === 'map' ? gathered.entries : recorded.entries;
  const prefix = gathered?.type === 'map' ? '' : 'block ';
  return new Map(
    entries.flatMap(({ key, value }) =>
      key.startsWith(prefix) ? [[key.slice(prefix.length), value] as const] : [],
    ),
  );
}

function flattenRecorded(node: SourceNode, name = ''): Map<string, string> {
  const facts = new Map<string, string>();
  const take = (key: string | number, inner: SourceNode): void => {
    for (const fact of flattenRecorded(inner, name === '' ? String(key) : `${name}.${key}`))
      facts.set(...fact);
  };
  if (node.type === 'scalar') facts.set(name, node.text);
  else if (node.type === 'list') for (const [i, item] of node.items.entries()) take(i, item);
  else if (node.type === 'map') for (const { key, value } of node.entries) take(key, value);
  return facts;
}

function compareBlock(before: ReadonlyMap<string, string>, after: ReadonlyMap<string, Fact>): FactChange[] {
  const names = new Set([...after.keys(), ...before.keys()]);
  const changes = [...names].flatMap((name): FactChange[] => {
    const [old, fresh] = [before.get(name), after.get(name)];
    if (old !== undefined && fresh !== undefined && isRecorded(old, fresh)) return [];
    return [
      {
        name,
        ...(old === undefined ? {} : { before: old }),
        ...(fresh === undefined ? {} : { after: typeof fresh === 'string' ? fresh : wordNumber(fresh) }),
      },
    ];
  });
  const isVerdict = ({ name }: FactChange): boolean => /^checks\..*\.verdict$/.test(name);
  return [...changes.filter(isVerdict), ...changes.filter((change) => !isVerdict(change))];
}

function isRecorded(old: string, fresh: Fact): boolean {
  return typeof fresh === 'string' ? old === fresh : saysSame(old, fresh);
}
