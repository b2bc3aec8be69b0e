import { listActionViews, numberActions, sayOrderOfActions } from '../actions-view.ts';
import { scopedId } from './scope-ids.ts';
import type { PartContext } from './submittal-context.ts';

/** What is to be done by all notes, the most urgent first; of the same urgency in the order of the notes. */
export function viewAllActions(parts: readonly PartContext[]) {
  const actions = parts.flatMap(({ scope, context }) =>
    listActionViews(context).map((action) => ({ ...action, scope })),
  );
  const rows = numberActions(actions).map(({ place, view, scope }) => ({
    place,
    ...view,
    calculation: { ...view.calculation, id: scopedId(scope, view.calculation.id) },
    findings: view.findings.map((one) => ({ ...one, target: scopedId(scope, one.target) })),
    variants: view.variants.map((one) => ({ ...one, id: scopedId(scope, one.id) })),
  }));
  return { actions: rows, ordered: sayOrderOfActions(actions) };
}
