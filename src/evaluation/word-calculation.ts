import { figureOf } from '../engine/definition/draw-or-leave-out.ts';
import type {
  Chosen,
  EvaluatedCalculation,
  EvaluatedCheck,
  EvaluatedGiven,
  EvaluatedLimiting,
  EvaluatedStep,
  GivenColumn,
  Verdict,
  WordedCalculation,
  WordedCheck,
  WordedGiven,
  WordedLimiting,
  WordedStep,
} from '../engine/definition/evaluated.ts';
import type { ResultValue } from '../engine/definition/value.ts';
import { type Sentence, say } from '../words/sentence.ts';
import type { Words } from '../words/words.ts';

/** What came of a calculation, with words put in. */
export function wordCalculation(evaluated: EvaluatedCalculation, words: Words): WordedCalculation {
  const { figure, ...rest } = evaluated;
  return {
    ...rest,
    title: words.word(rest.title),
    purpose: words.word(rest.purpose),
    givens: rest.givens.map((given) => wordGiven(given, words)),
    steps: rest.steps.map((step) => wordStep(step, words)),
    checks: rest.checks.map((check) => wordCheck(check, words)),
    limiting: rest.limiting.map((one) => wordLimiting(one, words)),
    cautions: rest.cautions.map((caution) => ({ ...caution, text: words.word(caution.text) })),
    ...(figure ? { figure: figureOf(words.word(figure.caption), () => figure.svg) } : {}),
  };
}

function wordGiven({ range, table, chosen, ...given }: EvaluatedGiven, words: Words): WordedGiven {
  const { value, source, print } = given;
  const isEmpty = value.type === 'rows' && value.rows.length === 0;
  return {
    ...given,
    meaning: words.word(given.meaning),
    source: source === undefined ? undefined : words.word(source),
    print: isEmpty ? words.word(NO_ROWS) : print,
    ...(range ? { range: { ...range, print: words.word(range.print) } } : {}),
    ...(chosen ? { chosen: wordChosen(chosen, words) } : {}),
    ...(table
      ? { table: { ...table, columns: table.columns.map((column) => wordColumn(column, words)) } }
      : {}),
  };
}

function wordColumn({ chosen, ...column }: GivenColumn, words: Words): GivenColumn<string> {
  return {
    ...column,
    meaning: words.word(column.meaning),
    ...(chosen ? { chosen: chosen.map((one) => one && wordChosen(one, words)) } : {}),
  };
}

function wordChosen({ option, words }: Chosen, put: Words): Chosen<string> {
  return { option, words: put.word(words) };
}

/** What stands for a table without rows. */
export const NO_ROWS = say('given.no-rows', {});

function wordStep({ origin, keys, note, ...step }: EvaluatedStep, words: Words): WordedStep {
  return {
    ...step,
    meaning: words.word(step.meaning),
    ...(origin === undefined ? {} : { origin: words.word(origin) }),
    ...(keys ? { keys: keys.map((key) => wordKey(key, words)) } : {}),
    ...(note === undefined ? {} : { note: words.word(note) }),
    result: wordResult(step.result, words),
  };
}

function wordKey(
  { meaning, options }: NonNullable<EvaluatedStep['keys']>[number],
  words: Words,
): NonNullable<WordedStep['keys']>[number] {
  return { meaning: words.word(meaning), options: options.map((one) => wordChosen(one, words)) };
}

export function wordResult(result: ResultValue, words: Words): ResultValue<string> {
  return result.type === 'words' ? { ...result, words: words.word(result.words) } : result;
}

export function sayVerdict(verdict: Verdict): Sentence {
  return say(`verdict.${verdict}`, {});
}

/** 'complies', 'complies, at the limit' */
export function sayVerdictInFull({
  verdict,
  atLimit,
}: Pick<EvaluatedCheck, 'verdict' | 'atLimit'>): Sentence {
  const said = sayVerdict(verdict);
  return atLimit ? say('verdict.at-the-limit', { verdict: said }) : said;
}

export function wordCheck({ judgedOn, overRange, ...check }: EvaluatedCheck, words: Words): WordedCheck {
  const { value, limit } = check;
  return {
    ...check,
    criterion: words.word(check.criterion),
    verdictWords: words.word(sayVerdict(check.verdict)),
    verdictInFull: words.word(sayVerdictInFull(check)),
    value: value && wordResult(value, words),
    limit: limit && wordResult(limit, words),
    remedies: check.remedies.map((text) => words.word(text)),
    ...(judgedOn === undefined ? {} : { judgedOn: words.word(judgedOn) }),
    ...(overRange ? { overRange: wordOverRange(overRange, words) } : {}),
  };
}

/** What was found over the ranges, and where it was looked, in one. */
export function sayOverRange({ sentence, examined }: NonNullable<EvaluatedCheck['overRange']>): Sentence {
  return say('range.found-and-examined', { sentence, examined: say('range.examined', { points: examined }) });
}

function wordOverRange(
  overRange: NonNullable<EvaluatedCheck['overRange']>,
  words: Words,
): NonNullable<WordedCheck['overRange']> {
  const points = overRange.examined;
  return {
    ...overRange,
    sentence: words.word(overRange.sentence),
    examined: words.word(points),
    examinedHere: words.word(say('range.examined', { points })),
    examinedForEach: words.word(say('range.examined-for-each', { points })),
    at: overRange.at.map((one) => ({ ...one, value: wordResult(one.value, words) })),
  };
}

function wordLimiting(limiting: EvaluatedLimiting, words: Words): WordedLimiting {
  const { governing } = limiting;
  return {
    ...limiting,
    meaning: words.word(limiting.meaning),
    result: wordResult(limiting.result, words),
    governing: governing && { ...governing, words: words.word(governing.words) },
  };
}
