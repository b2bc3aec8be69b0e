import type { WordedCheck, WordedGiven, WordedLimiting } from '../../engine/definition/evaluated.ts';
import type { BlockAction, TextWithValues } from '../../source/note-source.ts';
import { say, type Text } from '../../words/sentence.ts';
import type { WordedBlock, WordedNote } from '../evaluated-note.ts';
import {
  type AuthorAction,
  compareUrgency,
  type NoteAction,
  type Urgency,
  type VariantOutcome,
} from './action.ts';
import { findOpen, NOTHING_OPEN, ONCE_DONE, urgencyOf } from './judge-urgency.ts';
import { judgeVariants } from './judge-variants.ts';
import { meaningOfGiven } from './meaning-of-given.ts';

/**
 * What is to be done by a note, in order of urgency: for each calculation that stands for what is there or proposed, and of which a check is
 * not met or cannot be judged. The author's action counts, else that of a proposed variant which complies, else what the calculation
 * knows. Alternatives and auxiliary calculations ask for nothing: they compare or serve. An author's action on what is proposed comes before
 * recommendations, for its requirements are met only once that is done; one on another calculation that complies stands behind the others.
 */
export function listActions(note: WordedNote): readonly NoteAction[] {
  const actions = note.blocks
    .filter((block) => block.case !== 'alternative' && block.case !== 'auxiliary')
    .flatMap((block) => actionOf(block, note) ?? []);
  // The action of a variant that remedies something found is listed there, and not twice.
  const taken = new Set(
    actions.flatMap(({ by, variants }) => (by === 'variant' ? [variants.find(complies)!.block.id] : [])),
  );
  return actions
    .filter(({ findings, block }) => findings.length > 0 || !taken.has(block.id))
    .sort((a, b) => compareUrgency(a.urgency, b.urgency));
}

function actionOf(block: WordedBlock, note: WordedNote): NoteAction | undefined {
  const findings = findOpen(block.evaluated.checks);
  const { action } = block.source;
  const [first] = findings;
  if (!first) {
    if (!action) return undefined;
    return {
      ...{
        block,
        findings,
        urgency: urgencyOfAction(block, findings),
        by: 'author',
        limiting: [],
        variants: [],
      },
      ...authorsWords(action, block, note),
    };
  }
  const variants = block.case === 'as-found' ? judgeVariants(block, findings, note) : [];
  const base = {
    block,
    findings,
    urgency: action ? urgencyOfAction(block, findings) : urgencyOf(first),
    limiting: limitingFor(findings, block),
    variants,
  };
  const remedy = variants.find(complies);
  if (action) return authorsAction({ ...base, by: 'author', ...authorsWords(action, block, note) }, remedy);
  if (remedy) {
    const own = remedy.block.source.action;
    if (own) return authorsAction({ ...base, by: 'variant', ...authorsWords(own, block, note) }, remedy);
    return {
      ...base,
      limiting: [],
      by: 'variant',
      what: sayDifferences(block, remedy.block),
      where: block.title,
    };
  }
  const what = whatTheCalculationKnows(findings, block);
  const by = findings.every(({ verdict }) => verdict === 'cannot-be-judged') ? 'open' : 'calculation';
  return { ...base, by, what, where: block.title };
}

/** As urgent as the first of what is open; but of what is proposed and must be done, requirements rest on its being done. */
function urgencyOfAction(block: WordedBlock, [first]: readonly WordedCheck[]): Urgency {
  const open = first ? urgencyOf(first) : NOTHING_OPEN;
  const isRequired = block.evaluated.checks.some(({ force }) => force === 'requirement');
  return block.case === 'proposed' && isRequired ? moreUrgent(ONCE_DONE, open) : open;
}

const moreUrgent = (a: Urgency, b: Urgency): Urgency => (compareUrgency(a, b) <= 0 ? a : b);

/**
 * Limiting values of the arrangement that is found are none to build to where another is proposed, and where the author has said a size
 * they would stand beside it as a second one.
 */
function authorsAction(action: NoteAction, remedy: VariantOutcome | undefined): NoteAction {
  return remedy || action.what.some((text) => typeof text === 'string' && SIZE.test(text))
    ? { ...action, limiting: [] }
    : action;
}

/** A number that stands by itself with a unit behind it: '0.5 m' and '60 %', but not 'SA1'. */
const SIZE = /(?<![\p{L}\p{N}.,-])\d+(?:[.,]\d+)?[\s\u00a0\u202f]*[\p{L}Ω%]/u;

function complies({ verdict }: VariantOutcome): boolean {
  return verdict === 'complies';
}

function authorsWords(action: BlockAction, { title }: WordedBlock, note: WordedNote) {
  const { where = title, ...rest } = wordAction(action, note);
  return { ...rest, where };
}

/** An author's action with its values put in. */
export function wordAction(
  action: BlockAction,
  { proseTexts }: Pick<WordedNote, 'proseTexts'>,
): AuthorAction {
  const put = (text: TextWithValues): string =>
    text
      .map((part) => (typeof part === 'string' ? part : (proseTexts.get(part.target) ?? '')))
      .join('')
      .trim();
  return {
    what: [put(action.what)],
    ...(action.where ? { where: put(action.where) } : {}),
    ...(action.owner ? { owner: put(action.owner) } : {}),
    ...(action.due === undefined ? {} : { due: action.due }),
    ...(action.proof ? { proof: put(action.proof) } : {}),
  };
}

/** Limiting values at which everything that is not met is met: numbers alone, for words limit nothing. */
function limitingFor(
  findings: readonly WordedCheck[],
  { evaluated }: WordedBlock,
): readonly WordedLimiting[] {
  const notMet = findings.filter(({ verdict }) => verdict !== 'cannot-be-judged');
  if (notMet.length === 0) return [];
  return evaluated.limiting.filter(
    ({ result, checks }) => result.type === 'number' && notMet.every(({ name }) => checks.includes(name)),
  );
}

/** The remedies of the calculation, each once, and what must be found out before a check can be judged. */
function whatTheCalculationKnows(findings: readonly WordedCheck[], block: WordedBlock): readonly Text[] {
  const remedies = new Set(findings.flatMap((check) => check.remedies));
  const open = findings.filter(({ verdict }) => verdict === 'cannot-be-judged');
  const missing = new Set(open.flatMap((check) => check.missing));
  const names = [...missing].map((name) => meaningOfGiven(block, name));
  const inTheDark = open.filter((check) => check.missing.length === 0);
  return [
    ...remedies,
    ...(names.length > 0 ? [say('action.find-out', { what: names })] : []),
    ...inTheDark.map(({ criterion }) => say('action.judge-otherwise', { criterion })),
  ];
}

/** What a variant has otherwise than its base, given by given. */
function sayDifferences(base: WordedBlock, variant: WordedBlock): readonly Text[] {
  const before = new Map(base.evaluated.givens.map((given) => [given.name, given]));
  const after = new Map(variant.evaluated.givens.map((given) => [given.name, given]));
  const changed = [...after.values()].flatMap((given): Text[] => {
    const old = before.get(given.name);
    if (old && printOf(old) === printOf(given)) return [];
    const { meaning } = given;
    // A table is too much for a sentence, and stands with the calculation.
    if (given.table) return [say('action.other-rows', { meaning })];
    const now = wordsOf(given);
    return [
      old
        ? say('action.instead-of', { meaning, now, before: wordsOf(old) })
        : say('action.is-added', { meaning, now }),
    ];
  });
  const left = [...before.values()].filter(({ name }) => !after.has(name));
  return [...changed, ...left.map(({ meaning }) => say('action.is-left-out', { meaning }))];
}

/** A choice in the words of its definition. */
function wordsOf({ chosen, print }: WordedGiven): Text {
  return chosen?.words ?? print;
}

function printOf({ print, range }: WordedGiven): string {
  return `${print} ${range?.print ?? ''}`;
}
