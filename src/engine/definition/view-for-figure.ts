import { NotDrawable } from '../figures/not-drawable.ts';
import type { EvaluatedCheck } from './evaluated.ts';
import type { FigureView } from './figure-view.ts';
import { isNumbers } from './rows.ts';
import { displayIn, type ShowContext } from './show-step.ts';
import { labelText, type ResultOf } from './shown-text.ts';
import { readableValues } from './work-step.ts';

/** What a figure sees of its block. */
export function viewForFigure(
  context: ShowContext,
  resultOf: ResultOf,
  checks: readonly EvaluatedCheck[],
): FigureView {
  return {
    ...readableValues(
      (name) => context.state.values.get(name),
      (name) => {
        throw new NotDrawable(`a figure asks for '${name}', which is not there`);
      },
    ),
    shown: (name) => {
      const result = resultOf(name);
      return result?.type === 'number' ? result.displayed.print : labelText(context, name);
    },
    shownItems: (name) => {
      const value = context.state.values.get(name);
      if (typeof value !== 'object' || !isNumbers(value)) {
        throw new NotDrawable(`a figure asks for the list '${name}', which is not there`);
      }
      return value.map((si, i) => displayIn(context, name, si, i).print);
    },
    verdict: (name) => checks.find((check) => check.name === name)?.verdict,
    drawn: (solution) => {
      const outcome = context.state.solutions.get(solution);
      return outcome && 'results' in outcome ? outcome.drawn : undefined;
    },
  };
}
