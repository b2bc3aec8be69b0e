import type { Datum, Sentence, Text } from '../sentence.ts';
import type { Put } from '../words.ts';

/** Ranges, each with its ends, and the place in them of the least favourable value. */
interface Found {
  /** 'range.with-ends' each. */
  readonly ranges: readonly Sentence[];
  /** 'range.value-of' each, or the value alone of a single range. */
  readonly place: readonly Datum[];
}

interface FoundBeside extends Found {
  /** The value at the stated values; none where it has no number. */
  readonly value: readonly Datum[];
}

const over = ({ ranges }: Found, put: Put) =>
  `the ${ranges.length === 1 ? 'range' : 'ranges'} of ${put(ranges)}`;
const shown = ({ place }: Found, put: Put) => `the value shown is the least favourable, at ${put(place)}`;
const beside = ({ value }: FoundBeside, put: Put) => value.map((one) => ` (${put(one)})`).join('');

/** What was found where the givens of a check have ranges. */
export const RANGE_WORDS = {
  'range.span': (d: { low: Datum; high: Datum }, put: Put) => `${put(d.low)} to ${put(d.high)}`,
  'range.with-ends': (d: { meaning: Datum; span: Sentence }, put: Put) =>
    `${put(d.meaning)} (${put(d.span)})`,
  'range.value-of': (d: { meaning: Datum; value: Datum }, put: Put) => `${put(d.meaning)} ${put(d.value)}`,
  'range.cannot-be-judged': (d: Found, put: Put) =>
    `At ${put(d.place)} it cannot be judged: the method is not valid there, or a value is missing.`,
  'range.met-where-asked': (d: Found, put: Put) =>
    `Does not apply at the stated values; met at every point examined at which it applies in ${over(d, put)}; ${shown(d, put)}.`,
  'range.not-met-where-asked': (d: Found, put: Put) =>
    `Does not apply at the stated values, but applies within ${over(d, put)} and is not met there; ${shown(d, put)}.`,
  'range.not-met-within': (d: Found, put: Put) => `Not met within ${over(d, put)}; ${shown(d, put)}.`,
  'range.same-everywhere': (d: Found, put: Put) =>
    `It came out the same at every point examined in ${over(d, put)}.`,
  'range.met': (d: Found, put: Put) => `Met at every point examined in ${over(d, put)}; ${shown(d, put)}.`,
  'range.met-as-stated-alone': (d: FoundBeside, put: Put) =>
    `Met at the stated values${beside(d, put)}, but not over ${over(d, put)}; ${shown(d, put)}.`,
  'range.met-in-part': (d: FoundBeside, put: Put) =>
    `Not met at the stated values${beside(d, put)}, though met in a part of ${over(d, put)}; ${shown(d, put)}.`,
  'range.not-met': (d: Found, put: Put) => `Met at no point examined in ${over(d, put)}; ${shown(d, put)}.`,
  'range.with-turn': (d: { found: Sentence; turn: Sentence }, put: Put) => `${put(d.found)} ${put(d.turn)}`,
  'range.met-in-parts': 'Within the range it is met in parts.',
  'range.met-up-to': (d: { value: Datum }, put: Put) =>
    `At the points examined it is met up to ${put(d.value)}.`,
  'range.met-from': (d: { value: Datum }, put: Put) =>
    `At the points examined it is met from ${put(d.value)} on.`,
  'range.examined': (d: { points: Datum }, put: Put) => `Examined: ${put(d.points)}.`,
  'range.found-and-examined': (d: { sentence: Text; examined: Text }, put: Put) =>
    `${put(d.sentence)} ${put(d.examined)}`,
  'range.examined-for-each': (d: { points: Datum }, put: Put) =>
    `Examined for each check over a range: ${put(d.points)}.`,
  'range.at-least-favourable': (d: { text: Datum }, put: Put) =>
    `At the least favourable values: ${put(d.text)}`,
  'points.few-of-one': (d: { points: number }) =>
    `${d.points} points, since each is a simulation: the ends of the range and points between them`,
  'points.few-of-all-corners': (d: { points: number }) =>
    `${d.points} points, since each is a simulation: the corners of the ranges and points along each of them`,
  'points.few-of-two-corners': (d: { points: number }) =>
    `${d.points} points, since each is a simulation: two corners of the ranges and points along each of them`,
  'points.every-whole-number': 'every whole number of the range',
  'points.whole-numbers': (d: { points: number }) =>
    `${d.points} whole numbers of the range, both ends among them`,
  'points.along-one': (d: { between: number }) =>
    `both ends and ${d.between} points between them, with a closer look at changes of formula and around the least favourable point`,
  'points.several': (d: { parts: readonly Sentence[] }, put: Put) => d.parts.map(put).join(', '),
  'points.all-corners': (d: { corners: number }) => `all ${d.corners} corners of the ranges`,
  'points.some-corners': (d: { corners: number }) =>
    `of the ${d.corners} corners of the ranges only those to which the search led`,
  'points.grid': (d: { along: readonly number[] }) => `a grid of ${d.along.join(' by ')} points`,
  'points.lines': (d: { along: number }) =>
    `${d.along} points along each range through the stated and through the least favourable values`,
  'points.around': 'and points around the least favourable one',
};
