import type { Problem } from '../../diagnostics/problem.ts';

/** Something wrong in a definition, with the part of it: 'steps.lead_drop.formula'. */
export interface DefinitionFault {
  readonly where: string;
  readonly problem: Problem;
}
