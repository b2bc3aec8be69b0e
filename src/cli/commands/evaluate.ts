import { Collector } from '../../diagnostics/collector.ts';
import { type Diagnostic, hasErrors } from '../../diagnostics/diagnostic.ts';
import { OutsideFailure } from '../../diagnostics/outside-failure.ts';
import type { SourceTexts } from '../../diagnostics/positions.ts';
import type { EvaluatedNote } from '../../evaluation/evaluated-note.ts';
import { machineReport } from '../../evaluation/machine-report.ts';
import { judgedCases, requirementsComply, tallyVerdicts } from '../../evaluation/tally-verdicts.ts';
import { writeJson } from '../../evaluation/write-json.ts';
import type { Memory } from '../../memory/memory.ts';
import type { NoteReview } from '../../review/sign-off/note-review.ts';
import { reportReview, wordSignOff } from '../../review/sign-off/word-sign-off.ts';
import { EXIT } from '../exit-status.ts';
import { type LoadedProject, loadAndEvaluate } from '../load-and-evaluate.ts';
import { judgePages } from '../make-pages.ts';
import { judgeSubmittalPage, type SubmittalWork } from '../make-submittal-page.ts';
import { outlineNote, outlineSummary } from '../outline-note.ts';
import { outlineSubmittal } from '../outline-submittal.ts';
import { type Recording, recordNote } from '../record-results.ts';
import { reportSubmittal } from '../report-submittal.ts';
import { reviewProject } from '../review-notes.ts';
import { type Line, wrapText } from '../styled-line.ts';
import type { Terminal } from '../terminal.ts';
import { untilSignal } from '../until-signal.ts';
import { watchEvaluation } from '../watch-evaluation.ts';

export interface EvaluateOptions {
  readonly json?: boolean;
  readonly require?: 'complies';
  /** In full. */
  readonly cautions?: boolean;
  /** Again after every change, until the process is told to stop. */
  readonly watch?: boolean;
}

/** Evaluates notes and prints results and verdicts; writes nothing. */
export async function evaluateCommand(
  paths: readonly string[],
  options: EvaluateOptions,
  terminal: Terminal,
  stopped: () => Promise<void> = untilSignal,
): Promise<number> {
  if (!options.watch) return evaluateOnce(paths, options, terminal);
  if (options.json || options.require)
    throw new OutsideFailure('usage', '--watch goes with neither --json nor --require');
  await watchEvaluation(paths, terminal, stopped(), async (memory) => {
    await evaluateOnce(paths, options, terminal, memory);
  });
  return EXIT.done;
}

/** @internal As the command, with a memory that outlasts it. */
export async function evaluateOnce(
  paths: readonly string[],
  options: EvaluateOptions,
  terminal: Terminal,
  memory?: Memory,
): Promise<number> {
  terminal.progress('evaluating');
  const projects = await loadAndEvaluate(paths, {
    progress: (done, pieces) => terminal.progress(`simulated ${done} of ${pieces} strokes`),
    tell: terminal.err,
    ...(memory ? { memory } : {}),
  });
  const reviewed = await Promise.all(projects.map(examineProject));
  const wrong = reviewed.some((one) => hasErrors(one.diagnostics));
  const notes = wrong ? [] : projects.flatMap((p) => p.notes);
  const reviews = new Map(reviewed.flatMap((one) => [...one.reviews]));
  if (options.json) {
    const report = machineReport(
      notes,
      reviewed,
      (note) => reportReview(reviews.get(note)),
      wrong ? [] : reviewed.flatMap(({ submittals }) => submittals.map(reportSubmittal)),
    );
    for (const lines of writeJson(report)) terminal.out(lines);
  } else {
    for (const one of reviewed) terminal.diagnostics(one.diagnostics, one.texts);
    if (!wrong) tellNotes(notes, reviewed, options, terminal);
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

const EMPTY: Line = [];

function tellNotes(
  notes: readonly EvaluatedNote[],
  reviewed: readonly Reviewed[],
  { cautions }: EvaluateOptions,
  terminal: Terminal,
): void {
  const width = terminal.columns;
  const reviews = new Map(reviewed.flatMap((one) => [...one.reviews]));
  for (const [i, note] of notes.entries())
    terminal.lines([
      ...(i === 0 ? [] : [EMPTY]),
      ...outlineNote(note, { width, cautions, tally: notes.length > 1 }),
      ...wordReview(reviews.get(note)).flatMap((text): Line[] => wrapText(text, 2, width)),
    ]);
  for (const one of reviewed.flatMap(({ submittals }) => submittals)) terminal.out(outlineSubmittal(one));
  terminal.lines([EMPTY, ...outlineSummary(notes, width)]);
}

/** How the note stands; one line where nobody has signed. */
function wordReview(review: NoteReview | undefined): string[] {
  if (!review) return [];
  if (review.signOffs.every(({ state }) => state === 'missing')) return ['not signed off'];
  return [
    ...review.signOffs.map((signOff) => `${signOff.role}: ${wordSignOff(signOff)}`),
    ...(review.mark === 'superseded' ? ['superseded by a later issue'] : []),
  ];
}

/** Whether every requirement of what the notes stand for and propose is met; one that cannot be judged is not. */
export function allComply(notes: readonly EvaluatedNote[]): boolean {
  return requirementsComply(tallyVerdicts(notes.flatMap(judgedCases)));
}
