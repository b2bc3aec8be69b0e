import { say, type Text } from '../../words/sentence.ts';
import { NotDrawable } from '../figures/not-drawable.ts';
import type { CompiledCalculation } from './compiled.ts';
import type { EvaluatedCaution } from './evaluated.ts';
import type { FigureView } from './figure-view.ts';
import { ownText } from './own-text.ts';

/** A figure as far as it can be drawn, and what the note says where it cannot. */
export interface DrawnFigure {
  readonly figure?: { readonly caption: Text; readonly svg: string };
  readonly cautions: readonly EvaluatedCaution[];
}

/** A figure illustrates: values that evaluate and cannot be drawn cost the figure, never the calculation. */
export function drawOrLeaveOut(calculation: CompiledCalculation, view: FigureView): DrawnFigure {
  const { figure } = calculation.definition;
  if (!figure) return { cautions: [] };
  try {
    const svg = figure.draw(view);
    if (svg === undefined) return { cautions: [] };
    return { figure: { caption: ownText(calculation, 'figure.caption', figure.caption), svg }, cautions: [] };
  } catch (error) {
    if (!(error instanceof NotDrawable)) throw error;
    return { cautions: [FIGURE_LEFT_OUT] };
  }
}

/** What the note says in place of a figure that cannot be drawn. */
export const FIGURE_LEFT_OUT: EvaluatedCaution = {
  id: 'figure-left-out',
  text: say('caution.figure-left-out', {}),
};
