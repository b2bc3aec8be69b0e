import type { Force } from '../engine/definition/definition.ts';
import type { Verdict } from '../engine/definition/evaluated.ts';
import type { BlockCase } from '../source/note-source.ts';
import type { EvaluatedNote } from './evaluated-note.ts';

/** What is counted: the checks of a block, or of a row of a schedule, under its case. */
export interface JudgedCase {
  readonly case?: BlockCase | undefined;
  readonly checks: readonly { readonly force: Force; readonly verdict: Verdict }[];
}

/** A case with verdicts of its own; undefined is what the note stands for. */
export type CountedCase = Exclude<BlockCase, 'auxiliary'> | undefined;

export interface VerdictCount {
  readonly verdict: Verdict;
  readonly count: number;
}

export interface ForceTally {
  readonly total: number;
  /** One for each verdict that the force knows, those of which there are none too. */
  readonly counts: readonly VerdictCount[];
}

export interface CaseTally {
  readonly case: CountedCase;
  /** Whether `--require complies` asks for it: what the note stands for, and what it proposes. */
  readonly required: boolean;
  readonly requirement: ForceTally;
  readonly recommendation: ForceTally;
}

/** In the order of a summary: what counts first. */
const COUNTED_CASES: readonly CountedCase[] = [undefined, 'proposed', 'alternative', 'as-found'];

const VERDICTS_OF = {
  requirement: ['complies', 'does-not-comply', 'cannot-be-judged'],
  recommendation: ['met', 'not-met', 'cannot-be-judged'],
} as const satisfies Record<Force, readonly Verdict[]>;

/** Whether a note is held to what a block of this case says. */
export function isRequiredCase(ofCase: BlockCase | undefined): boolean {
  return ofCase === undefined || ofCase === 'proposed';
}

/** What a note has to be counted: its blocks, and each row of its schedules. */
export function judgedCases({
  blocks,
  schedules,
}: Pick<EvaluatedNote, 'blocks' | 'schedules'>): JudgedCase[] {
  const rows = schedules.flatMap((schedule) => schedule.rows);
  return [...blocks.map((block) => ({ case: block.case, checks: block.evaluated.checks })), ...rows];
}

/**
 * The one count of verdicts: by case, force and verdict. What is auxiliary counts in none. A case without a block is left out; one whose
 * blocks make no check has counts of nought.
 */
export function tallyVerdicts(judged: Iterable<JudgedCase>): CaseTally[] {
  const all = [...judged];
  return COUNTED_CASES.flatMap((ofCase) => {
    const own = all.filter((one) => one.case === ofCase);
    if (own.length === 0) return [];
    const tally = countVerdicts(own.flatMap(({ checks }) => checks));
    return [{ case: ofCase, required: isRequiredCase(ofCase), ...tally }];
  });
}

function countVerdicts(checks: JudgedCase['checks']): Record<Force, ForceTally> {
  const ofForce = (force: Force): ForceTally => {
    const own = checks.filter((check) => check.force === force);
    const countOf = (verdict: Verdict) => own.filter((check) => check.verdict === verdict).length;
    return {
      total: own.length,
      counts: VERDICTS_OF[force].map((verdict) => ({ verdict, count: countOf(verdict) })),
    };
  };
  return { requirement: ofForce('requirement'), recommendation: ofForce('recommendation') };
}

/** Whether every requirement of what is required is met; one that cannot be judged is not. */
export function requirementsComply(tallies: readonly CaseTally[]): boolean {
  return tallies
    .filter(({ required }) => required)
    .every(({ requirement: { total, counts } }) =>
      counts.every(({ verdict, count }) => verdict !== 'complies' || count === total),
    );
}
