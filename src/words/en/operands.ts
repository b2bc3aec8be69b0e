import type { Sentence } from '../sentence.ts';
import type { Put } from '../words.ts';

/** The values from which something was to be computed. */
export const OPERAND_WORDS = {
  'operand.list': (d: { operands: readonly Sentence[] }, put: Put) => d.operands.map(put).join(', '),
  'operand.whole': (d: { name: string; items: readonly string[] }) => `${d.name} = ${d.items.join('; ')}`,
  'operand.shortened': (d: { name: string; items: readonly string[]; count: number }) =>
    `${d.name} = ${d.items.join('; ')}; ... (${d.count} items)`,
};
