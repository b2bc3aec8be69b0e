import type {
  EvaluatedCheck,
  EvaluatedGiven,
  EvaluatedLimiting,
  EvaluatedStep,
} from '../engine/definition/evaluated.ts';
import type { ResultValue } from '../engine/definition/value.ts';
import type { EvaluatedBlock } from '../evaluation/evaluated-note.ts';
import { listInherited } from '../evaluation/inherit/list-inherited.ts';
import { sayOverRange, sayVerdictInFull } from '../evaluation/word-calculation.ts';
import { fromSi, type Quantity } from '../quantity/quantity.ts';
import { writeVoltageKind } from '../quantity/voltage-kind.ts';
import {
  EXACT,
  mapNode,
  NUMERICAL,
  numberNode,
  type Precision,
  type RecordedNode,
  textNode,
} from './recorded-node.ts';
import { wordNumber } from './recorded-number.ts';

/** The relation of a check in words that need no quotes in YAML. */
export const RELATION_WORDS: Readonly<Record<EvaluatedCheck['relation'], string>> = {
  '>=': 'at least',
  '<=': 'at most',
  '>': 'more than',
  '<': 'less than',
};

/** What is recorded of one block: givens as used, results, checks, limiting values, cautions. */
export function recordBlock(
  { case: ofCase, source, evaluated }: EvaluatedBlock,
  inherited: 'where it is written' | 'value' = 'where it is written',
): RecordedNode {
  const written = inherited === 'value' ? new Map<string, string>() : listInherited(source);
  return mapNode([
    ['calculation', textNode(evaluated.calculation)],
    ['case', ofCase && textNode(ofCase)],
    [
      'given',
      mapNode(
        evaluated.givens.map((given) => [
          given.name,
          recordOrigin(written.get(given.name)) ?? recordGiven(given),
        ]),
      ),
    ],
    ['results', mapNode(evaluated.steps.map((step) => [step.name, recordStep(step)]))],
    ['checks', mapNode(evaluated.checks.map((check) => [check.name, recordCheck(check)]))],
    [
      'limiting',
      mapNode(evaluated.limiting.flatMap((limiting) => recordLimiting(limiting, evaluated.limiting))),
    ],
    ['cautions', { type: 'list', items: evaluated.cautions.map(({ id }) => textNode(id)) }],
  ]);
}

/** A given that a block takes over from its base changes there: the record of the block names the one that writes it. */
export function recordOrigin(id: string | undefined): RecordedNode | undefined {
  return id === undefined ? undefined : textNode(`as in ${id}`);
}

/** 'largest_current'; with its checks where several ask for the same given: 'largest_current_for_step_safety'. */
export function nameLimiting(
  { seek, given, checks }: EvaluatedLimiting,
  all: readonly EvaluatedLimiting[],
): string {
  const alike = all.filter((other) => other.seek === seek && other.given === given);
  return alike.length > 1 ? `${seek}_${given}_for_${checks.join('_and_')}` : `${seek}_${given}`;
}

/** A line for the value and one for what sets it, each with the name of the given: so a difference shows whose it is. */
function recordLimiting(
  limiting: EvaluatedLimiting,
  all: readonly EvaluatedLimiting[],
): [string, RecordedNode | undefined][] {
  const { result, governing } = limiting;
  const name = nameLimiting(limiting, all);
  return [
    [name, recordResult(result, EXACT)],
    [`${name}_governed_by`, governing && textNode(governing.check ?? governing.words)],
  ];
}

export function recordGiven(given: EvaluatedGiven): RecordedNode {
  const value = recordValue(given);
  const { range } = given;
  if (!range || given.value.type !== 'quantity') return value;
  const { unit } = given.value.quantity;
  const end = (si: number): string =>
    wordNumber({ value: fromSi(si, unit), unit: unit.text, precision: EXACT });
  return mapNode([
    ['value', value],
    ['range', textNode(`${end(range.lowSi)} to ${end(range.highSi)}`)],
  ]);
}

function recordValue({ value }: EvaluatedGiven): RecordedNode {
  switch (value.type) {
    case 'quantity':
      return recordQuantity(value.quantity);
    case 'choice':
      return textNode(value.choice);
    case 'list':
      return { type: 'list', items: value.items.map((item) => recordQuantity(item)) };
    case 'rows':
      return {
        type: 'list',
        items: value.rows.map((row) =>
          mapNode(
            Object.entries(row).map(([column, cell]) => [
              column,
              typeof cell === 'string' ? textNode(cell) : recordQuantity(cell),
            ]),
          ),
        ),
      };
  }
}

/** A quantity with its kind, as it stands. */
export function recordQuantity({ value, unit, kind }: Quantity, precision: Precision = EXACT): RecordedNode {
  const words = [unit.text, writeVoltageKind(kind)].filter((part) => part !== '');
  return numberNode(value, words.join(' '), precision);
}

function recordStep(step: EvaluatedStep): RecordedNode {
  return recordResult(step.result, precisionOf(step));
}

/** To how many digits a step is recorded: a numerical method stands behind a solver step. */
function precisionOf(step: EvaluatedStep): Precision {
  return step.kind === 'solver' ? NUMERICAL : EXACT;
}

export function recordResult(result: ResultValue, precision: Precision, before?: string): RecordedNode {
  switch (result.type) {
    case 'number':
      return numberNode(fromSi(result.si, result.unit), result.unit.text, precision, before);
    case 'words':
      return textNode(result.words);
    case 'choice':
      return textNode(result.choice);
    case 'list':
      return {
        type: 'list',
        items: result.items.map(({ si }) => numberNode(fromSi(si, result.unit), result.unit.text, precision)),
      };
  }
}

function recordCheck(check: EvaluatedCheck): RecordedNode {
  const { value, limit, relation, overRange } = check;
  return mapNode([
    ['verdict', textNode(sayVerdictInFull(check))],
    ['force', textNode(check.force)],
    ['value', value && recordResult(value, EXACT)],
    ['limit', limit && recordResult(limit, EXACT, RELATION_WORDS[relation])],
    ['judged_on', check.judgedOn === undefined ? undefined : textNode(check.judgedOn)],
    ['over_range', overRange && textNode(sayOverRange(overRange))],
    ['not_given', check.missing.length > 0 ? textNode(check.missing.join(', ')) : undefined],
  ]);
}
