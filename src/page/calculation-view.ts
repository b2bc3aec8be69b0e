import type { WordedCheck, WordedLimiting } from '../engine/definition/evaluated.ts';
import { say } from '../words/sentence.ts';
import type { Words } from '../words/words.ts';
import { wordCaseBeside } from './case-titles.ts';
import { viewChecks } from './check-view.ts';
import { viewGiven } from './given-view.ts';
import { calculationId } from './ids.ts';
import { texHtml } from './math/set-math.ts';
import type { BlockContext, ShownBlock } from './note-context.ts';
import { basisHtml } from './reference-list.ts';
import { viewSteps } from './steps-view.ts';
import { textHtml } from './text-html.ts';
import { splitGivens } from './unchanged-givens.ts';
import { capitalise, DASH, printResultOrDash } from './word-values.ts';

/**
 * A calculation as it stands in the text. What it is for, givens that do not change, and cautions word for word the same are
 * set out at the first of its kind.
 */
export function viewCalculation(context: BlockContext, block: ShownBlock) {
  const { evaluated } = block;
  const first = evaluated.purpose === '' ? undefined : context.firstFor(evaluated.purpose);
  const earlier = first?.id === block.id ? undefined : first;
  const { own, elsewhere } = splitGivens(context, block);
  const views = own.map((given) => viewGiven(context, given));
  return {
    id: calculationId(block.id),
    block: block.id,
    ofCase: wordCaseBeside(block.title, block.case),
    purpose: evaluated.purpose,
    sameAs: earlier ? viewEarlier(context, earlier) : null,
    givens: views.filter(({ table }) => !table),
    // A table stands for itself, with its source.
    tables: views.filter(({ table }) => table),
    unchanged: [...elsewhere].map(([other, givens]) => ({
      ...linkOf(context, other),
      givens: givens.map((given) => viewGiven(context, given)),
    })),
    ...viewSteps(context, block, earlier),
    ...viewChecks(context, block),
    ranged: evaluated.checks.some(({ overRange }) => overRange),
    limiting: evaluated.limiting.map((limiting) => viewLimiting(limiting, evaluated.checks, context.words)),
    judgedBy: evaluated.limiting.length === 0 ? [] : viewJudgedBy(context, block.id),
    ...viewCautions(context, block),
  };
}

function viewEarlier(context: BlockContext, { id }: ShownBlock) {
  const name = context.nameOf(id) ?? '';
  return { id: calculationId(id), name, heading: capitalise(name) };
}

/** 'at most 26.7 kA' as HTML, which may be broken before its number alone. */
function limitingHtml({ result, seek }: WordedLimiting, words: Words): string {
  const shown = textHtml(printResultOrDash(result));
  if (result.type !== 'number') return shown;
  return `${textHtml(words.word(say(`limiting.${seek}`, {})))} <span class="whole">${shown}</span>`;
}

/** A limiting value, with what governs it. */
export function viewLimiting(limiting: WordedLimiting, checks: readonly WordedCheck[], words: Words) {
  const criterionOf = (name: string) => checks.find((check) => check.name === name)?.criterion ?? name;
  return {
    symbol: texHtml(limiting.symbol),
    meaning: limiting.meaning,
    governing: limiting.governing?.words ?? DASH,
    unjudged: limiting.unjudged.map(criterionOf).join('; '),
    value: limitingHtml(limiting, words),
  };
}

/** The calculations whose checks may narrow the limiting values of one. */
export function viewJudgedBy(context: BlockContext, block: string, except: ReadonlySet<string> = new Set()) {
  return context
    .judgedBy(block)
    .filter((id) => !except.has(id))
    .map((id) => linkOf(context, id));
}

/**
 * Its cautions. One that several calculations have is told once, at the first of them with the others named, and again only where
 * somebody accepted it.
 */
function viewCautions(context: BlockContext, { id: block, evaluated, accepted }: ShownBlock) {
  const acceptanceOf = (id: string) => accepted.find(({ caution }) => caution === id);
  const told = evaluated.cautions.map((caution) => {
    const first = context.firstCautioned(caution.text) ?? block;
    return { caution, first, others: first === block ? context.cautionedBy(caution.text).slice(1) : [] };
  });
  const own = told.filter(({ caution, first }) => first === block || acceptanceOf(caution.id));
  const elsewhere = told.filter((one) => !own.includes(one)).map(({ first }) => first);
  return {
    cautions: own.map(({ caution, others }) => ({
      ...viewCaution(context, caution, acceptanceOf(caution.id)),
      others: others.map((other) => linkOf(context, other)),
    })),
    elsewhere: [...new Set(elsewhere)].map((other) => linkOf(context, other)),
  };
}

/** The words of a caution, and by whom it is accepted. */
export function viewCaution(
  context: BlockContext,
  { text, basis }: ShownBlock['evaluated']['cautions'][number],
  acceptance: ShownBlock['accepted'][number] | undefined,
) {
  const person = context.project.people.find(({ key }) => key === acceptance?.by);
  return {
    text,
    basis: basis ? basisHtml(basis, context) : '',
    acceptance: acceptance ? { by: person?.name ?? acceptance.by, reason: acceptance.reason } : null,
  };
}

export function linkOf(context: BlockContext, block: string) {
  return { id: calculationId(block), name: context.nameOf(block)! };
}
