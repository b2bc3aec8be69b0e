import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { viewAssumptions, viewHolds } from './annex-views.ts';
import type { RegisterPlaces } from './render-body.ts';

/** Assumptions and open points of a note, with the sections in which the author sets them out. */
export function viewRegisters({ source }: EvaluatedNote, places: RegisterPlaces) {
  const assumptions = viewAssumptions(source.assumptions, source.frontMatter.locale);
  const holds = viewHolds(source.holds, source.frontMatter.locale);
  return {
    assumptions,
    unconfirmed: assumptions.filter(({ noticed }) => noticed),
    holds,
    open: holds.filter(({ noticed }) => noticed),
    ownReferences: source.references.length,
    places,
  };
}
