import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import { judgedCases, requirementsComply, tallyVerdicts } from '../evaluation/tally-verdicts.ts';
import { caseTitle } from '../page/case-titles.ts';
import { fillTemplate } from '../page/templates.ts';
import { wordTally } from '../page/word-tally.ts';
import { faultsOf } from './fault-view.ts';
import type { GoodPage, LiveProject } from './live-project.ts';
import type { NoteReading, SoundNote } from './preview-reading.ts';

/** The list of all notes, as the inner HTML of the page that shows it. */
export function renderList(project: LiveProject): string {
  const { reading, failure, notice } = project;
  const general = reading ? faultsOf(reading.diagnostics, reading.texts) : [];
  return fillTemplate('preview-list', {
    failure: failure ?? '',
    notice: notice ?? '',
    isFirstReading: reading === undefined && failure === undefined,
    general,
    notes: (reading?.notes ?? []).map((note) => viewRow(note, project.goodPage(note.path))),
  });
}

function viewRow(note: NoteReading, good: GoodPage | undefined) {
  const errors = countErrors(note.diagnostics);
  return {
    href: noteAddress(note.path),
    number: note.number,
    title: note.title === '' ? note.path : note.title,
    revision: note.revision,
    path: note.path,
    fault: errors === 0 ? '' : wordErrors(errors, good !== undefined),
    cases: good ? viewCases(good.sound) : [],
    signOffs: good ? viewSigns(good.sound) : [],
    mark: good && good.sound.review.mark !== 'none' ? good.sound.review.mark : '',
  };
}

/** The address of the page about a note. */
export function noteAddress(path: string): string {
  return `/note/${encodeURIComponent(path)}`;
}

/** '2 errors: the page is that of the last source without errors' */
export function wordErrors(errors: number, hasPage: boolean): string {
  const count = errors === 1 ? '1 error' : `${errors} errors`;
  return `${count}: ${hasPage ? 'the page is that of the last source without errors' : 'no page can be set'}`;
}

export function countErrors(diagnostics: readonly Diagnostic[]): number {
  return diagnostics.filter(({ severity }) => severity === 'error').length;
}

/** The verdicts of a note, case by case, in words. */
export function viewCases({ note }: Pick<SoundNote, 'note'>) {
  return tallyVerdicts(judgedCases(note)).flatMap(({ case: ofCase, required, ...tally }) => {
    const words = wordTally(tally);
    if (words === '') return [];
    return [
      {
        title: caseTitle(ofCase),
        words,
        isOpen: required && !requirementsComply([{ case: ofCase, required, ...tally }]),
      },
    ];
  });
}

function viewSigns({ review }: SoundNote) {
  return review.signOffs.map(({ role, state }) => ({ role, state, isVoid: state === 'void' }));
}
