import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { ReliedOnNote } from '../review/sign-off/relied-on-notes.ts';
import { type Finding, type FindingState, stateOfAll } from './finding.ts';
import { verifySignOffs } from './verify-sign-offs.ts';

/**
 * Of which notes and revisions the values are that a note takes from others, and whether these are signed off: they were computed from
 * the source of these notes in the PDF, and whether the recorded ones are the same is told with the results.
 *
 * @param ownList whether the reader gave a list of signers
 */
export function verifyOtherNotes(
  { taken }: EvaluatedNote,
  restsOn: readonly ReliedOnNote[],
  ownList: boolean,
): readonly Finding[] {
  return restsOn.map(({ note, state, signOffs, through }) => {
    const { number, revision, date, fileNumber, path } = note;
    const targets = taken.filter(({ from }) => from.path === path).map(({ target }) => target);
    const what =
      targets.length > 0
        ? `${targets.join(', ')} computed from the source in the PDF of`
        : `through ${through.join(', ')} the values rest on`;
    const judged = verifySignOffs(signOffs, ownList);
    return {
      about: `note ${fileNumber}`,
      state: worstOf(stateOfAll(judged), state.sound),
      text: `${what} ${number} revision ${revision}, ${date}: ${state.words}`,
      detail: judged.map(({ about, state: found, text }) => `${about}: ${found}: ${text}`).join('\n'),
    };
  });
}

/** What is withdrawn or superseded proves nothing any more, whoever has signed it. */
function worstOf(signOffs: FindingState, sound: boolean): FindingState {
  return signOffs === 'proven' && !sound ? 'not proven' : signOffs;
}
