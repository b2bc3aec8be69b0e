import { ACTION_WORDS } from './actions.ts';
import { BASIS_WORDS } from './basis.ts';
import { CAUTION_WORDS } from './cautions.ts';
import { CHECK_WORDS } from './checks.ts';
import { GIVEN_WORDS } from './givens.ts';
import { LIMITING_WORDS } from './limiting.ts';
import { OPERAND_WORDS } from './operands.ts';
import { RANGE_WORDS } from './ranges.ts';
import { STEP_WORDS } from './steps.ts';
import { TALLY_WORDS } from './tallies.ts';
import { VERDICT_WORDS } from './verdicts.ts';

/** English for every sentence that the engine makes by itself; the texts of a definition stand in the definition. */
export const ENGLISH_TABLE = {
  ...VERDICT_WORDS,
  ...TALLY_WORDS,
  ...ACTION_WORDS,
  ...CHECK_WORDS,
  ...RANGE_WORDS,
  ...LIMITING_WORDS,
  ...CAUTION_WORDS,
  ...GIVEN_WORDS,
  ...STEP_WORDS,
  ...BASIS_WORDS,
  ...OPERAND_WORDS,
  /** Before the last of several. */
  and: 'and',
};
