import { Collector } from '../../diagnostics/collector.ts';
import { type Diagnostic, hasErrors } from '../../diagnostics/diagnostic.ts';
import type { SourceTexts } from '../../diagnostics/positions.ts';
import type { EvaluatedNote } from '../../evaluation/evaluated-note.ts';
import { machineReport, wordCheck } from '../../evaluation/machine-report.ts';
import { outlineSchedule } from '../../evaluation/schedule/outline-schedule.ts';
import { judgedCases, requirementsComply, tallyVerdicts } from '../../evaluation/tally-verdicts.ts';
import { wordNote } from '../../evaluation/word-note.ts';
import { caseTitle } from '../../page/case-titles.ts';
import { wordTally } from '../../page/word-tally.ts';
import type { NoteReview } from '../../review/sign-off/note-review.ts';
import { reportReview, wordSignOff } from '../../review/sign-off/word-sign-off.ts';
import { ENGLISH, type Words } from '../../words/words.ts';
import { EXIT } from '../exit-status.ts';
import { type LoadedProject, loadAndEvaluate } from '../load-and-evaluate.ts';
import { judgePages } from '../make-pages.ts';
import { judgeSubmittalPage, type SubmittalWork } from '../make-submittal-page.ts';
import { outlineActions } from '../outline-actions.ts';
import { outlineSubmittal } from '../outline-submittal.ts';
import { type Recording, recordNote } from '../record-results.ts';
import { reviewProject } from '../review-notes.ts';
import type { Terminal } from '../terminal.ts';

export interface EvaluateOptions {
  readonly json?: boolean;
  readonly require?: 'complies';
}

/** Evaluates notes and prints the verdicts; writes nothing. */
export async function evaluateCommand(
  paths: readonly string[],
  options: EvaluateOptions,
  terminal: Terminal,
): Promise<number> {
  const projects = await loadAndEvaluate(paths, {
    progress: (done, pieces) => terminal.progress(`simulated ${done} of ${pieces} strokes`),
    tell: terminal.err,
  });
  const reviewed = await Promise.all(projects.map(examineProject));
  const wrong = reviewed.some((one) => hasErrors(one.diagnostics));
  const notes = wrong ? [] : projects.flatMap((p) => p.notes);
  const reviews = new Map(reviewed.flatMap((one) => [...one.reviews]));
  if (options.json)
    terminal.out(
      JSON.stringify(
        machineReport(notes, reviewed, (note) => reportReview(reviews.get(note))),
        null,
        2,
      ),
    );
  else {
    for (const one of reviewed) terminal.diagnostics(one.diagnostics, one.texts);
    for (const note of notes) terminal.out([outlineNote(note), ...wordReview(reviews.get(note))].join('\n'));
    if (!wrong)
      for (const one of reviewed.flatMap(({ submittals }) => submittals)) terminal.out(outlineSubmittal(one));
  }
  if (wrong) return EXIT.sourceWrong;
  return options.require === 'complies' && !allComply(notes) ? EXIT.sourceWrong : EXIT.done;
}

interface Reviewed {
  readonly diagnostics: readonly Diagnostic[];
  readonly reviews: ReadonlyMap<EvaluatedNote, NoteReview>;
  readonly submittals: readonly SubmittalWork[];
  readonly texts: SourceTexts;
}

/** The sign-offs too, and what `compile` would refuse; they can be judged only where the source holds. */
async function examineProject(loaded: LoadedProject): Promise<Reviewed> {
  const { diagnostics } = loaded;
  if (hasErrors(diagnostics)) return { diagnostics, reviews: new Map(), submittals: [], texts: loaded };
  const collector = new Collector(loaded);
  const recordings = new Map<EvaluatedNote, Recording>();
  for (const note of loaded.notes) recordings.set(note, await recordNote(loaded, note, collector));
  const reviewed = await reviewProject(loaded, collector);
  const fresh = new Map([...recordings].map(([note, recording]) => [note, recording.fresh]));
  const asked = new Map(loaded.asked.map((note) => [note, reviewed.notes.get(note)!]));
  await judgePages(loaded, asked, fresh, collector);
  const submittals = loaded.submittals.map((submittal) => ({ loaded, submittal, reviewed, results: fresh }));
  for (const submittal of submittals) await judgeSubmittalPage(submittal, collector);
  const all = [...diagnostics, ...collector.list()];
  return { diagnostics: all, reviews: reviewed.notes, submittals, texts: collector };
}

/** How the note stands; one line where nobody has signed. */
function wordReview(review: NoteReview | undefined): string[] {
  if (!review) return [];
  if (review.signOffs.every(({ state }) => state === 'missing')) return ['  not signed off'];
  return [
    ...review.signOffs.map((signOff) => `  ${signOff.role}: ${wordSignOff(signOff)}`),
    ...(review.mark === 'superseded' ? ['  superseded by a later issue'] : []),
  ];
}

/** Whether every requirement of what the notes stand for and propose is met; one that cannot be judged is not. */
export function allComply(notes: readonly EvaluatedNote[]): boolean {
  return requirementsComply(tallyVerdicts(notes.flatMap(judgedCases)));
}

/** A note as the terminal tells it: each check in a line, and the cautions. */
export function outlineNote(evaluated: EvaluatedNote, words: Words = ENGLISH): string {
  const note = wordNote(evaluated, words);
  const { frontMatter, path } = note.source;
  const lines = [`${path}: ${frontMatter.number} revision ${frontMatter.revision}, ${frontMatter.title}`];
  for (const { id, case: ofCase, evaluated } of note.blocks) {
    lines.push(`  ${id} (${[evaluated.calculation, ...(ofCase ? [ofCase] : [])].join(', ')})`);
    for (const check of evaluated.checks) {
      lines.push(`    ${check.name}: ${wordCheck(check, words)}`);
      if (check.overRange) lines.push(`      ${check.overRange.sentence} ${check.overRange.examinedHere}`);
    }
    for (const { id: caution, text } of evaluated.cautions) lines.push(`    caution ${caution}: ${text}`);
  }
  for (const schedule of note.schedules) lines.push(...outlineSchedule(schedule, words));
  const open = note.source.holds.filter((hold) => hold.state === 'open').length;
  const toConfirm = note.source.assumptions.filter((a) => a.state === 'to be confirmed').length;
  if (open > 0) lines.push(`  ${open} open ${open === 1 ? 'point' : 'points'}`);
  if (toConfirm > 0)
    lines.push(`  ${toConfirm} ${toConfirm === 1 ? 'assumption' : 'assumptions'} to be confirmed`);
  return [...lines, ...outlineCases(evaluated), ...outlineActions(note, words)].join('\n');
}

/** The counts of each case, and whether it is required; nothing where no block has a case. */
function outlineCases(note: EvaluatedNote): string[] {
  const judged = judgedCases(note);
  if (judged.every((one) => one.case === undefined)) return [];
  const lines = tallyVerdicts(judged).flatMap(({ case: ofCase, required, ...tally }) => {
    const said = wordTally(tally);
    if (said === '') return [];
    return [`  ${caseTitle(ofCase)}${required ? '' : ' (not required)'}: ${said}`];
  });
  const auxiliary = note.blocks.filter((block) => block.case === 'auxiliary').map(({ id }) => id);
  return auxiliary.length === 0 ? lines : [...lines, `  auxiliary, in no count: ${auxiliary.join(', ')}`];
}
