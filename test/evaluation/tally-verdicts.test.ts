import { describe, expect, test } from 'vitest';
import type { Force } from '../../src/engine/definition/definition.ts';
import type { Verdict } from '../../src/engine/definition/evaluated.ts';
import { machineReport } from '../../src/evaluation/machine-report.ts';
import { requirementsComply, tallyVerdicts } from '../../src/evaluation/tally-verdicts.ts';
import type { BlockCase } from '../../src/source/note-source.ts';
import { ARRESTER, calcBlock, evaluateText } from '../review/evaluate-text.ts';

const judged = (ofCase: BlockCase | undefined, ...checks: (readonly [Force, Verdict])[]) => ({
  case: ofCase,
  checks: checks.map(([force, verdict]) => ({ force, verdict })),
});

/** Counts of the requirements of a case: those that comply, that do not, that cannot be judged. */
const countsOf = (tallies: ReturnType<typeof tallyVerdicts>, ofCase: string | undefined) =>
  tallies.find((tally) => tally.case === ofCase)?.requirement.counts.map(({ count }) => count);

describe('a tally of verdicts', () => {
  const tallies = tallyVerdicts([
    judged('as-found', ['requirement', 'does-not-comply'], ['recommendation', 'not-met']),
    judged('as-found', ['requirement', 'does-not-comply'], ['requirement', 'complies']),
    judged('proposed', ['requirement', 'complies'], ['recommendation', 'cannot-be-judged']),
    judged('auxiliary', ['requirement', 'does-not-comply'], ['recommendation', 'not-met']),
    judged(undefined, ['requirement', 'complies'], ['requirement', 'cannot-be-judged']),
  ]);

  test('counts each case apart, what the note stands for first, and nothing of what is auxiliary', () => {
    expect(tallies.map((tally) => tally.case)).toEqual([undefined, 'proposed', 'as-found']);
    expect(countsOf(tallies, undefined)).toEqual([1, 0, 1]);
    expect(countsOf(tallies, 'proposed')).toEqual([1, 0, 0]);
    expect(countsOf(tallies, 'as-found')).toEqual([1, 2, 0]);
    const { recommendation } = tallies.find((tally) => tally.case === 'as-found')!;
    expect(recommendation.total).toBe(1);
    expect(recommendation.counts[1]).toEqual({ verdict: 'not-met', count: 1 });
  });

  test('asks of what the note stands for and proposes that every requirement is met', () => {
    expect(requirementsComply(tallies)).toBe(false);
    const without = tallies.filter((tally) => tally.case !== undefined);
    expect(requirementsComply(without)).toBe(true);
    expect(requirementsComply(tallyVerdicts([judged('proposed', ['requirement', 'cannot-be-judged'])]))).toBe(
      false,
    );
  });
});

/** 33 kV + 10 kA/us * 1 uH/m * (7.5 m + lead): against 75 kV no length of the line lead complies, with 190 kV any short one. */
const block = (id: string, ofCase: string | undefined, withstand: string) => {
  const text = calcBlock(id, 'arrester-connection', { ...ARRESTER, impulse_withstand: withstand });
  return ofCase === undefined ? text : text.replace('calculation:', `case: ${ofCase}\ncalculation:`);
};

describe('the case of a block', () => {
  test('stands in the report for machines, null where none is written', () => {
    const note = evaluateText(
      `${block('bay-1', 'as-found', '75 kV')}\n${block('bay-2', undefined, '190 kV')}\n`,
    );
    const report = machineReport([note], []) as {
      notes: { blocks: { id: string; case: string | null }[] }[];
    };
    expect(report.notes[0]!.blocks.map(({ id, case: ofCase }) => [id, ofCase])).toEqual([
      ['bay-1', 'as-found'],
      ['bay-2', null],
    ]);
  });

  test('that is unknown is an error with the nearest', () => {
    expect(() => evaluateText(block('bay-1', 'propose', '75 kV'))).toThrow(
      /not-an-option.*"nearest":"proposed"/,
    );
  });
});
