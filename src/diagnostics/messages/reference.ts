import type { Text } from '../../words/sentence.ts';
import { ENGLISH } from '../../words/words.ts';
import type { Wording } from '../wording.ts';

export const referenceMessages = {
  'unknown-block': (d: {
    /** Undefined where the register has entries under that name, but not this one. */
    id: string | undefined;
    target: string;
    nearest: string | undefined;
  }): Wording => ({
    message: `'${d.target}' refers to nothing: there is no ${d.id === undefined ? 'such register entry' : `block or register entry '${d.id}'`}`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : 'write block-id.name, or the path of a register entry',
  }),
  'unknown-name': (d: {
    id: string;
    name: string;
    nearest: string | undefined;
    known: readonly string[];
  }): Wording => ({
    message: `block '${d.id}' has no result or given '${d.name}'`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : `it has: ${d.known.join(', ')}`,
  }),
  'absent-name': (d: { id: string; name: string }): Wording => ({
    message: `block '${d.id}' knows '${d.name}', but it has no value there`,
    hint: 'give that block what it needs to compute it',
  }),
  'no-number': (d: { target: string; words: Text }): Wording => ({
    message: `'${d.target}' has no number: '${ENGLISH.word(d.words)}'`,
    hint: 'take another value, or leave it out',
  }),
  'reference-kind': (d: { target: string; found: string; expected: string }): Wording => ({
    message: `'${d.target}' is ${d.found}, and ${d.expected} is needed here`,
  }),
  'reference-cycle': (d: { chain: readonly string[] }): Wording => ({
    message: `the blocks refer to each other in a circle: ${d.chain.join(' -> ')}`,
    hint: 'one of these values must be given as a number',
  }),
  'register-not-plain': (d: { path: string }): Wording => ({
    message: `the register entry '${d.path}' must be a plain value with an optional source`,
    hint: 'write for example { value: 75 kV peak, source: nameplate }',
  }),
};
