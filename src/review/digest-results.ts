import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { type Datum, isList, type Sentence } from '../words/sentence.ts';
import { ENGLISH } from '../words/words.ts';
import { sha256 } from './digest-sources.ts';
import { recordBlock } from './record-block.ts';
import { recordTaken } from './record-taken.ts';
import type { RecordedNode, RecordedNumber } from './recorded-node.ts';
import { wordDigits } from './recorded-number.ts';
import { recordRows } from './schedule/digest-rows.ts';

/** The results of a note as a sign-off covers them. */
export interface ResultsDigest {
  readonly sha256: string;
  /**
   * Whether a digest that was signed is that of the same results: of these, or of values within the tolerance of these that
   * are rounded to the other side.
   */
  sameAs(signed: string): boolean;
  /** The same of a digest that covers sentences in their words, as statements up to the second form have it. */
  sameInWords(signed: string): boolean;
}

/**
 * The digest of the results of a note and of the values that it takes from other notes, by value: of what was computed just now,
 * whatever is recorded so far. Numbers count
 * to the digits that a sign-off covers (`Precision.signed`); of what is said, which sentence it is and what stands in it, so
 * that it may be worded better. A value that lies within its tolerance of where rounding turns could be written either way by
 * another machine: `sameAs` tries both.
 */
export function digestResults(note: EvaluatedNote): ResultsDigest {
  const factsOf = (form: FormOfSentences): Fact[] => [
    // No block has this name, for ids begin with a letter or digit.
    ...listFacts(recordTaken(note), ['(from)'], form),
    ...note.blocks.flatMap((block) => [...listFacts(recordBlock(block, 'value'), [block.id], form)]),
    ...note.schedules.flatMap((schedule) => [
      ...listFacts(recordRows(schedule), [schedule.id, 'rows'], form),
    ]),
  ];
  // Nobody asks where nobody has signed, and the rows of a schedule may be many.
  let known: Fact[] | undefined;
  const facts = (): Fact[] => {
    known ??= factsOf(factOfSentence);
    return known;
  };
  return {
    get sha256() {
      return digestLines(facts().map(({ line }) => line));
    },
    sameAs: (signed) => comesTo(facts(), signed),
    sameInWords: (signed) =>
      comesTo(
        factsOf((sentence) => ENGLISH.word(sentence)),
        signed,
      ),
  };
}

/** Whether facts have a digest, with some of their numbers rounded to the other side. */
function comesTo(facts: readonly Fact[], signed: string): boolean {
  const unsure = facts.flatMap(({ turn }, index) => (turn === undefined ? [] : [{ index, ...turn }]));
  // Of many, those count that lie nearest to their turn: machines differ in the last bits of a value, far below the tolerance.
  const nearest = unsure.sort((a, b) => a.distance - b.distance).slice(0, MOST_UNSURE);
  const lines = facts.map(({ line }) => line);
  for (let choice = 0; choice < 2 ** nearest.length; choice += 1) {
    const others = [...lines];
    for (const [bit, { index, line }] of nearest.entries()) if ((choice >> bit) & 1) others[index] = line;
    if (digestLines(others) === signed) return true;
  }
  return false;
}

/** Each doubles the digests that are tried. */
const MOST_UNSURE = 10;

function digestLines(lines: readonly string[]): string {
  return sha256(`${lines.join('\n')}\n`);
}

interface Fact {
  /** One line of JSON: the way to the fact, then what it says. */
  readonly line: string;
  /** The line of a number rounded to the other side, where it lies near enough; and how near, relative. */
  readonly turn?: { readonly line: string; readonly distance: number };
}

type FormOfSentences = (sentence: Sentence) => unknown;

function* listFacts(
  node: RecordedNode,
  way: readonly (string | number)[],
  form: FormOfSentences,
): Generator<Fact> {
  switch (node.type) {
    case 'map':
      for (const [key, value] of node.entries) yield* listFacts(value, [...way, key], form);
      return;
    case 'list':
      for (const [i, item] of node.items.entries()) yield* listFacts(item, [...way, i], form);
      return;
    case 'text':
      yield { line: JSON.stringify([...way, node.text]) };
      return;
    case 'sentence':
      yield { line: JSON.stringify([...way, form(node.sentence)]) };
      return;
    case 'number':
      yield wordFact(node.number, way);
  }
}

/** Which sentence it is and what stands in it, whatever its words: of a number what is printed of it, in ASCII. */
function factOfSentence({ key, data }: Sentence): unknown {
  return [key, Object.entries(data).map(([name, datum]) => [name, factOfDatum(datum)])];
}

function factOfDatum(datum: Datum): unknown {
  if (typeof datum === 'string' || typeof datum === 'number') return datum;
  if (isList(datum)) return datum.map(factOfDatum);
  if (!('type' in datum)) return factOfSentence(datum);
  return datum.type === 'number' ? (datum.signedAs ?? datum.displayed).text : datum.numbers;
}

function wordFact(number: RecordedNumber, way: readonly (string | number)[]): Fact {
  const { value, unit, precision, before = '' } = number;
  const { signed: digits, tolerance } = precision;
  const line = (text: string): string => JSON.stringify([...way, before, text, unit]);
  const text = wordDigits(value, digits);
  const other = [1 - tolerance, 1 + tolerance]
    .map((factor) => wordDigits(value * factor, digits))
    .find((one) => one !== text);
  if (other === undefined) return { line: line(text) };
  const turn = (Number(text) + Number(other)) / 2;
  return { line: line(text), turn: { line: line(other), distance: Math.abs(turn / value - 1) } };
}
