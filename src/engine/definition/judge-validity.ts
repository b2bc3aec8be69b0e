import { type Problem, problem } from '../../diagnostics/problem.ts';
import { evaluateCondition } from '../../formula/evaluate-formula.ts';
import type { RowPoint } from '../../formula/formula.ts';
import { ROWS, say, type Text } from '../../words/sentence.ts';
import { type Basis, sayBasis } from './basis.ts';
import type { CompiledCalculation, CompiledValidity } from './compiled.ts';
import type { Computation, ComputeFault } from './computation.ts';
import type { EvaluatedCaution } from './evaluated.ts';
import { ownText } from './own-text.ts';
import { pointsOver, rowNumbers } from './rows.ts';

/** The limits of validity that computed values break: faults and cautions. */
export function judgeValidity(calculation: CompiledCalculation, state: Computation) {
  const faults: ComputeFault[] = [];
  const cautions: EvaluatedCaution[] = [];
  for (const limit of calculation.validity) {
    const broken = pointsOver(calculation, limit.over, state.values).flatMap((rows): RowPoint[] => {
      const reading = evaluateCondition(limit.condition, state.values, { rows });
      if (!reading.ok && reading.problem.code !== 'absent-value') faults.push({ problem: reading.problem });
      return reading.ok && !reading.value ? [rows] : [];
    });
    if (broken.length === 0) continue;
    const basis = limit.basis ?? calculation.steps[0]!.definition.basis;
    if (limit.otherwise === 'error') {
      faults.push(...broken.map((rows) => faultOfLimit(calculation, limit, rows, basis)));
    } else {
      const text = say('caution.outside-validity', { text: sayLimit(calculation, limit, broken) });
      cautions.push({ id: `validity-${limit.id}`, text, basis });
    }
  }
  return { faults, cautions };
}

function faultOfLimit(
  calculation: CompiledCalculation,
  limit: CompiledValidity,
  rows: RowPoint,
  basis: Basis,
): ComputeFault {
  const named = limit.given ?? limit.condition.names.find((name) => calculation.givens.has(name));
  const [given, column] = named?.split('.') ?? [];
  const [item] = rows.values();
  const text = sayLimit(calculation, limit, [rows]);
  const place = {
    ...(given === undefined ? {} : { given }),
    ...(column === undefined ? {} : { column }),
    ...(item === undefined ? {} : { item }),
  };
  const fault: Problem =
    limit.instead === undefined
      ? problem('outside-validity', { text, basis: sayBasis(basis) })
      : problem('unfit-value', {
          text,
          hint: ownText(calculation, `validity.${limit.id}.instead`, limit.instead),
        });
  return { ...place, problem: fault };
}

/** The text of a limit, said of the rows that break it. */
export function sayLimit(
  calculation: CompiledCalculation,
  { id, text, over }: CompiledValidity,
  broken: readonly RowPoint[] = [],
): Text {
  return ownText(
    calculation,
    `validity.${id}.text`,
    text,
    over === undefined ? {} : { [ROWS]: rowNumbers(broken) },
  );
}
