import type { WordedCheck } from '../engine/definition/evaluated.ts';
import { compareUrgency } from '../evaluation/actions/action.ts';
import { findOpen, urgencyOf } from '../evaluation/actions/judge-urgency.ts';
import { findGoverning } from '../evaluation/actions/judge-variants.ts';
import { listActions } from '../evaluation/actions/list-actions.ts';
import { judgedCases, tallyVerdicts } from '../evaluation/tally-verdicts.ts';
import type { BlockCase } from '../source/note-source.ts';
import { CASES_IN_ORDER, caseTitle } from './case-titles.ts';
import { calculationId } from './ids.ts';
import type { NoteContext, NumberedBlock } from './note-context.ts';
import { listScheduleVerdicts } from './schedule/schedule-verdicts.ts';
import { viewVerdictRow } from './verdicts-view.ts';
import { wordTally } from './word-tally.ts';
import { capitalise } from './word-values.ts';

/** So many rows of what complies stand on the first page, beside everything that does not; at least one of each case. */
const ROOM = 7;
const LEAST_OF_A_CASE = 1;

/**
 * The verdicts that decide, case by case: all that are not met or cannot be judged, and of what complies the governing check of the
 * calculations about which there is an action or that carry one, and of those that come nearest to their limits, or every check where
 * there is room for all. Of alternatives, which nobody builds, the worst stands for all.
 *
 * @param withTallies whether the counts are not said elsewhere on the page
 */
export function viewDecisive(
  context: Pick<NoteContext, 'note' | 'blocks' | 'numbering' | 'words'>,
  withTallies: boolean,
) {
  const cases = listCases(context);
  const schedules = listScheduleVerdicts(context);
  const withAction = listBlocksOfActions(context.note);
  const made = cases.flatMap(({ blocks }) => blocks);
  const open = made.reduce((sum, one) => sum + openOf(one).length, 0);
  const hasRoomForAll = made.reduce((sum, { evaluated }) => sum + evaluated.checks.length, 0) <= ROOM;
  const room = Math.max(LEAST_OF_A_CASE, Math.floor((ROOM - open) / Math.max(1, cases.length)));
  const isSingle = cases.length === 1 && cases[0]!.case === undefined;
  return cases.map(({ case: ofCase, tally, blocks }) => {
    const rows =
      ofCase === 'alternative'
        ? everyRow(blocks).slice(0, 1)
        : hasRoomForAll
          ? everyRow(blocks)
          : chooseRows(blocks, room, withAction);
    const total = blocks.reduce((sum, { evaluated }) => sum + evaluated.checks.length, 0);
    return {
      head: capitalise(
        [isSingle ? '' : caseTitle(ofCase), withTallies || ofCase === 'alternative' ? tally : '']
          .filter((part) => part !== '')
          .join(': '),
      ),
      rows,
      schedules: schedules.filter((one) => one.case === ofCase),
      // What is not met stands above, so that all that is left is met.
      more: ofCase === 'alternative' ? 0 : total - rows.length,
      // Of alternatives some may be unmet that do not stand above: nothing is said of them here but where they are.
      elsewhere: ofCase === 'alternative' ? total - rows.length : 0,
      moreThanOne: total - rows.length > 1,
    };
  });
}

/** Whether each check of a note stands among the verdicts that decide, so that a table of all would say nothing more. */
export function showsEveryCheck(
  cases: ReturnType<typeof viewDecisive>,
  { blocks }: Pick<NoteContext, 'blocks'>,
): boolean {
  const shown = cases.reduce((sum, { rows }) => sum + rows.length, 0);
  return shown === blocks.reduce((sum, { evaluated }) => sum + evaluated.checks.length, 0);
}

/** The cases in which checks are made, each with what the one tally says of it. */
export function listCases({ note, blocks }: Pick<NoteContext, 'note' | 'blocks'>): readonly {
  readonly case: BlockCase | undefined;
  readonly tally: string;
  readonly blocks: readonly NumberedBlock[];
}[] {
  const tallies = tallyVerdicts(judgedCases(note));
  return CASES_IN_ORDER.flatMap((ofCase) => {
    const found = tallies.find((one) => one.case === ofCase);
    const tally = found ? wordTally(found) : '';
    if (tally === '') return [];
    return [{ case: ofCase, tally, blocks: blocks.filter((block) => block.case === ofCase) }];
  });
}

function openOf({ evaluated }: NumberedBlock): readonly WordedCheck[] {
  return findOpen(evaluated.checks);
}

/** Every check, those that are open first, the most urgent of them foremost. */
function everyRow(blocks: readonly NumberedBlock[]) {
  const isOpen = (one: NumberedBlock, check: WordedCheck) => openOf(one).includes(check);
  const all = blocks.flatMap((one) => one.evaluated.checks.map((check) => ({ one, check })));
  return [
    ...all
      .filter(({ one, check }) => isOpen(one, check))
      .sort((a, b) => compareUrgency(urgencyOf(a.check), urgencyOf(b.check))),
    ...all
      .filter(({ one, check }) => !isOpen(one, check))
      .sort((a, b) => marginOf(a.check) - marginOf(b.check)),
  ].map(({ one, check }) => viewRow(one, check));
}

function chooseRows(blocks: readonly NumberedBlock[], room: number, withAction: ReadonlySet<string>) {
  const open = blocks.flatMap((one) => openOf(one).map((check) => viewRow(one, check)));
  const complying = blocks
    .filter((one) => openOf(one).length === 0)
    .flatMap((one) => {
      const { checks } = one.evaluated;
      const governing = findGoverning(checks) ?? checks[0];
      return governing ? [{ one, governing }] : [];
    })
    .sort((a, b) => marginOf(a.governing) - marginOf(b.governing));
  const asked = complying.filter(({ one }) => withAction.has(one.id));
  const nearest = complying.slice(0, LEAST_OF_A_CASE);
  const certain = new Set([...asked, ...nearest]);
  const others = complying.filter((row) => !certain.has(row)).slice(0, Math.max(0, room - certain.size));
  const shown = new Set([...certain, ...others]);
  return [
    ...open,
    ...complying.filter((row) => shown.has(row)).map(({ one, governing }) => viewRow(one, governing)),
  ];
}

/** The calculations about which there is an action, those that carry one, and the variants that remedy what is found. */
function listBlocksOfActions(note: NoteContext['note']): ReadonlySet<string> {
  return new Set([
    ...note.blocks.filter(({ source }) => source.action).map(({ id }) => id),
    ...listActions(note).flatMap(({ block, variants }) => [block.id, ...variants.map((one) => one.block.id)]),
  ]);
}

function marginOf({ margin }: WordedCheck): number {
  return margin?.of === 'limit' ? margin.value : Number.POSITIVE_INFINITY;
}

function viewRow({ id, number, title }: NumberedBlock, check: WordedCheck) {
  return { ...viewVerdictRow(id, check), calculation: { id: calculationId(id), number, title } };
}
