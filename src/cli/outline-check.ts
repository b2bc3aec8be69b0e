import type { WordedCalculation, WordedCheck } from '../engine/definition/evaluated.ts';
import type { ShownVerdict } from '../engine/definition/show-check.ts';
import type { ResultValue } from '../engine/definition/value.ts';
import { outcomeOf } from '../evaluation/schedule/order-rows.ts';
import { say } from '../words/sentence.ts';
import type { Words } from '../words/words.ts';
import { type Line, type Piece, type Style, wrapText } from './styled-line.ts';

/** So many values are told that stand behind a check. */
const MOST_VALUES = 4;
/** So many results are told of a calculation that judges nothing; the page has all. */
const MOST_RESULTS = 6;

const STYLES = { met: 'good', unmet: 'bad', open: 'open' } as const satisfies Record<string, Style>;

/** A verdict is a word; the colour only says it again. */
export function verdictPiece(check: Pick<ShownVerdict, 'verdict'>, words: string): Piece {
  return { text: words, style: STYLES[outcomeOf(check)] };
}

/** The cells of a check: its name, the value against its limit with units, the verdict. */
export function cellsOfCheck(check: WordedCheck, words: Words): Piece[] {
  const { name, value, limit, relation, force, verdictInFull } = check;
  const asked = words.word(say(force === 'requirement' ? 'check.required' : 'check.recommended', {}));
  const shown = limit ? textOf(limit) : words.word(say('check.no-limit', {}));
  return [
    { text: name, style: 'strong' },
    { text: value ? textOf(value) : words.word(say('check.no-value', {})) },
    { text: limit?.type === 'words' ? `${asked} ${shown}` : `${asked} ${relation} ${shown}` },
    verdictPiece(check, verdictInFull),
  ];
}

/** What stands below a check: its criterion with the values that decide it, what is missing, and what was found over ranges. */
export function linesBelowCheck(
  check: WordedCheck,
  calculation: WordedCalculation,
  width: number | undefined,
): Line[] {
  const { criterion, missing, judgedOn, overRange } = check;
  const decisive = listValues(calculation, namesBehind(check, calculation));
  // The check shows the least favourable point of ranges, the steps the values as they are stated.
  const stated = overRange ? 'at the stated values ' : '';
  const parts = [
    decisive.length > 0 ? `${criterion}: ${stated}${decisive.join(', ')}` : criterion,
    ...(judgedOn === undefined ? [] : [`judged on ${judgedOn}`]),
    ...(missing.length > 0 ? [`not given: ${missing.join(', ')}`] : []),
  ];
  return [
    ...wrapText(parts.join('; '), 6, width, 'quiet'),
    ...(overRange ? wrapText(overRange.sentence, 6, width) : []),
  ];
}

/** The values from which those come that are set against each other: of a ratio its two voltages, which say more than the ratio again. */
function namesBehind({ restsOn }: WordedCheck, { steps }: WordedCalculation): string[] {
  const names = restsOn.flatMap((name) => steps.find((step) => step.name === name)?.uses ?? []);
  return [...new Set(names)].slice(0, MOST_VALUES);
}

/** The results of a calculation that judges nothing: those on which none of its others rests. */
export function linesOfResults(calculation: WordedCalculation, width: number | undefined): Line[] {
  const used = new Set(calculation.steps.flatMap(({ uses }) => uses));
  const names = calculation.steps.map(({ name }) => name).filter((name) => !used.has(name));
  const told = listValues(calculation, names.slice(0, MOST_RESULTS));
  const rest = names.length - MOST_RESULTS;
  if (told.length === 0) return [];
  return wrapText([...told, ...(rest > 0 ? [`and ${rest} more`] : [])].join(', '), 4, width);
}

/** 'terminal_voltage 182 kV', as far as these are values that can be told in a few words. */
function listValues({ steps, givens }: WordedCalculation, names: readonly string[]): string[] {
  return names.flatMap((name) => {
    const result = steps.find((step) => step.name === name)?.result;
    const print = result ? textOf(result) : givens.find((given) => given.name === name)?.text;
    return print === undefined || print === '' ? [] : [`${name} ${print}`];
  });
}

function textOf(result: ResultValue<string>): string {
  switch (result.type) {
    case 'number':
      return result.displayed.text;
    case 'words':
      return result.words;
    case 'choice':
      return result.choice;
    case 'list':
      return result.items.map((item) => item.displayed.text).join('; ');
  }
}
