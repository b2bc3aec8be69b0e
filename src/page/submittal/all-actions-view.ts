import { compareUrgency } from '../../evaluation/actions/action.ts';
import { listActions } from '../../evaluation/actions/list-actions.ts';
import { viewAction } from '../actions-view.ts';
import { scopedId } from './scope-ids.ts';
import type { PartContext } from './submittal-context.ts';

/** What is to be done by all notes, the most urgent first; of the same urgency in the order of the notes. */
export function viewAllActions(parts: readonly PartContext[]) {
  return parts
    .flatMap((part) => listActions(part.context.note).map((action) => ({ part, action })))
    .sort((a, b) => compareUrgency(a.action.urgency, b.action.urgency))
    .map(({ part: { scope, context }, action }, i) => {
      const view = viewAction(action, i + 1, context);
      return {
        ...view,
        calculation: { ...view.calculation, id: scopedId(scope, view.calculation.id) },
        findings: view.findings.map((one) => ({ ...one, target: scopedId(scope, one.target) })),
        variants: view.variants.map((one) => ({ ...one, id: scopedId(scope, one.id) })),
      };
    });
}
