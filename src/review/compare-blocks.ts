import type { EvaluatedGiven } from '../engine/definition/evaluated.ts';
import { targetsOf } from '../evaluation/caution-ranges-elsewhere.ts';
import type { EvaluatedBlock } from '../evaluation/evaluated-note.ts';
import { readOtherNoteTarget } from '../source/reference-target.ts';
import { ENGLISH } from '../words/words.ts';
import { compareChecks } from './compare-checks.ts';
import { compareFacts, type Facts, flattenFacts, isSameFact } from './compare-facts.ts';
import type { BlockChange, FactChange } from './comparison.ts';
import { describeBlock } from './describe-block.ts';
import { recordBlock } from './record-block.ts';
import type { RecordedNode } from './recorded-node.ts';
import { followedText, isToldOfRegister, markFollowing } from './trace-givens.ts';

/** A block in two states, as far as it is there. */
export interface BlockPair {
  readonly before: EvaluatedBlock | undefined;
  readonly after: EvaluatedBlock | undefined;
}

/** Which part of its givens two blocks of different names must share to be called one that was renamed. */
const LEAST_ALIKE = 0.6;

/**
 * Blocks of two states, paired by id; of the rest, those of one calculation that share most of their givens are one
 * that was renamed. In the order of the new state, what went last.
 */
export function pairBlocks(before: readonly EvaluatedBlock[], after: readonly EvaluatedBlock[]): BlockPair[] {
  const old = new Map(before.map((block) => [block.id, block]));
  const ids = new Set(after.map(({ id }) => id));
  const gone = before.filter(({ id }) => !ids.has(id));
  const come = after.filter(({ id }) => !old.has(id));
  const renamed = pairRenamed(gone, come);
  const taken = new Set(renamed.values());
  return [
    ...after.map((block) => ({ before: old.get(block.id) ?? renamed.get(block), after: block })),
    ...gone.filter((block) => !taken.has(block)).map((block) => ({ before: block, after: undefined })),
  ];
}

/** New block -> old block. The most alike first; of equals, the first of the document. */
function pairRenamed(
  gone: readonly EvaluatedBlock[],
  come: readonly EvaluatedBlock[],
): Map<EvaluatedBlock, EvaluatedBlock> {
  const pairs = come
    .flatMap((after) => gone.map((before) => ({ before, after, alike: likeness(before, after) })))
    .filter(({ alike }) => alike >= LEAST_ALIKE)
    .sort((a, b) => b.alike - a.alike);
  const renamed = new Map<EvaluatedBlock, EvaluatedBlock>();
  const taken = new Set<EvaluatedBlock>();
  for (const { before, after } of pairs) {
    if (renamed.has(after) || taken.has(before)) continue;
    renamed.set(after, before);
    taken.add(before);
  }
  return renamed;
}

/** The share of givens that are equal in both, of all that either has. */
function likeness(a: EvaluatedBlock, b: EvaluatedBlock): number {
  if (a.evaluated.calculation !== b.evaluated.calculation) return 0;
  const [before, after] = [partOf(a, 'given'), partOf(b, 'given')];
  const names = new Set([...before.keys(), ...after.keys()]);
  const equal = [...names].filter((name) => {
    const [x, y] = [before.get(name), after.get(name)];
    return x !== undefined && y !== undefined && isSameFact(x, y);
  });
  return names.size === 0 ? 0 : equal.length / names.size;
}

/** What changed in a block; undefined where nothing did. */
export function compareBlock({ before, after }: BlockPair): BlockChange | undefined {
  const block = after ?? before;
  if (!block) return undefined;
  const part = (name: string): FactChange[] => compareFacts(partOf(before, name), partOf(after, name));
  const sides = [before?.evaluated.givens, after?.evaluated.givens] as const;
  const bookkeeping = new Set(
    block.evaluated.steps.filter((step) => step.bookkeeping).map(({ name }) => name),
  );
  const change: BlockChange = {
    id: block.id,
    ...(before && after && before.id !== after.id ? { renamedFrom: before.id } : {}),
    state: !before ? 'added' : !after ? 'removed' : 'changed',
    calculation: block.evaluated.calculation,
    title: ENGLISH.word(block.title),
    given: part('given')
      .filter(({ name }) => !isToldOfRegister(...sides, name))
      .map((change) => markFollowing(markTaken(change, block), ...sides)),
    results: part('results').map((change) =>
      bookkeeping.has(change.name) ? { ...change, bookkeeping: true } : change,
    ),
    checks: compareChecks(before?.evaluated.checks ?? [], after?.evaluated.checks ?? [], (name) =>
      compareFacts(factsOfCheck(before, name), factsOfCheck(after, name)),
    ),
    limiting: part('limiting'),
    // The words of a caution repeat values that are compared already.
    cautions: compareFacts(cautionsOf(before), cautionsOf(after)).filter(
      (change) => change.before === undefined || change.after === undefined,
    ),
    wording: compareFacts(describeBlock(before), describeBlock(after)).filter(
      ({ name }) => !isToldElsewhere(name.replace(/^source of /, ''), ...sides),
    ),
  };
  return isChanged(change) ? change : undefined;
}

/** Says of a given that takes its value from other notes which these are. */
function markTaken(change: FactChange, block: EvaluatedBlock | undefined): FactChange {
  const given = block?.evaluated.givens.find(({ name }) => name === change.name.split('.')[0]);
  const numbers = given
    ? targetsOf(given).flatMap((target) => readOtherNoteTarget(target)?.number ?? [])
    : [];
  return numbers.length === 0 ? change : { ...change, takenFrom: [...new Set(numbers)] };
}

/** What is said of a value that comes from elsewhere, with its source, is told over there. */
function isToldElsewhere(
  name: string,
  before: readonly EvaluatedGiven[] | undefined,
  after: readonly EvaluatedGiven[] | undefined,
): boolean {
  return isToldOfRegister(before, after, name) || followedText(before, after, name) !== undefined;
}

function isChanged(change: BlockChange): boolean {
  const { state, renamedFrom, given, results, checks, limiting, cautions, wording } = change;
  const lists = [given, results, checks, limiting, cautions, wording];
  return state !== 'changed' || renamedFrom !== undefined || lists.some((list) => list.length > 0);
}

function partOf(block: EvaluatedBlock | undefined, name: string): Facts {
  return flattenFacts(block && entryOf(recordBlock(block), name));
}

function entryOf(node: RecordedNode, name: string): RecordedNode | undefined {
  return node.type === 'map' ? node.entries.find(([key]) => key === name)?.[1] : undefined;
}

function cautionsOf(block: EvaluatedBlock | undefined): Facts {
  return new Map((block?.evaluated.cautions ?? []).map(({ id, text }) => [id, ENGLISH.word(text)]));
}

function factsOfCheck(block: EvaluatedBlock | undefined, name: string): Facts {
  const checks = (block && entryOf(recordBlock(block), 'checks')) ?? NOTHING;
  return new Map([...flattenFacts(entryOf(checks, name))].filter(([fact]) => fact !== 'verdict'));
}

const NOTHING: RecordedNode = { type: 'map', entries: [] };
