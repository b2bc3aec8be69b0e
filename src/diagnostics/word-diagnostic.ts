import { nameLookAlikes } from './look-alikes.ts';
import { type Code, type DataOf, wordMessage } from './messages.ts';
import type { Wording } from './wording.ts';

/** The words of a message with its data; long texts are cut, and letters that only look like ours are named. */
export function wordDiagnostic({ code, data }: { readonly code: Code; readonly data: object }): Wording {
  const { message, hint } = wordMessage(code, cut(data) as DataOf<Code>);
  const alike = REFUSES_WORDS.test(code) ? nameLookAlikes(quoted(data)) : '';
  return {
    message: alike === '' ? message : `${message}; ${alike}`,
    ...(hint === undefined ? {} : { hint }),
  };
}

/** Messages that refuse a word as it is spelt, and the data in which they quote it. */
const REFUSES_WORDS =
  /^(?:unknown-|malformed-|not-a-(?:quantity|unit|date)|not-an-option|no-such-option|formula-character|reference-incomplete|missing-operator)/;
const QUOTED = [
  'text',
  'unit',
  'name',
  'key',
  'word',
  'character',
  'option',
  'column',
  'target',
  'caution',
  'right',
];

function quoted(data: object): string {
  const words = Object.entries(data).filter(
    ([key, value]) => QUOTED.includes(key) && typeof value === 'string',
  );
  return words
    .map(([, word]) => word as string)
    .join('')
    .slice(0, LONGEST_QUOTE);
}

const LONGEST_QUOTE = 200;

/** The data with long texts cut: a message quotes enough of a text to know it by. */
function cut(data: object): object {
  const entries = Object.entries(data).map(([key, value]) => {
    const long = typeof value === 'string' && value.length > LONGEST_QUOTE;
    return [key, long ? `${value.slice(0, LONGEST_QUOTE - 1)}…` : value];
  });
  return Object.fromEntries(entries);
}
