import { NotDrawable } from '../figures/not-drawable.ts';
import type { FigureDefinition } from './definition.ts';
import type { EvaluatedCaution } from './evaluated.ts';
import type { FigureView } from './figure-view.ts';

/** A figure as far as it can be drawn, and what the note says where it cannot. */
export interface DrawnFigure {
  readonly figure?: { readonly caption: string; readonly svg: string };
  readonly cautions: readonly EvaluatedCaution[];
}

/** A figure illustrates: values that evaluate and cannot be drawn cost the figure, never the calculation. */
export function drawOrLeaveOut(figure: FigureDefinition | undefined, view: FigureView): DrawnFigure {
  if (!figure) return { cautions: [] };
  try {
    const svg = figure.draw(view);
    return svg === undefined ? { cautions: [] } : { figure: { caption: figure.caption, svg }, cautions: [] };
  } catch (error) {
    if (!(error instanceof NotDrawable)) throw error;
    return { cautions: [FIGURE_LEFT_OUT] };
  }
}

/** What the note says in place of a figure that cannot be drawn. */
export const FIGURE_LEFT_OUT: EvaluatedCaution = {
  id: 'figure-left-out',
  text: 'The figure of this calculation is left out: its values are beyond what can be drawn.',
};
