import type { WordedCheck } from '../engine/definition/evaluated.ts';
import {
  compareUrgency,
  type NoteAction,
  type Urgency,
  type VariantOutcome,
} from '../evaluation/actions/action.ts';
import { differInUrgency, ONCE_DONE } from '../evaluation/actions/judge-urgency.ts';
import { findGoverning } from '../evaluation/actions/judge-variants.ts';
import { listActions } from '../evaluation/actions/list-actions.ts';
import { sayVerdict } from '../evaluation/word-calculation.ts';
import { wordCaseBeside } from './case-titles.ts';
import { calculationId, checkId } from './ids.ts';
import type { NoteContext } from './note-context.ts';
import { listScheduleActions, type ScheduleAction } from './schedule/schedule-actions.ts';
import { printJudged, printMargin, printResultOrDash } from './word-values.ts';

/** So many remedies of the calculation stand in the schedule; all of them stand with the check itself. */
const REMEDIES = 2;
const REMEDIES_BESIDE_LIMITS = 1;

/** For what state of things everything is met; empty where no check says so. */
function sayMet({ case: ofCase, evaluated }: Pick<NoteAction['block'], 'case' | 'evaluated'>): string {
  if (evaluated.checks.length === 0) return '';
  if (ofCase === 'proposed') return 'complies as calculated, once this is done';
  if (ofCase === 'as-found') return 'complies as found; no verdict requires this';
  return 'complies as described in this note';
}

/** Of what is proposed and falls short of recommendations only: what its requirements do once it is done, with the least margin. */
function sayRequirements({ block, urgency }: Pick<NoteAction, 'block' | 'urgency'>) {
  const requirements = block.evaluated.checks.filter(({ force }) => force === 'requirement');
  if (urgency.class !== ONCE_DONE.class) return { met: '' };
  return {
    met: `${requirements.length === 1 ? 'the requirement complies' : 'the requirements comply'} as calculated, once this is done`,
    least: findGoverning(requirements),
  };
}

type ActionContext = Pick<NoteContext, 'note' | 'words' | 'numberOf' | 'numbering'>;

/** The schedule of actions of a note, the most urgent first. */
export function viewActions(context: ActionContext) {
  return numberActions(listActionViews(context)).map(({ place, urgency, view }) => ({
    place,
    urgency,
    ...view,
  }));
}

/** What was found of rows of a schedule, with the worst verdict. */
interface RowsOutcome {
  readonly verdict: string;
  readonly isRecommendation: boolean;
  readonly counts: string;
}

/** One action as a row of the schedule, without its number there. */
export interface ActionView {
  readonly urgency: Urgency;
  readonly view: ReturnType<typeof viewAction>;
}

/** The actions of the calculations of a note, and of the rows of its schedules. */
export function listActionViews(context: ActionContext): readonly ActionView[] {
  return [
    ...listActions(context.note).map((action) => ({
      urgency: action.urgency,
      view: viewAction(action, context),
    })),
    ...listScheduleActions(context).map((action) => ({ urgency: action.urgency, view: viewRows(action) })),
  ];
}

/** The most urgent first, numbered; of the same urgency in the order given. */
export function numberActions<T extends ActionView>(
  actions: readonly T[],
): readonly (T & { readonly place: number })[] {
  return [...actions]
    .sort((a, b) => compareUrgency(a.urgency, b.urgency))
    .map((action, i) => ({ ...action, place: i + 1 }));
}

/** In what order several actions stand: of urgency, or, where all are as urgent as another, of the text. */
export function sayOrderOfActions(actions: readonly Pick<ActionView, 'urgency'>[]) {
  const isOrdered = differInUrgency(actions.map(({ urgency }) => urgency));
  return { byUrgency: actions.length > 1 && isOrdered, asInText: actions.length > 1 && !isOrdered };
}

function viewAction(action: NoteAction, { words, numberOf }: Pick<ActionContext, 'words' | 'numberOf'>) {
  const { block, findings, by, what, where, owner, due, proof } = action;
  const { met, least } =
    findings.length > 0
      ? sayRequirements(action)
      : { met: sayMet(block), least: findGoverning(block.evaluated.checks) };
  const said = what.map((text) => words.word(text));
  const room = action.limiting.length > 0 ? REMEDIES_BESIDE_LIMITS : REMEDIES;
  const isKnown = by === 'calculation';
  return {
    where: where === block.title ? '' : where,
    calculation: { ...linkTo(block.id, numberOf(block.id)!), title: block.title },
    ofCase: wordCaseBeside(block.title, block.case),
    outcome: undefined as RowsOutcome | undefined,
    findings: findings.map((check) => ({
      target: checkId(block.id, check.name),
      criterion: check.criterion,
      isRecommendation: check.force === 'recommendation',
      comparison: sayComparison(check),
      verdict: check.verdictInFull,
    })),
    what: isKnown ? said.slice(0, room) : said,
    further: isKnown && said.length > room,
    limiting: action.limiting.map(({ meaning, result }) => ({ meaning, value: printResultOrDash(result) })),
    variants: action.variants.map((one) => viewVariant(one, { words, numberOf })),
    met,
    metMargin: least ? printMargin(least) : '',
    owner: owner ?? '',
    due: due ?? '',
    proof: proof ?? '',
  };
}

function linkTo(block: string, number: string) {
  return { id: calculationId(block), number, name: `calculation ${number}` };
}

/** As the verdicts that decide have it, with the same digits. */
function sayComparison(check: WordedCheck): string {
  if (check.value === undefined || check.limit === undefined) return '';
  const { value, limit } = printJudged(check);
  return `${value} (${check.force === 'requirement' ? 'required' : 'recommended'} ${limit})`;
}

/** The rows of a schedule: what each needs stands in its table. */
function viewRows(action: ScheduleAction): ReturnType<typeof viewAction> {
  const { id, number, title, what, onceDone, limits, author } = action;
  const room = limits ? REMEDIES_BESIDE_LIMITS : REMEDIES;
  return {
    where: author?.where ?? '',
    calculation: { id, number, name: number.replace(/^S/, 's'), title },
    ofCase: wordCaseBeside(title, action.case),
    // The verdict stands before the row of the least margin, of which it need not be.
    outcome: {
      verdict: action.verdict,
      isRecommendation: action.isRecommendation,
      counts: action.outcome,
    },
    findings: [],
    what: [...(author?.what ?? what.slice(0, room)), ...onceDone, ...(limits ? [limits] : [])],
    further: !author && what.length > room,
    limiting: [],
    variants: [],
    met: '',
    metMargin: '',
    owner: author?.owner ?? '',
    due: author?.due ?? '',
    proof: author?.proof ?? '',
  };
}

function viewVariant(
  { block, verdict, governing, governedBy }: VariantOutcome,
  { words, numberOf }: Pick<ActionContext, 'words' | 'numberOf'>,
) {
  return {
    id: calculationId(block.id),
    number: numberOf(block.id)!,
    title: block.title,
    verdict: words.word(sayVerdict(verdict)),
    margin: governing && verdict !== 'cannot-be-judged' ? printMargin(governing) : '',
    governedBy: governedBy
      ? {
          id: checkId(governedBy.block.id, governedBy.check.name),
          number: numberOf(governedBy.block.id)!,
          title: governedBy.block.title,
          margin: printMargin(governedBy.check),
          verdict: governedBy.check.verdictInFull,
        }
      : null,
  };
}
