import type { TakenValue } from '../evaluation/other-notes/taken-value.ts';
import type { ReliedOnNote } from '../review/sign-off/relied-on-notes.ts';
import type { Locale } from '../words/locales.ts';
import { wordDays } from '../words/word-day.ts';
import type { Words } from '../words/words.ts';
import { otherNoteId } from './ids.ts';
import type { NoteContext, ShownOtherNote } from './note-context.ts';

/** What is said of the state of another note where nobody has looked at its sign-offs. */
const NOT_EXAMINED = { sound: false, words: 'sign-off not examined' };

/** The notes on which a note rests, by the numbers of their files, as its page names them. */
export function listOtherNotes(
  taken: readonly TakenValue[],
  restsOn: readonly ReliedOnNote[],
  prefix: string,
  { words, locale }: { readonly words: Words; readonly locale: Locale },
): readonly ShownOtherNote[] {
  const direct = [...new Map(taken.map(({ from }) => [from.path, from])).values()];
  const states = new Map(restsOn.map((one) => [one.note.path, one.state]));
  const others = restsOn.length > 0 ? restsOn : direct.map((note) => ({ note, through: [] }));
  return others.map(({ note, through }) => {
    const { sound, words: state } = states.get(note.path) ?? NOT_EXAMINED;
    const id = otherNoteId(`${prefix}${note.fileNumber}`);
    const values = taken
      .filter(({ from }) => from.path === note.path)
      .map(({ target, blockTitle, meaning }) => ({
        target,
        calculation: words.word(blockTitle),
        meaning: meaning === undefined ? '' : words.word(meaning),
      }));
    return { ...note, id, state: wordDays(state, locale), sound, through, values };
  });
}

/** Of each note on which a note rests its state, and the values that are taken from it; undefined where it rests on none. */
export function viewOtherNotes({ otherNotes, note, words }: NoteContext) {
  if (otherNotes.length === 0) return undefined;
  const rows = otherNotes.map(
    ({ id, path, fileNumber, number, title, revision, date, state, sound, through }) => ({
      id,
      number,
      title,
      mark: fileNumber,
      revision,
      date,
      state,
      sound,
      through: through.join(', '),
      values: note.taken
        .filter(({ from }) => from.path === path)
        .map(({ target, meaning, blockTitle, value }) => ({
          meaning: words.word(meaning ?? blockTitle),
          limiting: /\.limiting\./.test(target),
          calculation: meaning === undefined ? '' : words.word(blockTitle),
          print: value.type === 'choice' ? value.print.replaceAll('-', ' ') : words.word(value.print),
        })),
    }),
  );
  return { rows, anyUnsound: rows.some(({ sound }) => !sound) };
}
