import type { Margin } from '../engine/definition/margin.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { isRequiredCase } from '../evaluation/tally-verdicts.ts';
import type { ProjectSource } from '../source/project-source.ts';
import type { BlockChange, Comparison, ComparisonSummary, NoteChange } from './comparison.ts';
import { wordDigits } from './recorded-number.ts';
import { UNTOLD_ROWS } from './schedule/compare-schedules.ts';

interface State {
  readonly project: ProjectSource;
  readonly notes: readonly EvaluatedNote[];
}

/** Counts what was written and what follows of it. */
export function summariseComparison(
  { turned, project, notes }: Pick<Comparison, 'turned' | 'project' | 'notes'>,
  before: State,
  after: State,
): ComparisonSummary {
  const blocks = notes.flatMap((note) => note.blocks);
  const register = new Set(
    [before, after].flatMap((state) => [...state.project.register.values()].map(({ path }) => path)),
  );
  const ofRegister = project.filter(({ name }) => register.has(name.replace(/ in .*$/, '')));
  const following = blocks.filter(isFollowing);
  const untold = blocks.flatMap(({ results }) =>
    results.flatMap(({ name, after: count }) => (name === UNTOLD_ROWS ? Number(count) : [])),
  );
  const least = findLeastMargin(after.notes);
  return {
    givens: sum(blocks.filter(({ state }) => state === 'changed').map((block) => writtenGivens(block).size)),
    register: ofRegister.length,
    added: blocks.filter(({ state }) => state === 'added').length,
    removed: blocks.filter(({ state }) => state === 'removed').length,
    others: project.length - ofRegister.length + sum(notes.map(countOthers)),
    turned: turned.length,
    following: following.filter(({ id }) => !isRow(id)).length,
    followingRows: following.filter(({ id }) => isRow(id)).length + sum(untold),
    ...(least ? { least } : {}),
  };
}

/** '1 given changed; 0 verdicts turned; 7 blocks follow; smallest margin of what is required now 2.1 % (tx1.withstand_margin)'. */
export function wordSummary(summary: ComparisonSummary): string {
  const { givens, register, added, removed, others, turned, following, followingRows, least } = summary;
  const parts = [
    `${count(givens, 'given', 'givens')} changed`,
    register > 0 ? `${count(register, 'value', 'values')} of the register changed` : '',
    added > 0 ? `${count(added, 'block', 'blocks')} added` : '',
    removed > 0 ? `${count(removed, 'block', 'blocks')} removed` : '',
    others > 0 ? `${count(others, 'other change', 'other changes')} of what is written` : '',
    `${count(turned, 'verdict', 'verdicts')} changed`,
    `${count(following, 'block follows', 'blocks follow')}`,
    followingRows > 0 ? count(followingRows, 'row follows', 'rows follow') : '',
    least
      ? `smallest margin of what is required now ${wordDigits(least.margin * 100, 3)} % (${least.note} ${least.block}.${least.check})`
      : '',
  ];
  return parts.filter((part) => part !== '').join('; ');
}

function count(number: number, one: string, many: string): string {
  return `${number} ${number === 1 ? one : many}`;
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, one) => total + one, 0);
}

/** The id of a row is that of its schedule and its own. */
function isRow(id: string): boolean {
  return id.includes('/');
}

/** The givens of a block that somebody edited; a table or a range counts once. */
function writtenGivens({ given }: BlockChange): ReadonlySet<string> {
  return new Set(given.filter(({ follows }) => follows === undefined).map(({ name }) => name.split('.')[0]!));
}

/** Nothing was written in it, and something other than how a method went is another. */
function isFollowing(block: BlockChange): boolean {
  if (block.state !== 'changed' || block.renamedFrom !== undefined) return false;
  if (block.wording.length > 0 || writtenGivens(block).size > 0) return false;
  const { given, checks, limiting, cautions } = block;
  const results = block.results.filter(({ name, bookkeeping }) => !bookkeeping && name !== UNTOLD_ROWS);
  return [given, results, checks, limiting, cautions].some((list) => list.length > 0);
}

/** What is written in a note beside values. */
function countOthers(note: NoteChange): number {
  const { blocks, assumptions, holds, references, images, comparisons, text } = note;
  const items = [assumptions, holds, references, images, comparisons, text].map((list) => list.length);
  const changed = blocks.filter(({ state }) => state === 'changed');
  return sum([...items, ...changed.map(({ wording }) => wording.length)]);
}

/** Of what the notes are held to (what they stand for, what they propose), as far as it can be judged against a limit that is not nought. */
function findLeastMargin(notes: readonly EvaluatedNote[]): ComparisonSummary['least'] {
  let least: ComparisonSummary['least'];
  for (const { source, blocks, schedules } of notes) {
    const judged = [
      ...blocks.map(({ id, case: ofCase, evaluated }) => ({ id, case: ofCase, checks: evaluated.checks })),
      ...schedules.flatMap(({ id, rows }) => rows.map((row) => ({ ...row, id: `${id}/${row.id}` }))),
    ].filter((one) => isRequiredCase(one.case));
    for (const { id, checks } of judged)
      for (const { name, force, margin } of checks as readonly Judged[]) {
        if (force !== 'requirement' || margin?.of !== 'limit') continue;
        if (least && least.margin <= margin.value) continue;
        least = { note: source.frontMatter.number, block: id, check: name, margin: margin.value };
      }
  }
  return least;
}

interface Judged {
  readonly name: string;
  readonly force: string;
  readonly margin: Margin | undefined;
}
