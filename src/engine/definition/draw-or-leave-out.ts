import { say, type Text } from '../../words/sentence.ts';
import { NotDrawable } from '../figures/not-drawable.ts';
import { tryDrawing } from '../figures/trial-drawing.ts';
import type { CompiledCalculation } from './compiled.ts';
import type { EvaluatedCaution } from './evaluated.ts';
import type { FigureView } from './figure-view.ts';
import { once } from './once.ts';
import { ownText } from './own-text.ts';

/** A figure as far as it can be drawn, and what the note says where it cannot. */
export interface DrawnFigure {
  readonly figure?: { readonly caption: Text; readonly svg: string };
  readonly cautions: readonly EvaluatedCaution[];
}

/**
 * A figure illustrates: values that evaluate and cannot be drawn cost the figure, never the calculation. Whether they can be drawn is tried at once;
 * drawn with its labels it is for whoever asks for its SVG.
 */
export function drawOrLeaveOut(calculation: CompiledCalculation, view: FigureView): DrawnFigure {
  const { figure } = calculation.definition;
  if (!figure) return { cautions: [] };
  try {
    if (tryDrawing(() => figure.draw({ ...view, shown: () => ANY_NUMBER })) === undefined)
      return { cautions: [] };
  } catch (error) {
    if (!(error instanceof NotDrawable)) throw error;
    return { cautions: [FIGURE_LEFT_OUT] };
  }
  const caption = ownText(calculation, 'figure.caption', figure.caption);
  return { figure: figureOf(caption, () => figure.draw(view)!), cautions: [] };
}

/** What stands in a drawing that nobody reads. */
const ANY_NUMBER = '1';

/** A figure that is drawn when its SVG is asked for. */
export function figureOf<T extends Text>(
  caption: T,
  draw: () => string,
): { readonly caption: T; readonly svg: string } {
  const svg = once(draw);
  return {
    caption,
    get svg() {
      return svg();
    },
  };
}
/** What the note says in place of a figure that cannot be drawn. */
export const FIGURE_LEFT_OUT: EvaluatedCaution = {
  id: 'figure-left-out',
  text: say('caution.figure-left-out', {}),
};
