import type { EvaluatedSchedule, ScheduleRow } from '../../evaluation/schedule/evaluated-schedule.ts';
import { governingCheck, outcomeOf } from '../../evaluation/schedule/order-rows.ts';
import { ENGLISH } from '../../words/words.ts';
import { compareChecks } from '../compare-checks.ts';
import { compareFacts, type Facts, flattenFacts } from '../compare-facts.ts';
import type { BlockChange, FactChange } from '../comparison.ts';
import { recordGiven, recordOrigin } from '../record-block.ts';
import { mapNode, type RecordedNode } from '../recorded-node.ts';
import { isToldOfRegister, markFollowing } from '../trace-givens.ts';
import { commonGivens, describeSchedule } from './describe-schedule.ts';
import { precisionOfRows, recordRow } from './record-row.ts';

/** The name of the fact that counts the rows of which nothing more is told. */
export const UNTOLD_ROWS = 'rows with other results and the same verdicts';

/** So many rows are told whose cells are as before and whose verdicts too; of more it is told how many they are. */
const MOST_CONSEQUENCES = 20;

/**
 * What changed in the schedules of a note: each as a block with what its rows have in common, and each row whose cells, verdicts or
 * results changed as a block of its own, by its name. Where a change of what all rows have in common moves very many of them, those
 * whose verdict turned are told, and the others counted.
 */
export function compareSchedules(
  before: readonly EvaluatedSchedule[],
  after: readonly EvaluatedSchedule[],
): BlockChange[] {
  const [old, fresh] = [before, after].map((all) => new Map(all.map((one) => [one.id, one]))) as [
    Map<string, EvaluatedSchedule>,
    Map<string, EvaluatedSchedule>,
  ];
  return [...new Set([...fresh.keys(), ...old.keys()])].flatMap((id) =>
    compareSchedule(id, old.get(id), fresh.get(id)),
  );
}

function compareSchedule(
  id: string,
  before: EvaluatedSchedule | undefined,
  after: EvaluatedSchedule | undefined,
): BlockChange[] {
  const schedule = (after ?? before)!;
  const rows = before && after ? compareRows(before, after) : [];
  const told = rows.filter(isOwn);
  const consequences = rows.filter((row) => !isOwn(row));
  const untold = consequences.length > MOST_CONSEQUENCES ? consequences.length : 0;
  const sides = [before?.method.givens, after?.method.givens] as const;
  const change: BlockChange = {
    id,
    state: !before ? 'added' : !after ? 'removed' : 'changed',
    calculation: schedule.calculation,
    title: ENGLISH.word(schedule.title),
    given: compareFacts(commonOf(before), commonOf(after))
      .filter(({ name }) => !isToldOfRegister(...sides, name))
      .map((fact) => markFollowing(fact, ...sides)),
    results: [
      ...compareFacts(countsOf(before), countsOf(after)),
      ...(untold > 0 ? [{ name: UNTOLD_ROWS, after: `${untold}` }] : []),
    ],
    checks: [],
    limiting: [],
    cautions: [],
    wording: compareFacts(describeSchedule(before), describeSchedule(after)).filter(
      ({ name }) => !isToldOfRegister(...sides, name.replace(/^source of /, '')),
    ),
  };
  const { given, results, wording, state } = change;
  const isChanged = state !== 'changed' || [given, results, wording].some((list) => list.length > 0);
  return [...(isChanged ? [change] : []), ...(untold > 0 ? told : rows)];
}

/** A row that came or went, of which a cell is another, or whose verdict turned. */
function isOwn({ state, given, checks, wording }: BlockChange): boolean {
  return state !== 'changed' || given.length > 0 || wording.length > 0 || checks.some(({ turned }) => turned);
}

function compareRows(before: EvaluatedSchedule, after: EvaluatedSchedule): BlockChange[] {
  const old = new Map(before.rows.map((row) => [row.id, row]));
  const ids = new Set(after.rows.map(({ id }) => id));
  const precision = precisionOfRows(after);
  const compare = (a: ScheduleRow | undefined, b: ScheduleRow | undefined) =>
    compareRow(after, a && recordRow(a, precision), b && recordRow(b, precision), a, b);
  return [
    ...after.rows.flatMap((row) => compare(old.get(row.id), row)),
    ...before.rows.filter(({ id }) => !ids.has(id)).flatMap((row) => compare(row, undefined)),
  ];
}

function compareRow(
  { id: schedule, calculation, source }: EvaluatedSchedule,
  recordedBefore: RecordedNode | undefined,
  recordedAfter: RecordedNode | undefined,
  before: ScheduleRow | undefined,
  after: ScheduleRow | undefined,
): BlockChange[] {
  const { id } = (after ?? before)!;
  const part = (name: string): FactChange[] =>
    compareFacts(partOf(recordedBefore, name), partOf(recordedAfter, name));
  const change: BlockChange = {
    id: `${schedule}/${id}`,
    state: !before ? 'added' : !after ? 'removed' : 'changed',
    calculation,
    title: source.title === undefined ? id : `${source.title}: ${id}`,
    given: part('given'),
    results: before && after ? part('results') : [],
    // Of a row that came or went the verdicts alone are told.
    checks: compareChecks(before?.checks ?? [], after?.checks ?? [], (name) =>
      before && after
        ? compareFacts(factsOfCheck(recordedBefore, name), factsOfCheck(recordedAfter, name))
        : [],
    ),
    limiting: before && after ? part('limiting') : [],
    cautions: part('cautions'),
    wording: [...part('case'), ...part('group')],
  };
  const { given, results, checks, limiting, cautions, wording, state } = change;
  const isChanged = [given, results, checks, limiting, cautions, wording].some((list) => list.length > 0);
  return isChanged || state !== 'changed' ? [change] : [];
}

function factsOfCheck(recorded: RecordedNode | undefined, name: string): Facts {
  const facts = partOf(recorded && entryOf(recorded, 'checks'), name);
  return new Map([...facts].filter(([fact]) => fact !== 'verdict'));
}

function partOf(node: RecordedNode | undefined, name: string): Facts {
  const part = node && entryOf(node, name);
  // A text alone is known by the name of its part.
  return part && part.type !== 'map' && part.type !== 'list' ? flattenFacts(part, name) : flattenFacts(part);
}

function entryOf(node: RecordedNode, name: string): RecordedNode | undefined {
  return node.type === 'map' ? node.entries.find(([key]) => key === name)?.[1] : undefined;
}

/** What all rows have in common; what is taken over from a base changes there. */
function commonOf(schedule: EvaluatedSchedule | undefined): Facts {
  if (!schedule) return new Map();
  return flattenFacts(
    mapNode(
      commonGivens(schedule).map((given) => [
        given.name,
        recordOrigin(schedule.inherited.get(given.name)) ?? recordGiven(given),
      ]),
    ),
  );
}

function countsOf(schedule: EvaluatedSchedule | undefined): Facts {
  const counts = { rows: 0, complies: 0, 'does not comply': 0, 'cannot be judged': 0 };
  for (const row of schedule?.rows ?? []) {
    counts.rows += 1;
    const check = governingCheck(row);
    if (!check) continue;
    const outcome = outcomeOf(check);
    counts[outcome === 'met' ? 'complies' : outcome === 'unmet' ? 'does not comply' : 'cannot be judged'] +=
      1;
  }
  return new Map(schedule ? Object.entries(counts).map(([name, count]) => [name, `${count}`]) : []);
}
