import type { FigureView } from './figure-view.ts';
import { fillSentence } from './fill-sentence.ts';
import { displayIn, type ShowContext } from './show-step.ts';

/** Puts displayed values into `{name}`. */
export function fillIn(context: ShowContext, text: string, view?: FigureView): string {
  return fillSentence(text, (name) => view?.shown(name) ?? shownText(context, name));
}

/** A value as a sentence shows it: displayed, or the words in its place. */
export function shownText(context: ShowContext, name: string): string {
  const words = context.state.words.get(name);
  if (words !== undefined) return words;
  const value = context.state.values.get(name);
  if (typeof value === 'string') return value;
  return typeof value === 'number' ? displayIn(context, name, value).print : '-';
}
