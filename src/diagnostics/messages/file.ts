import type { Wording } from '../wording.ts';

export const fileMessages = {
  'file-unreadable': (d: { reason: string }): Wording => ({
    message: `the file cannot be read: ${d.reason}`,
    hint: 'put a readable text file there, inside the project folder',
  }),
  'changed-since-read': (_: Record<string, never>): Wording => ({
    message: 'the file was changed after it was read: what is written now follows from what it held before',
    hint: 'run the command again, for what the file holds now',
  }),
  'file-too-large': (d: { size: number; most: number }): Wording => ({
    message: `the file has ${d.size} bytes; a text of a project has at most ${d.most}`,
    hint: 'divide it into several notes, and save drawings and photographs as files of their own',
  }),
  'not-utf8': (_: Record<string, never>): Wording => ({
    message: 'the file is not UTF-8 from here on',
    hint: 'save it as UTF-8',
  }),
  'image-missing': (d: { address: string }): Wording => ({
    message: `the image '${d.address}' does not exist`,
    hint: 'addresses count from the folder of the note',
  }),
  'image-unreadable': (d: { address: string; reason: string }): Wording => ({
    message: `the image '${d.address}' cannot be used: ${d.reason}`,
    hint: 'save it again as PNG, JPEG or SVG',
  }),
  'name-not-portable': (d: { name: string }): Wording => ({
    message: `the PDF carries its source, and cannot carry a file named ${JSON.stringify(d.name)}`,
    hint: 'name it so that every system takes it: letters, digits, blanks, -, _ and ., none of them hidden',
  }),
  'names-differ-by-case': (d: { name: string; other: string }): Wording => ({
    message: `the PDF carries its source, and '${d.other}' and '${d.name}' are one file where upper and lower case are not distinguished`,
    hint: 'rename one of them',
  }),
  'file-names-alike': (d: { name: string; other: string }): Wording => ({
    message: `'${d.other}' and '${d.name}' are one file where upper and lower case, or the ways to store an accent, are not distinguished`,
    hint: 'rename one of them: elsewhere only one of the two would be there',
  }),
  'document-passed-over': (d: { ends: string }): Wording => ({
    message: 'the file is passed over: its name ends almost, but not quite, like that of a document',
    hint: `if it is one, let its name end with ${d.ends}, in small letters`,
  }),
  'source-too-large': (d: { size: number; most: number }): Wording => ({
    message: `the PDF carries its source; the files that the note uses have ${d.size} bytes together, more than ${d.most}`,
    hint: 'use smaller images',
  }),
  'results-missing': (_: Record<string, never>): Wording => ({
    message: 'there are no recorded results',
    hint: 'compile without --locked and commit the file',
  }),
  'results-would-change': (d: { removed: number; added: number }): Wording => ({
    message: `the recorded results would change from here on: ${d.removed} lines go, ${d.added} come`,
    hint: 'compile without --locked, read the difference and commit the file',
  }),
  'print-differs': (d: { prints: number }): Wording => ({
    message: `the PDF is not the recorded one: ${d.prints} prints of the same page with the same browser gave a different one`,
    hint: 'look through the PDF; compile without --locked records it',
  }),
  'print-record-damaged': (_: Record<string, never>): Wording => ({
    message: 'this is not the record of a print, and the PDF is compared with none',
    hint: 'compile without --locked writes it anew',
  }),
};
