import type {
  EvaluatedCheck,
  EvaluatedGiven,
  EvaluatedLimiting,
  EvaluatedStep,
} from '../engine/definition/evaluated.ts';
import type { ResultValue } from '../engine/definition/value.ts';
import type { EvaluatedBlock, EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { escapeHtml } from './escape-html.ts';
import { fitMath, STEP_EM, TEXT_EM } from './fit-math.ts';
import { calculationId, checkId } from './ids.ts';
import { link, linkPhrases } from './link-phrases.ts';
import { basisHtml, type ReferenceList } from './reference-list.ts';
import { mathHtml } from './set-math.ts';
import {
  actualRelation,
  capitalise,
  isToBeNoticed,
  printGiven,
  printResult,
  RELATIONS_TEX,
} from './word-values.ts';

/** What the views of one note share. */
export interface NoteContext {
  readonly note: EvaluatedNote;
  readonly project: ProjectSource;
  readonly references: ReferenceList;
}

/** Where a value comes from, as HTML; `missing` where nobody says. */
export interface SourceView {
  readonly html: string;
  readonly missing: boolean;
}

export function viewCalculation(context: NoteContext, block: EvaluatedBlock) {
  const { evaluated } = block;
  return {
    id: calculationId(block.id),
    purpose: evaluated.purpose,
    givens: evaluated.givens.map((given) => viewGiven(context, given)),
    steps: evaluated.steps.map((step) => viewStep(context, step)),
    checks: evaluated.checks.map((check) => viewCheck(context, block, check)),
    limiting: evaluated.limiting.map((limiting) => viewLimiting(limiting, evaluated.checks)),
    cautions: viewCautions(context, block),
  };
}

export function viewGiven(context: NoteContext, given: EvaluatedGiven) {
  return {
    name: given.name,
    symbol: mathHtml(given.symbol),
    meaning: given.meaning,
    lines: printGiven(given),
    source: viewSource(context, given),
  };
}

export function viewSource(context: NoteContext, given: EvaluatedGiven): SourceView {
  const named = given.source === undefined ? '' : linkPhrases(given.source, context.references.phrases);
  if (given.origin === 'default')
    return { html: `default value${named ? `: ${named}` : ''}`, missing: !named };
  if (given.origin === 'reference' || given.origin === 'formula') {
    const written = writtenHtml(context, given.written ?? '');
    const lead = given.origin === 'reference' ? 'from' : 'computed:';
    return { html: `${lead} ${written}${named ? `; ${named}` : ''}`, missing: false };
  }
  return { html: named, missing: !named };
}

/** The text of a reference or formula; the names of blocks in it lead to their calculations. */
function writtenHtml({ note, project }: NoteContext, written: string): string {
  const text = written.replace(/^!(?:ref|formula)\s+/, '').replace(/^"(.*)"$/s, '$1');
  return text
    .split(/([A-Za-z][\w-]*(?:\.[\w-]+)+)/)
    .map((part, i) => (i % 2 === 0 ? escapeHtml(part) : targetHtml(note, project, part)))
    .join('');
}

function targetHtml(note: EvaluatedNote, project: ProjectSource, target: string): string {
  const [block, ...names] = target.split('.');
  const index = note.blocks.findIndex(({ id }) => id === block);
  if (index >= 0)
    return `${link(calculationId(block!), `calculation ${index + 1}`)}, <code>${escapeHtml(names.join('.'))}</code>`;
  const item = [...project.itemTitles].find(([path]) => target === path || target.startsWith(`${path}.`));
  const source = note.usedRegister.get(target)?.source;
  const title = item ? `${item[1]}, ${target.slice(item[0].length + 1)}` : target;
  return `register: ${escapeHtml(title)}${source ? `; ${escapeHtml(source)}` : ''}`;
}

interface LineView {
  readonly html: string;
  /** Set off from what stands before it on the line; goes to the next line as a whole. */
  readonly result: string;
  readonly size: string;
}

function viewStep(context: NoteContext, step: EvaluatedStep) {
  return {
    symbol: mathHtml(step.symbol),
    meaning: capitalise(step.meaning),
    basis: basisHtml(step.basis, context.references),
    lines: stepLines(step),
    origin: step.origin ?? '',
    units: unitsHtml(step),
    note: step.note ?? '',
  };
}

function stepLines({ formulaTex, numbersTex, result }: EvaluatedStep): LineView[] {
  const shown = resultHtml(result);
  const lines: LineView[] = [formulaTex, numbersTex]
    .filter((tex) => tex !== '')
    .map((tex) => ({ ...fitMath(`{=}\\;${tex}`, STEP_EM), result: '' }));
  const last = lines.pop();
  return [...lines, last ? { ...last, result: shown } : { html: '', result: shown, size: '' }];
}

function resultHtml(result: ResultValue): string {
  if (result.type === 'number') return mathHtml(`{=}\\;${result.displayed.tex}`);
  if (result.type === 'list') {
    return mathHtml(`{=}\\;${result.items.map((item) => item.displayed.tex).join(';\\; ')}`);
  }
  const words = `<span class="words">${escapeHtml(printResult(result))}</span>`;
  return result.type === 'choice' ? `${mathHtml('{=}\\;')}${words}` : words;
}

function unitsHtml({ numericUnits }: EvaluatedStep): string {
  return (numericUnits ?? [])
    .map(({ tex, unit }) => `${mathHtml(tex)} ${unit === '' ? 'as a number' : `in ${escapeHtml(unit)}`}`)
    .join(', ');
}

function viewCheck(context: NoteContext, block: EvaluatedBlock, check: EvaluatedCheck) {
  const requirement = fitMath(
    `${check.valueTex} ${RELATIONS_TEX[check.relation]} ${check.limitTex}`,
    TEXT_EM,
  );
  return {
    id: checkId(block.id, check.name),
    criterion: check.criterion,
    isRecommendation: check.force === 'recommendation',
    basis: basisHtml(check.basis, context.references),
    requirement: requirement.html,
    size: requirement.size,
    comparison: comparisonHtml(check),
    verdict: check.verdict,
    atLimit: check.atLimit,
    noticed: isToBeNoticed(check.verdict),
    missing: check.missing.map((name) => ({ html: missingHtml(name) })),
    remedies: check.remedies,
    overRange: check.overRange?.sentence ?? '',
  };
}

function comparisonHtml(check: EvaluatedCheck): string {
  const { value, limit } = check;
  if (value?.type === 'number' && limit?.type === 'number') {
    return mathHtml(`${value.displayed.tex} ${actualRelation(check)} ${limit.displayed.tex}`);
  }
  return [oneSideHtml(check.valueTex, value), oneSideHtml(check.limitTex, limit)]
    .filter((side) => side !== '')
    .join('; ');
}

/** What is known of a comparison that cannot be made: the symbol with its value, or the words in place of a number. */
function oneSideHtml(tex: string, side: ResultValue | undefined): string {
  if (side === undefined) return '';
  if (side.type === 'number')
    return tex === side.displayed.tex ? '' : mathHtml(`${tex} = ${side.displayed.tex}`);
  return `${mathHtml(tex)}: <span class="words">${escapeHtml(printResult(side))}</span>`;
}

/** What is missing is told by its name, or by a symbol where it has one. */
function missingHtml(name: string): string {
  return /[\\{}^]/.test(name) ? mathHtml(name) : `<code>${escapeHtml(name)}</code>`;
}

function viewLimiting(limiting: EvaluatedLimiting, checks: readonly EvaluatedCheck[]) {
  const check = checks.find(({ name }) => name === limiting.check);
  return {
    symbol: mathHtml(limiting.symbol),
    meaning: limiting.meaning,
    criterion: check?.criterion ?? limiting.check,
    value: `${limiting.result.type === 'number' ? (limiting.seek === 'largest' ? 'at most ' : 'at least ') : ''}${printResult(limiting.result)}`,
  };
}

function viewCautions({ project, references }: NoteContext, { evaluated, accepted }: EvaluatedBlock) {
  return evaluated.cautions.map(({ id, text, basis }) => {
    const acceptance = accepted.find(({ caution }) => caution === id);
    const person = project.people.find(({ key }) => key === acceptance?.by);
    return {
      text,
      basis: basis ? basisHtml(basis, references) : '',
      acceptance: acceptance ? { by: person?.name ?? acceptance.by, reason: acceptance.reason } : null,
    };
  });
}
