/** What a sketch for a survey may know: which givens the form asks for, and what all rows have in common. */
export interface SketchView {
  /** The mark under which the form asks for a given: '(3)'; undefined where it does not ask for it. */
  mark(given: string): string | undefined;
  /** The option of a choice that all rows have; undefined where they differ. */
  choice(given: string): string | undefined;
}

/** Where a person who stands in front of the thing measures what a calculation asks for. */
export interface SurveySketch {
  readonly caption: string;
  /** Of a given from where to where, and how. */
  readonly measures: Readonly<Record<string, string>>;
  /** SVG text; each given of `measures` that the form asks for bears its mark. */
  readonly draw: (view: SketchView) => string;
}
