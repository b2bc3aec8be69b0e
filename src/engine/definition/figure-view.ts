import type { SolverValues } from './definition.ts';

/** What a figure sees of its block: SI numbers for geometry, displayed texts for labels, verdicts. */
export interface FigureView extends SolverValues {
  /** The value as printed: '126 kV'; the words where there is no number. */
  shown(name: string): string;
  /** The values of a list, or of a column of a table, each as printed. */
  shownItems(name: string): readonly string[];
  /** The verdict of a check, or undefined where the check was left out. */
  verdict(check: string): string | undefined;
  /** What a solution gave to be drawn; undefined where it was not worked. */
  drawn(solution: string): unknown;
}
