import type { EvaluatedCaution } from '../../engine/definition/evaluated.ts';
import type { EvaluatedNote } from '../../evaluation/evaluated-note.ts';
import type { EvaluatedSchedule } from '../../evaluation/schedule/evaluated-schedule.ts';
import type { RestingBlock } from './list-clauses.ts';

/** What of a note rests on clauses: its blocks, and each schedule as one calculation with the cautions of all its rows. */
export function restingBlocks({
  blocks,
  schedules,
}: Pick<EvaluatedNote, 'blocks' | 'schedules'>): readonly RestingBlock[] {
  return [...blocks, ...schedules.flatMap(restingSchedule)];
}

function restingSchedule({ id, method, ways, rows, inFull }: EvaluatedSchedule): readonly RestingBlock[] {
  const cautions = new Map<string, EvaluatedCaution>();
  for (const row of rows) for (const caution of row.cautions) cautions.set(caution.id, caution);
  const own = { id, evaluated: { ...method, cautions: [...cautions.values()] } };
  return [
    own,
    ...[...ways, ...inFull.map((block) => block.evaluated)].map((evaluated) => ({ id, evaluated })),
  ];
}
