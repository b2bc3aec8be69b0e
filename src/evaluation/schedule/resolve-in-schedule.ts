import { nearestName } from '../../diagnostics/nearest-name.ts';
import { type Problem, problem } from '../../diagnostics/problem.ts';
import { quantity } from '../../quantity/quantity.ts';
import { PURE_UNIT } from '../../quantity/unit.ts';
import { type Resolution, resolveInBlock, type Target } from '../resolve-target.ts';
import type { DoneSchedule, RowBlock } from './evaluate-schedule.ts';
import type { EvaluatedSchedule, ScheduleRow } from './evaluated-schedule.ts';
import { governingCheck, orderRows, outcomeOf, type RowOutcome } from './order-rows.ts';
import { WORST } from './worst-row.ts';

/** What a reference names of a schedule: the value of a row. */
export interface RowTarget {
  readonly row: RowBlock;
  /** The id of the row's block, and the name in it. */
  readonly local: string;
}

/** Numbers of rows by the check that governs them; what is auxiliary counts in none. */
const COUNTS: Readonly<Record<string, RowOutcome | 'all'>> = {
  rows: 'all',
  complies: 'met',
  does_not_comply: 'unmet',
  cannot_be_judged: 'open',
};

/** What can be said of the worst row beside its values. */
const WORST_ROW = ['id', 'margin'] as const;

/**
 * Resolves what is named of a schedule: `boards.rows`, `boards.complies`, `boards.does_not_comply` and `boards.cannot_be_judged` are numbers
 * of rows; `boards.worst.id` and `boards.worst.margin` name the row that comes first when the worst is first, and its margin;
 * `boards.worst.NAME` and `boards.DB-07.NAME` are values of a row, as of a block.
 */
export function resolveInSchedule(target: string, schedule: DoneSchedule): Resolution {
  const { evaluated } = schedule;
  const [name, ...rest] = target.slice(evaluated.id.length + 1).split('.') as [string, ...string[]];
  if (rest.length === 0) return resolveCount(name, evaluated);
  const own = name === WORST && rest.length === 1 ? wordOfWorst(rest[0]!, evaluated) : undefined;
  if (own) return { ok: true, target: own };
  const found = rowTarget(target, schedule);
  return 'row' in found
    ? nameRow(resolveInBlock(found.local, found.row.done), found.row.done.id)
    : { ok: false, problem: found };
}

/** What is wrong with the name of a value is told of the row as a reference names it. */
function nameRow(resolution: Resolution, blockId: string): Resolution {
  if (resolution.ok || !resolution.problem) return resolution;
  const { code, data } = resolution.problem;
  if (code !== 'unknown-name' && code !== 'absent-name') return resolution;
  return { ok: false, problem: { code, data: { ...data, id: blockId.replace('/', '.') } } as Problem };
}

/** The row that a target names; a problem where there is none. */
export function rowTarget(target: string, { evaluated, rowOf }: DoneSchedule): RowTarget | Problem {
  const [name, ...rest] = target.slice(evaluated.id.length + 1).split('.') as [string, ...string[]];
  const id = name === WORST ? worstOf(evaluated).id : name;
  const row = rowOf(id);
  if (row) return { row, local: [row.done.id, ...rest].join('.') };
  const ids = evaluated.rows.map((one) => one.id);
  return problem('unknown-row', { id: evaluated.id, row: name, nearest: nearestName(name, ids) });
}

function resolveCount(name: string, { id, rows }: EvaluatedSchedule): Resolution {
  const asked = COUNTS[name];
  if (asked === undefined) {
    const known = Object.keys(COUNTS);
    return {
      ok: false,
      problem: problem('unknown-of-schedule', { id, name, nearest: nearestName(name, known), known }),
    };
  }
  const counted = rows.filter((row) => row.case !== 'auxiliary');
  const count = asked === 'all' ? rows.length : counted.filter((row) => outcomeOfRow(row) === asked).length;
  const target: Target = {
    type: 'quantity',
    quantity: quantity(count, PURE_UNIT),
    computed: true,
    print: `${count}`,
  };
  return { ok: true, target };
}

function outcomeOfRow(row: ScheduleRow): RowOutcome | undefined {
  const check = governingCheck(row);
  return check && outcomeOf(check);
}

function worstOf({ rows }: EvaluatedSchedule): ScheduleRow {
  const counted = rows.filter((row) => row.case !== 'auxiliary');
  return orderRows(counted.length > 0 ? counted : rows)[0]!;
}

function wordOfWorst(name: string, schedule: EvaluatedSchedule): Target | undefined {
  if (!WORST_ROW.some((one) => one === name)) return undefined;
  const worst = worstOf(schedule);
  if (name === 'id') return { type: 'choice', choice: worst.id, print: worst.id };
  const margin = governingCheck(worst)?.margin;
  if (margin?.of !== 'limit') return { type: 'words', print: '-' };
  const percent = Math.round(margin.value * 1000) / 10;
  const sign = percent < 0 ? '−' : '';
  return { type: 'words', print: `${sign}${Math.abs(percent)}\u00a0%` };
}
