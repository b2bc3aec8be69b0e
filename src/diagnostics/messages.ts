import { calculationMessages } from './messages/calculation.ts';
import { csvMessages } from './messages/csv.ts';
import { definitionMessages } from './messages/definition.ts';
import { documentMessages } from './messages/document.ts';
import { fileMessages } from './messages/file.ts';
import { formulaMessages } from './messages/formula.ts';
import { quantityMessages } from './messages/quantity.ts';
import { referenceMessages } from './messages/reference.ts';
import { registerMessages } from './messages/register.ts';
import { scheduleMessages } from './messages/schedule.ts';
import { signOffMessages } from './messages/sign-off.ts';
import { sourceMessages } from './messages/source.ts';
import { submittalMessages } from './messages/submittal.ts';
import { variantMessages } from './messages/variant.ts';
import type { Wording } from './wording.ts';

/**
 * Every message that surgenote gives about a project's source: code -> words. Deep code names the code and its data;
 * the words stand in the files of `messages/` and nowhere else.
 */
export const messages = {
  ...quantityMessages,
  ...formulaMessages,
  ...sourceMessages,
  ...csvMessages,
  ...scheduleMessages,
  ...documentMessages,
  ...fileMessages,
  ...calculationMessages,
  ...definitionMessages,
  ...referenceMessages,
  ...registerMessages,
  ...signOffMessages,
  ...variantMessages,
  ...submittalMessages,
};

export type Code = keyof typeof messages;
export type DataOf<C extends Code> = Parameters<(typeof messages)[C]>[0];

export function wordMessage<C extends Code>(code: C, data: DataOf<C>): Wording {
  return (messages[code] as (data: DataOf<C>) => Wording)(data);
}
