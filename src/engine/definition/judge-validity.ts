import { type Problem, problem } from '../../diagnostics/problem.ts';
import { evaluateCondition } from '../../formula/evaluate-formula.ts';
import type { RowPoint } from '../../formula/formula.ts';
import { type Basis, wordBasis } from './basis.ts';
import type { CompiledCalculation, CompiledValidity } from './compiled.ts';
import type { Computation, ComputeFault } from './compute.ts';
import type { EvaluatedCaution } from './evaluated.ts';
import { fillRows } from './fill-sentence.ts';
import { pointsOver } from './rows.ts';

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
      const text = fillRows(limit.text, broken);
      cautions.push({ id: `validity-${limit.id}`, text: `Outside the usual validity: ${text}`, basis });
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
  const text = fillRows(limit.text, [rows]);
  const place = {
    ...(given === undefined ? {} : { given }),
    ...(column === undefined ? {} : { column }),
    ...(item === undefined ? {} : { item }),
  };
  const fault: Problem =
    limit.instead === undefined
      ? problem('outside-validity', { text, basis: wordBasis(basis) })
      : problem('unfit-value', { text, hint: limit.instead });
  return { ...place, problem: fault };
}
