import type { Text } from '../../words/sentence.ts';
import { ENGLISH } from '../../words/words.ts';
import type { Wording } from '../wording.ts';
import { shorten } from '../words.ts';

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
    message: `block '${d.id}' has a '${d.name}', but no value for it`,
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
  'malformed-note-reference': (d: { target: string }): Wording => ({
    message: `'${shorten(d.target)}' does not name a value of another note`,
    hint: 'write the digits with which the file name of that note begins, a slash, and the block and a name of it: 201/supply.line_lead',
  }),
  'unknown-note': (d: {
    number: string;
    nearest: string | undefined;
    known: readonly string[];
  }): Wording => ({
    message: `there is no note ${d.number}: no file name in the project's folder begins with that number`,
    hint: d.nearest
      ? `did you mean ${d.nearest}?`
      : d.known.length > 0
        ? `the notes are: ${shorten(d.known.join(', '))}`
        : 'a note that others refer to has a file name that begins with its number: 201-risk.md',
  }),
  'own-number': (d: { number: string; local: string }): Wording => ({
    message: `${d.number} is the number of this note itself`,
    hint: `write '${d.local}', without the number`,
  }),
  'note-number-twice': (d: { number: string; files: readonly string[] }): Wording => ({
    message: `${d.files.length} notes have the number ${d.number}: ${d.files.join(', ')}`,
    hint: 'give all but one of these files another number',
  }),
  'note-at-fault': (d: { number: string; file: string }): Wording => ({
    message: `note ${d.number} has errors, so that none of its values can be taken`,
    hint: `correct ${d.file} first: surgenote evaluate ${d.file} lists its errors`,
  }),
  'notes-in-circle': (d: { chain: readonly string[] }): Wording => ({
    message: `the notes refer to each other in a circle: ${d.chain.join(' -> ')}`,
    hint: 'of two notes only one may depend on the other: write one of these values as a number, with its source',
  }),
  'unknown-block-of-note': (d: {
    id: string;
    file: string;
    nearest: string | undefined;
    known: readonly string[];
  }): Wording => ({
    message: `${d.file} has no calculation '${d.id}'`,
    hint: d.nearest
      ? `did you mean '${d.nearest}'?`
      : `it has: ${shorten(d.known.join(', ')) || 'none'}; an entry of the register is written without the number of a note`,
  }),
  'register-not-plain': (d: { path: string }): Wording => ({
    message: `the register entry '${d.path}' must be a plain value with an optional source`,
    hint: 'write for example { value: 75 kV peak, source: nameplate }',
  }),
};
