import type { WordedCheck } from '../../engine/definition/evaluated.ts';
import type { WordedBlock, WordedNote } from '../evaluated-note.ts';
import { listReferences } from '../list-references.ts';
import type { VariantOutcome } from './action.ts';
import { isOpen } from './judge-urgency.ts';

/** The proposed variants of a block, however many steps they are from it, and what comes of each. */
export function judgeVariants(
  base: WordedBlock,
  findings: readonly WordedCheck[],
  { blocks }: Pick<WordedNote, 'blocks'>,
): readonly VariantOutcome[] {
  const byId = new Map(blocks.map((block) => [block.id, block]));
  const wanted = new Set(findings.map(({ name }) => name));
  return blocks
    .filter((block) => block.case === 'proposed' && restsOn(block, base.id, byId))
    .map((block) => withWhatGoverns(judgeVariant(block, wanted), blocks));
}

function withWhatGoverns(outcome: VariantOutcome, blocks: readonly WordedBlock[]): VariantOutcome {
  const found = listDependents(outcome.block, blocks).flatMap((block) => {
    const check = findGoverning(block.evaluated.checks.filter(({ force }) => force === 'requirement'));
    return check ? [{ block, check }] : [];
  });
  const own = outcome.governing?.margin?.value ?? Number.POSITIVE_INFINITY;
  const [least] = found
    .filter(({ check }) => check.margin!.value < own)
    .sort((a, b) => a.check.margin!.value - b.check.margin!.value);
  return least ? { ...outcome, governedBy: least } : outcome;
}

/** The proposed calculations that take a value over from a block, or from one that does. */
function listDependents({ id }: WordedBlock, blocks: readonly WordedBlock[]): readonly WordedBlock[] {
  const reached = new Set([id]);
  const proposed = blocks.filter((block) => block.case === 'proposed' && block.id !== id);
  const leadsOn = ({ source }: WordedBlock) =>
    listReferences(source.given).some(({ target }) => reached.has(target.split('.')[0]!));
  for (let before = 0; before < reached.size; ) {
    before = reached.size;
    for (const block of proposed) if (leadsOn(block)) reached.add(block.id);
  }
  return proposed.filter((block) => reached.has(block.id));
}

function restsOn(block: WordedBlock, base: string, byId: ReadonlyMap<string, WordedBlock>): boolean {
  // The chain of bases has no circle: one is refused before anything is evaluated.
  for (let one = basedOn(block); one !== undefined; one = basedOn(byId.get(one))) {
    if (one === base) return true;
  }
  return false;
}

function basedOn(block: WordedBlock | undefined): string | undefined {
  return block?.source.kind === 'calc' ? block.source.basedOn?.name : undefined;
}

function judgeVariant(block: WordedBlock, wanted: ReadonlySet<string>): VariantOutcome {
  const { checks } = block.evaluated;
  const asked = checks.filter(({ force, name }) => force === 'requirement' || wanted.has(name));
  const verdict = asked.some((check) => isOpen(check) && check.verdict !== 'cannot-be-judged')
    ? 'does-not-comply'
    : asked.length === 0 || asked.some(isOpen)
      ? 'cannot-be-judged'
      : 'complies';
  return { block, verdict, governing: findGoverning(asked) };
}

/** Of checks that have a margin the one with the least; a count that is met says nothing of how near a limit is. */
export function findGoverning(checks: readonly WordedCheck[]): WordedCheck | undefined {
  const known = checks.filter((check) => check.margin?.of === 'limit' && !(check.counts && !isOpen(check)));
  return known.sort((a, b) => a.margin!.value - b.margin!.value)[0];
}
