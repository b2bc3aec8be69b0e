import type { Json } from '../evaluation/machine-report.ts';
import { judgedCases, tallyVerdicts } from '../evaluation/tally-verdicts.ts';
import { reportIssues } from '../review/sign-off/word-sign-off.ts';
import { reviewOf, type SubmittalWork } from './make-submittal-page.ts';

/** A submittal for machines: what it is, how it stands, its notes in their order, and the verdicts of all of them by case. */
export function reportSubmittal(work: SubmittalWork): Json {
  const { source, notes } = work.submittal;
  const { number, revision, title, status, date } = source.frontMatter;
  const review = reviewOf(work);
  const tallies = tallyVerdicts(notes.flatMap(({ note }) => judgedCases(note)));
  return {
    path: source.path,
    number,
    revision,
    title,
    status,
    date,
    mark: review.mark,
    notes: notes.map(({ note, label }) => ({
      label,
      path: note.source.path,
      number: note.source.frontMatter.number,
      revision: note.source.frontMatter.revision,
      mark: review.notes.get(note)!.mark,
    })),
    issues: reportIssues(review.issues),
    superseded: review.superseded.map((one) => ({
      number: one.number,
      revision: one.revision,
      later: one.later ?? null,
    })),
    counts: tallies.map(({ case: ofCase, required, requirement, recommendation }) => ({
      case: ofCase ?? null,
      required,
      requirements: Object.fromEntries(requirement.counts.map(({ verdict, count }) => [verdict, count])),
      recommendations: Object.fromEntries(
        recommendation.counts.map(({ verdict, count }) => [verdict, count]),
      ),
    })),
  };
}
