import type { Wording } from '../wording.ts';
import { quoteList, shorten } from '../words.ts';

type Nothing = Record<string, never>;

/** A submittal: several notes as one document. */
export const submittalMessages = {
  'submittal-without-notes': (_: Nothing): Wording => ({
    message: 'the submittal lists no note',
    hint: 'write the notes in their order, each on a line of its own: - 201',
  }),
  'submittal-unknown-note': (d: {
    written: string;
    known: readonly string[];
    nearest: string | undefined;
  }): Wording => ({
    message: `the project has no note '${shorten(d.written)}'`,
    hint: d.nearest
      ? `did you mean ${d.nearest}?`
      : `write the number with which the name of its file begins, or the file${d.known.length > 0 ? `; the notes are ${shorten(quoteList(d.known, 'and'), 200)}` : ''}`,
  }),
  'submittal-note-ambiguous': (d: { written: string; files: readonly string[] }): Wording => ({
    message: `the names of ${d.files.length} notes begin with ${shorten(d.written)}: ${d.files.join(', ')}`,
    hint: 'give each note a number of its own, or write the file',
  }),
  'submittal-note-twice': (d: { file: string }): Wording => ({
    message: `the note ${d.file} is in the list twice`,
    hint: 'take it out here: a document holds a note once',
  }),
  'submittal-note-at-fault': (d: { file: string }): Wording => ({
    message: `the note ${d.file} has errors, and no document can be made with it`,
    hint: `correct them first: surgenote evaluate ${d.file} lists them`,
  }),
  'submittal-notes-alike': (d: { name: string; file: string; other: string }): Wording => ({
    message: `within the document ${d.file} and ${d.other} would both be called ${d.name}`,
    hint: 'let the names of their files begin with different numbers',
  }),
  'submittal-notes-differ': (d: {
    file: string;
    what: 'page size' | 'language';
    value: string;
    other: string;
    otherValue: string;
  }): Wording => ({
    message: `the ${d.what} of ${d.file} is ${d.value}, that of ${d.other} ${d.otherValue}: one document has one ${d.what}`,
    hint: `write the same ${d.what === 'language' ? 'locale' : 'page_size'}: into the front matter of all notes of the submittal`,
  }),
  'submittal-value-without-note': (d: { target: string }): Wording => ({
    message: `'${shorten(d.target)}' does not say of which note it is`,
    hint: 'write the number of the note before it: {{ 201/block.name }}',
  }),
  'submittal-value-elsewhere': (d: { number: string; known: readonly string[] }): Wording => ({
    message: `the submittal lists no note ${d.number}`,
    hint: `only values of its own notes can be in its introduction${d.known.length > 0 ? `: ${quoteList(d.known, 'and')}` : ''}`,
  }),
};
