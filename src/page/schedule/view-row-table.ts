import type { EvaluatedLimiting } from '../../engine/definition/evaluated.ts';
import type { ResultValue } from '../../engine/definition/value.ts';
import type { RowCheck } from '../../evaluation/schedule/evaluated-schedule.ts';
import { sayVerdictInFull } from '../../evaluation/word-calculation.ts';
import { say } from '../../words/sentence.ts';
import type { Words } from '../../words/words.ts';
import { wordCase } from '../case-titles.ts';
import { texHtml } from '../math/set-math.ts';
import { DASH, isToBeNoticed, printMargin, printResultOrDash, RELATIONS } from '../word-values.ts';
import type { RowChoice } from './choose-rows.ts';
import { sayCounts } from './say-result.ts';
import type { RowSummary } from './summarise-rows.ts';

/** The letter under which the method of a schedule tells a check. */
export type LetterOfCheck = (check: string) => string;

interface LineView {
  readonly id: string;
  readonly case: string;
  readonly verdict: string;
  readonly noticed: boolean;
  readonly advice: boolean;
  readonly value: string;
  readonly limit: string;
  readonly margin: string;
  readonly limiting: readonly string[];
  readonly governing: string;
}

/** The table of rows: the columns that it needs, and its lines by group, each group with the counts of all its rows. */
export function viewRowTable(
  rows: readonly RowSummary[],
  { lines }: Pick<RowChoice, 'lines'>,
  groups: readonly string[],
  letterOf: LetterOfCheck,
  words: Words,
) {
  const columns = limitingColumns(lines);
  const alike = new Map(columns.map((column) => [column, wordsOfAll(column, lines)]));
  const limiting = columns.filter((column) => alike.get(column) === undefined);
  const checks = new Set(rows.map(({ governing }) => governing.name));
  const limits = new Set(rows.map(({ governing }) => printLimit(governing, words)));
  const cases = new Set(rows.map(({ row }) => row.case));
  const [first] = rows;
  const hasGoverning = checks.size > 1;
  const hasLimit = hasGoverning || limits.size > 1;
  return {
    hasCase: cases.size > 1,
    hasLimit,
    hasGoverning,
    hasAdvice: rows.some(({ adviceOpen }) => adviceOpen),
    limiting: limiting.map((column) => headOf(column, words)),
    alike: viewAlike(alike, words),
    isExplained: columns.length > 0,
    isWhole: lines.length === rows.length,
    short: explainShort(lines, limiting, words),
    columns: 4 + limiting.length + [cases.size > 1, hasLimit, hasGoverning].filter(Boolean).length,
    /** What every row is held against, where it is the same for all. */
    onlyCheck: hasGoverning || !first ? '' : words.word(first.governing.criterion),
    onlyLimit: hasLimit || !first ? '' : printLimit(first.governing, words),
    groups: (groups.length > 0 ? groups : [undefined]).flatMap((group) => {
      const own = lines.filter(({ row }) => group === undefined || row.group === group);
      if (own.length === 0) return [];
      const all = rows.filter(({ row }) => group === undefined || row.group === group);
      return {
        isNamed: group !== undefined,
        title: group ?? '',
        counts: sayCounts(all),
        lines: own.map((row) => viewLine(row, limiting, letterOf, words)),
      };
    }),
  };
}

/** The givens that are solved for, each once and for one side. */
function limitingColumns(rows: readonly RowSummary[]): readonly EvaluatedLimiting[] {
  const columns = new Map<string, EvaluatedLimiting>();
  for (const { row } of rows)
    for (const one of row.limiting) {
      const key = `${one.given} ${one.seek}`;
      if (!columns.has(key)) columns.set(key, one);
    }
  return [...columns.values()];
}

function headOf({ symbol, seek }: EvaluatedLimiting, words: Words) {
  return { symbol: texHtml(symbol), seek: words.word(say(`limiting.${seek}`, {})) };
}

/** The words that stand in a column in place of a number, where they are the same in every row: they need no column. */
function wordsOfAll(column: EvaluatedLimiting, rows: readonly RowSummary[]): ShortWords | undefined {
  const found = new Set(rows.map(({ row }) => shortWords(resultIn(row.limiting, column))));
  return rows.length > 1 && found.size === 1 ? [...found][0] : undefined;
}

/** What columns would say in every row, those that say the same together. */
function viewAlike(alike: ReadonlyMap<EvaluatedLimiting, ShortWords | undefined>, words: Words) {
  const found = new Map<string, { symbols: string[]; seek: string; words: string }>();
  for (const [column, short] of alike) {
    if (!short) continue;
    const { symbol, seek } = headOf(column, words);
    const key = `${seek} ${short}`;
    const together = found.get(key);
    if (together) together.symbols.push(symbol);
    else found.set(key, { symbols: [symbol], seek, words: sayAlike(short, words) });
  }
  return [...found.values()];
}

/** 'no limit, none in the range that was examined', where the sentence by itself reads as if no value would do. */
function sayAlike(short: ShortWords, words: Words): string {
  const sentence = words.word(say(`limiting.${short}`, {}));
  return short === 'open' ? `${words.word(say('limiting.open-in-short', {}))}, ${sentence}` : sentence;
}

function resultIn(own: readonly EvaluatedLimiting[], { given, seek }: EvaluatedLimiting) {
  return own.find((one) => one.given === given && one.seek === seek)?.result;
}

function viewLine(
  { row, governing, adviceOpen }: RowSummary,
  limiting: readonly EvaluatedLimiting[],
  letterOf: LetterOfCheck,
  words: Words,
): LineView {
  return {
    id: row.id,
    case: wordCase(row.case),
    verdict: words.word(sayVerdictInFull(governing)),
    noticed: isToBeNoticed(governing.verdict),
    advice: adviceOpen,
    value: printText(governing.value, words),
    limit: printLimit(governing, words),
    margin: printMargin(governing),
    limiting: limiting.map((column) => printLimiting(resultIn(row.limiting, column), words)),
    governing: letterOf(governing.name),
  };
}

type ShortWords = 'none' | 'any' | 'open';

/** The sentences that stand in many rows in place of a number. */
const SHORT: Readonly<Record<string, ShortWords>> = {
  'limiting.none': 'none',
  'limiting.any': 'any',
  'limiting.open-above': 'open',
  'limiting.open-below': 'open',
};

/** A limiting value; what stands in many of the rows in place of a number, in a word or two. */
function printLimiting(result: ResultValue | undefined, words: Words): string {
  const short = shortWords(result);
  return short ? words.word(say(`limiting.${short}-in-short`, {})) : printText(result, words);
}

function shortWords(result: ResultValue | undefined): ShortWords | undefined {
  return result?.type === 'words' && typeof result.words === 'object' ? SHORT[result.words.key] : undefined;
}

/** What the short words in the columns of limiting values stand for: 'no value: no value examined complies', as far as they occur. */
function explainShort(
  rows: readonly RowSummary[],
  columns: readonly EvaluatedLimiting[],
  words: Words,
): string {
  const used = new Set(
    rows.flatMap(({ row }) => columns.map((column) => shortWords(resultIn(row.limiting, column)))),
  );
  return (['none', 'any', 'open'] as const)
    .filter((short) => used.has(short))
    .map(
      (short) =>
        `${words.word(say(`limiting.${short}-in-short`, {}))}: ${words.word(say(`limiting.${short}`, {}))}`,
    )
    .join('; ');
}

function printLimit({ relation, limit }: Pick<RowCheck, 'relation' | 'limit'>, words: Words): string {
  if (limit === undefined) return DASH;
  const shown = printText(limit, words);
  return limit.type === 'words' ? shown : `${RELATIONS[relation]} ${shown}`;
}

/** A result whose words are not put in yet, as running text. */
function printText(result: ResultValue | undefined, words: Words): string {
  return printResultOrDash(
    result?.type === 'words' ? { ...result, words: words.word(result.words) } : result,
  );
}
