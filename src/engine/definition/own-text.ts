import type { SentenceData, Text } from '../../words/sentence.ts';
import type { CompiledCalculation } from './compiled.ts';
import type { Chosen } from './evaluated.ts';

/**
 * A text of a definition as a sentence, by the way to it: 'checks.melting.criterion' of `conductor-heating` has the key
 * 'conductor-heating.checks.melting.criterion'. What an author has written himself is printed as he wrote it.
 *
 * @param english the text as the definition has it, with `{name}` for data
 */
export function ownText(
  { definition }: Pick<CompiledCalculation, 'definition'>,
  way: string,
  english: string,
  data: SentenceData = {},
): Text {
  const isPlain = definition.byAuthor && Object.keys(data).length === 0;
  return isPlain ? english : { key: `${definition.name}.${way}`, data, english };
}

/** The words that a step gives in place of a number, by the first step that may give them. */
export function ownWords(calculation: CompiledCalculation, words: string): Text {
  for (const { name, words: conditional, work } of calculation.steps) {
    const place = conditional.findIndex(({ says }) => says === words);
    if (place >= 0) return ownText(calculation, `steps.${name}.words.${place}`, words);
    const said = work.kind === 'solver' ? (work.step.says ?? []).indexOf(words) : -1;
    if (said >= 0) return ownText(calculation, `steps.${name}.says.${said}`, words);
  }
  return words;
}

/** What a name stands for: a given, a column, a step. */
export function ownMeaning(calculation: CompiledCalculation, name: string): Text {
  const [table, column] = name.split('.');
  const given = calculation.givens.get(table!)?.definition;
  if (given?.type === 'rows' && column !== undefined) {
    const meaning = given.columns[column]?.meaning;
    return meaning === undefined ? name : ownText(calculation, `givens.${table}.${column}.meaning`, meaning);
  }
  if (given) return ownText(calculation, `givens.${name}.meaning`, given.meaning);
  const step = calculation.steps.find((one) => one.name === name);
  return step ? ownText(calculation, `steps.${name}.meaning`, step.definition.meaning) : name;
}

/** An option of a choice, in a given or in a column, with its words; the option itself where the definition has none. */
export function ownOption(calculation: CompiledCalculation, name: string, option: string): Chosen {
  const [table, column] = name.split('.');
  const given = calculation.givens.get(table!)?.definition;
  const choice = given?.type === 'rows' ? given.columns[column ?? ''] : given;
  const words = choice?.type === 'choice' ? choice.options[option] : undefined;
  return {
    option,
    words: words === undefined ? option : ownText(calculation, `givens.${name}.options.${option}`, words),
  };
}
