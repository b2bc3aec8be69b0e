import type { Collector } from '../../diagnostics/collector.ts';
import type { EvaluatedNote } from '../../evaluation/evaluated-note.ts';
import { sameDimension } from '../../quantity/dimension.ts';
import { toSi } from '../../quantity/quantity.ts';
import { readQuantity } from '../../quantity/read-quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import { findMergeConflict } from '../../source/find-merge-conflict.ts';
import { wholeFile } from '../../source/map-places.ts';
import { listOf, option, optional, type Read, readRecord, required, text } from '../../source/read-shape.ts';
import { readYaml } from '../../source/read-yaml.ts';
import { withoutUndefined } from '../../source/without-undefined.ts';
import { METHODS, type Method } from './roles.ts';
import type { CheckerComment, IndependentValue } from './statement.ts';

/** What a checker writes down, beside his name and the day. */
export interface CheckerRecord {
  readonly method?: Method;
  readonly extent?: string;
  readonly remark?: string;
  readonly independent: readonly IndependentValue[];
  readonly comments: readonly CheckerComment[];
}

const COMMENT = { comment: required(text), answer: optional(text), closed: optional(text) };

/** A comment; one that is still open is an error. */
const comment: Read<CheckerComment> = (node, _, collector) => {
  const reading = readRecord(node, COMMENT, { where: 'a comment' }, collector);
  const { comment: words, answer, closed } = reading?.values ?? {};
  if (!reading || !words) return undefined;
  if (!closed) {
    if (!reading.keyPlaces.has('closed') || reading.places.get('closed')) {
      collector.error('comment-open', reading.places.get('comment') ?? node.place, {});
    }
    return undefined;
  }
  return withoutUndefined({ comment: words, answer, closed });
};

const INDEPENDENT = { value: required(text), found: required(text), remark: optional(text) };

/** Compares what the checker found with what the note has. */
function independentOf(note: EvaluatedNote): Read<IndependentValue> {
  return (node, _, collector) => {
    const reading = readRecord(node, INDEPENDENT, { where: 'an independent value' }, collector);
    const { value, found, remark } = reading?.values ?? {};
    if (!reading || !value || !found) return undefined;
    const compared = compare(note, value, found);
    if (typeof compared !== 'string') return withoutUndefined({ value, ...compared, remark });
    const place = reading.places.get('value') ?? node.place;
    collector.error('not-independent-value', place, { value, reason: compared });
    return undefined;
  };
}

type Comparison = Pick<IndependentValue, 'here' | 'found' | 'difference'>;

function compare(note: EvaluatedNote, value: string, found: string): Comparison | string {
  const here = findNumber(note, value);
  if (typeof here === 'string') return here;
  const reading = readQuantity(found);
  if (!reading.ok) return `'${found}' is no quantity`;
  if (!sameDimension(reading.value.unit.dimension, here.unit.dimension)) {
    return `'${found}' has another dimension than ${here.print}`;
  }
  const other = toSi(reading.value.value, reading.value.unit);
  const difference = here.si === 0 ? '–' : wordPercent((other - here.si) / Math.abs(here.si));
  return { here: here.print, found, difference };
}

interface FoundNumber {
  readonly si: number;
  readonly unit: Unit;
  readonly print: string;
}

function findNumber(note: EvaluatedNote, value: string): FoundNumber | string {
  const [id, name] = [value.split('.')[0]!, value.split('.').slice(1).join('.')];
  const block = note.blocks.find((one) => one.id === id);
  if (!block) return `the note has no block '${id}'`;
  const step = block.evaluated.steps.find((one) => one.name === name);
  if (!step) return `'${id}' has no result '${name}'`;
  if (step.result.type !== 'number') return 'it is no single number';
  const { si, unit, displayed } = step.result;
  return { si, unit, print: displayed.print };
}

/** Two values that differ by less differ by the rounding of the machine alone. */
const NO_DIFFERENCE = 1e-9;
/** Less says nothing beside numbers that are rounded to three digits. */
const TOLD_FROM = 1e-3;

/** '+1.2 %', two significant digits. */
function wordPercent(share: number): string {
  if (Math.abs(share) >= NO_DIFFERENCE && Math.abs(share) < TOLD_FROM) return 'below 0.1 %';
  const percent = Math.abs(share) < NO_DIFFERENCE ? 0 : Number((100 * share).toPrecision(2));
  const sign = percent > 0 ? '+' : percent < 0 ? '−' : '';
  return `${sign}${Math.abs(percent)} %`;
}

/** Reads the record of a checker, a YAML file; every fault is reported. */
export function readCheckerRecord(
  file: string,
  content: string,
  note: EvaluatedNote,
  collector: Collector,
): CheckerRecord | undefined {
  collector.keepText(file, content);
  if (findMergeConflict(file, content, collector)) return undefined;
  const { node, broken } = readYaml(content, wholeFile(file), collector);
  if (broken) return undefined;
  const shape = {
    method: optional(option(METHODS)),
    extent: optional(text),
    remark: optional(text),
    independent: optional(
      listOf(independentOf(note), '- { value: block.name, found: 12 kV, remark: how it was found }'),
    ),
    comments: optional(listOf(comment, '- { comment: ..., answer: ..., closed: ... }')),
  };
  const values = readRecord(node, shape, { where: 'the record of a checker' }, collector)?.values;
  if (!values) return undefined;
  const { method, extent, remark, independent, comments } = values;
  return withoutUndefined({
    method,
    extent,
    remark,
    independent: independent ?? [],
    comments: comments ?? [],
  });
}
