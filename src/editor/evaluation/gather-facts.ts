import { printResult } from '../../engine/definition/print-result.ts';
import type { EvaluatedNote, WordedBlock, WordedSchedule } from '../../evaluation/evaluated-note.ts';
import { wordCheck } from '../../evaluation/machine-report.ts';
import { countRows } from '../../evaluation/schedule/count-rows.ts';
import { wordNote } from '../../evaluation/word-note.ts';
import type { Memory } from '../../memory/memory.ts';
import { ENGLISH } from '../../words/words.ts';
import type { BlockFacts, NoteFacts } from './outcome.ts';

/**
 * What can be shown of a note that was evaluated.
 *
 * @param memory holds the facts of results that are the same as before: they are the same objects
 */
export function gatherFacts(evaluated: EvaluatedNote, memory: Memory): NoteFacts {
  const note = wordNote(evaluated, ENGLISH, memory);
  const blocks = note.blocks.map((block) => {
    const content = `${block.title}\n${block.case ?? ''} ${memory.nameOf(block.evaluated)}`;
    return [block.id, memory.recall('facts', content, () => factsOf(block))] as const;
  });
  const schedules = note.schedules.map((schedule) => [schedule.id, factsOfSchedule(schedule)] as const);
  return { blocks: new Map([...blocks, ...schedules]), prose: note.proseTexts };
}

function factsOf({ title, case: ofCase, evaluated }: WordedBlock): BlockFacts {
  const values = new Map<string, string>();
  for (const { name, print } of evaluated.givens) values.set(name, print);
  for (const { name, result } of evaluated.steps) values.set(name, printResult(result));
  for (const { given, result } of evaluated.limiting) values.set(`limiting.${given}`, printResult(result));
  for (const { name, verdictWords } of evaluated.checks) values.set(name, verdictWords);
  return {
    title,
    ...(ofCase === undefined ? {} : { case: ofCase }),
    checks: evaluated.checks.map((check) => ({
      name: check.name,
      verdict: check.verdict,
      verdictWords: check.verdictWords,
      requirement: check.force === 'requirement',
      line: wordCheck(check, ENGLISH),
    })),
    values,
  };
}

function factsOfSchedule({ title, case: ofCase, rows }: WordedSchedule): BlockFacts {
  return {
    title,
    ...(ofCase === undefined ? {} : { case: ofCase }),
    checks: [],
    values: new Map(),
    rows: countRows(rows).map(({ case: rowCase, total, met, unmet, open }) => {
      const of = rowCase === undefined ? '' : `${rowCase}: `;
      const without = total - met - unmet - open;
      const words = [
        `${met} of ${total} comply`,
        ...(unmet > 0 ? [`${unmet} ${unmet === 1 ? 'does' : 'do'} not`] : []),
        ...(open > 0 ? [`${open} cannot be judged`] : []),
        ...(without > 0 ? [`${without} ${without === 1 ? 'has' : 'have'} no check`] : []),
      ];
      return `${of}${words.join(', ')}`;
    }),
  };
}
