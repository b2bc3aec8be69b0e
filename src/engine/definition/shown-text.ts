import { type Datum, PLACEHOLDER, type SentenceData } from '../../words/sentence.ts';
import { ownWords } from './own-text.ts';
import { displayIn, type ShowContext, shownUnit } from './show-step.ts';
import { numberShown, type ResultValue } from './value.ts';

/** What a step shows as its result, by its name; undefined for what is none, or was left out. */
export type ResultOf = (name: string) => ResultValue | undefined;

/** The data of a text with `{name}` in it: the values of these names, of steps as `resultOf` shows them. */
export function dataIn(context: ShowContext, text: string, resultOf?: ResultOf): SentenceData {
  return Object.fromEntries(
    [...text.matchAll(PLACEHOLDER)].map(([, name]) => {
      const result = resultOf?.(name!);
      return [name!, result?.type === 'number' ? result : shownDatum(context, name!)];
    }),
  );
}

/** A value as a sentence shows it: displayed, or what stands in its place. */
function shownDatum(context: ShowContext, name: string): Datum {
  const { calculation, state } = context;
  const words = state.words.get(name);
  if (words !== undefined) return ownWords(calculation, words);
  const value = state.values.get(name);
  if (typeof value === 'string') return value;
  if (typeof value !== 'number') return '-';
  return numberShown(value, shownUnit(context, name), () => displayIn(context, name, value));
}

/** The text of a value for the label of a drawing. */
export function labelText(context: ShowContext, name: string): string {
  const words = context.state.words.get(name);
  const value = words ?? context.state.values.get(name);
  if (typeof value === 'string') return value;
  return typeof value === 'number' ? displayIn(context, name, value).print : '-';
}
