import { judgedCases, tallyVerdicts } from '../evaluation/tally-verdicts.ts';
import { caseTitle } from '../page/case-titles.ts';
import { wordSignOffs } from '../page/submittal/submittal-views.ts';
import { wordTally } from '../page/word-tally.ts';
import { reviewOf, type SubmittalWork } from './make-submittal-page.ts';

/** A submittal as the terminal tells it: how it stands, its notes in their order, and the verdicts of all of them, case by case. */
export function outlineSubmittal(work: SubmittalWork): string {
  const { source, notes } = work.submittal;
  const { number, revision, title } = source.frontMatter;
  const review = reviewOf(work);
  const state = review.mark === 'none' ? 'issued' : review.mark;
  const tallies = tallyVerdicts(notes.flatMap(({ note }) => judgedCases(note)));
  return [
    `${source.path}: ${number} revision ${revision}, ${title}: ${state}`,
    ...notes.map(({ note, label }) => {
      const front = note.source.frontMatter;
      const signed = wordSignOffs(review.notes.get(note)!);
      return `  ${label} ${front.number} revision ${front.revision}, ${front.title}: ${signed}`;
    }),
    ...tallies.map((tally) => `  ${caseTitle(tally.case)}: ${wordTally(tally) || 'no check'}`),
  ].join('\n');
}
