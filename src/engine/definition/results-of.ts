import { type ShowContext, showResult } from './show-step.ts';
import type { ResultOf } from './shown-text.ts';
import type { ResultValue } from './value.ts';

/** The results of steps as they are printed, each made when it is first asked for. */
export function resultsOf(context: ShowContext): ResultOf {
  const shown = new Map<string, ResultValue | undefined>();
  return (name) => {
    if (shown.has(name)) return shown.get(name);
    const step = context.calculation.steps.find((one) => one.name === name);
    const result = step && showResult(context, step);
    shown.set(name, result);
    return result;
  };
}
