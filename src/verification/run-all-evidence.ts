import type { CompiledCalculation } from '../engine/definition/compiled.ts';
import type { Evidence } from '../engine/definition/definition.ts';
import { type ComparedNumber, type EvidenceLine, runEvidence } from '../engine/definition/run-evidence.ts';
import { wordOutcome } from '../engine/handbook/describe-calculation.ts';

/** The kinds of evidence in the order of the note, each with the letter of its numbers and what it is called. */
export const EVIDENCE_KINDS = {
  published: { letter: 'P', title: 'Published', heading: 'Published examples' },
  memory: { letter: 'M', title: 'From memory', heading: 'Values of standards from memory' },
  practice: { letter: 'C', title: 'Common practice', heading: 'Figures of common practice' },
  independent: { letter: 'I', title: 'Independent', heading: 'Results worked by another method' },
  'limiting-case': { letter: 'L', title: 'Limiting case', heading: 'Limiting cases' },
  refuted: { letter: 'R', title: 'Refuted', heading: 'Wrong printed answers, refuted' },
} as const satisfies Record<Evidence['kind'], { letter: string; title: string; heading: string }>;

/** One value of a piece of evidence, compared. */
export interface ComparedValue {
  /** 'P017', by kind. */
  readonly id: string;
  /** The step or check. */
  readonly name: string;
  readonly agrees: boolean;
  /** Undefined where words, choices or verdicts were compared, or no number was found. */
  readonly number?: ComparedNumber;
  readonly expected: string;
  readonly found: string;
}

/** A piece of evidence that was run. */
export interface RunEvidence {
  readonly calculation: string;
  readonly title: string;
  readonly evidence: Evidence;
  readonly values: readonly ComparedValue[];
}

/**
 * Runs every piece of evidence of the calculations, in their order.
 *
 * @param tell takes the name of each calculation before it is run
 * @throws where a piece cannot be run: the evidence is wrong, or the engine
 */
export function runAllEvidence(
  calculations: Iterable<CompiledCalculation>,
  tell: (name: string) => void = () => {},
): readonly RunEvidence[] {
  const counts = new Map<Evidence['kind'], number>();
  const next = (kind: Evidence['kind']): string => {
    const count = (counts.get(kind) ?? 0) + 1;
    counts.set(kind, count);
    return `${EVIDENCE_KINDS[kind].letter}${String(count).padStart(3, '0')}`;
  };
  return [...calculations].flatMap((calculation) => {
    const { name, title, evidence: pieces } = calculation.definition;
    tell(name);
    return pieces.map((evidence) => ({
      calculation: name,
      title,
      evidence,
      values: runEvidence(calculation, evidence).flatMap((line) => valuesOf(line, () => next(evidence.kind))),
    }));
  });
}

function valuesOf(line: EvidenceLine, id: () => string): ComparedValue[] {
  const { name, agrees, numbers = [] } = line;
  const [expected, found] = [wordOutcome(line.expected), wordOutcome(line.found)];
  if (numbers.length === 0) return [{ id: id(), name, expected, found, agrees }];
  return numbers.map((number) => ({ id: id(), name, expected, found, agrees, number }));
}

/** Numbers that agree or not; a wrong printed answer is none that the program should give, and stands in the text alone. */
export function comparedNumbers(evidence: readonly RunEvidence[]): readonly {
  readonly kind: Evidence['kind'];
  readonly calculation: string;
  readonly value: Required<ComparedValue>;
}[] {
  return evidence.flatMap(({ calculation, evidence: { kind }, values }) =>
    kind === 'refuted'
      ? []
      : values.flatMap((value) =>
          value.number ? [{ kind, calculation, value: { ...value, number: value.number } }] : [],
        ),
  );
}
