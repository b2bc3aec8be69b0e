import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { wordCheck } from '../evaluation/machine-report.ts';
import { wordNote } from '../evaluation/word-note.ts';
import { wordCase } from '../page/case-titles.ts';
import { calculationId, checkId } from '../page/ids.ts';
import { fillTemplate } from '../page/templates.ts';
import { isToBeNoticed } from '../page/word-values.ts';
import type { RecordedChange } from '../review/compare-recorded.ts';
import type { SignOff } from '../review/sign-off/judge-sign-offs.ts';
import type { NoteReview } from '../review/sign-off/note-review.ts';
import { wordProof } from '../review/sign-off/word-sign-off.ts';
import { ENGLISH } from '../words/words.ts';
import { countUnshown, faultsOf } from './fault-view.ts';
import { countErrors, viewCases } from './list-view.ts';
import type { LiveProject } from './live-project.ts';

/** So many changed blocks, and facts of each, are listed; the rest is counted. */
const MOST_BLOCKS = 40;
const MOST_FACTS = 12;

/** What stands beside the page of a note, as HTML. */
export async function renderSlips(project: LiveProject, path: string): Promise<string> {
  const reading = project.note(path);
  const good = project.goodPage(path);
  const examined = await project.examine(path);
  const diagnostics = [
    ...(reading?.diagnostics ?? []),
    // Of a text that is at fault now nothing is said that an earlier one would be told.
    ...(reading?.sound === good?.sound ? (examined?.diagnostics ?? []) : []),
  ];
  return fillTemplate('preview-slips', {
    faults: project.reading ? faultsOf(diagnostics, project.reading.texts) : [],
    more: countUnshown(diagnostics),
    ...countSeverities(diagnostics),
    hasPage: good !== undefined,
    isStale: good !== undefined && reading?.sound !== good.sound,
    cases: good ? viewCases(good.sound) : [],
    open: good ? viewOpenChecks(good.sound.note) : [],
    changes: viewChanges(examined?.changes ?? []),
    isRecorded: examined?.isRecorded ?? false,
    tables: examined?.tables ?? [],
    review: good ? viewReview(good.sound.review) : null,
  });
}

function countSeverities(diagnostics: readonly Diagnostic[]) {
  const errors = countErrors(diagnostics);
  const cautions = diagnostics.length - errors;
  return { errors, oneError: errors === 1, cautions, oneCaution: cautions === 1 };
}

/** The checks that are not met, or cannot be judged, in the order of the note. */
function viewOpenChecks(note: EvaluatedNote) {
  const open = note.blocks.filter(({ evaluated }) =>
    evaluated.checks.some(({ verdict }) => isToBeNoticed(verdict)),
  );
  return wordNote({ ...note, blocks: open, schedules: [] }, ENGLISH).blocks.flatMap((block) =>
    block.evaluated.checks
      .filter(({ verdict }) => isToBeNoticed(verdict))
      .map((check) => ({
        target: checkId(block.id, check.name),
        title: block.title,
        ofCase: wordCase(block.case),
        words: wordCheck(check, ENGLISH),
      })),
  );
}

function viewChanges(changes: readonly RecordedChange[]) {
  const turned = changes.filter(({ facts }) => facts.some(isVerdict)).length;
  const ordered = [
    ...changes.filter(({ facts }) => facts.some(isVerdict)),
    ...changes.filter(({ facts }) => !facts.some(isVerdict)),
  ];
  return {
    count: changes.length,
    isOne: changes.length === 1,
    turned,
    more: Math.max(0, changes.length - MOST_BLOCKS),
    blocks: ordered.slice(0, MOST_BLOCKS).map(({ block, state, facts }) => ({
      block,
      target: calculationId(block),
      isAdded: state === 'added',
      isRemoved: state === 'removed',
      more: Math.max(0, facts.length - MOST_FACTS),
      facts: facts.slice(0, MOST_FACTS).map((fact) => ({
        name: wordName(fact.name),
        before: fact.before ?? '–',
        after: fact.after ?? '–',
        isTurned: isVerdict(fact),
      })),
    })),
  };
}

function isVerdict({ name }: { readonly name: string }): boolean {
  return /^checks\..*\.verdict$/.test(name);
}

/** 'given.earth_lead.value' as 'earth lead', 'checks.withstand_margin.verdict' as 'withstand margin: verdict' */
function wordName(name: string): string {
  const [kind, ...rest] = name.split('.');
  const words = rest.map((word) => word.replaceAll('_', ' '));
  if (kind === 'given') return words.filter((word) => word !== 'value').join(', ');
  if (kind === 'checks') return words.join(': ');
  return words.length === 0 ? (kind ?? '') : words.join(', ');
}

function viewReview({ signOffs, issues, mark, restsOn = [] }: NoteReview) {
  return {
    mark: mark === 'none' ? '' : mark,
    signOffs: signOffs.map((signOff) => ({
      role: signOff.role,
      words: wordState(signOff),
      proof: wordProof(signOff).join(', '),
      isVoid: signOff.state === 'void',
    })),
    issues: issues.map(({ revision, date, withdrawal }) => ({
      words: `revision ${revision}, ${date}${withdrawal ? `, withdrawn ${withdrawal.date}` : ''}`,
    })),
    restsOn: restsOn.map(({ note, state }) => ({
      words: `${note.number} revision ${note.revision}: ${state.words}`,
      isSound: state.sound,
    })),
  };
}

/** 'valid: Ilse Brandreth, 2031-05-14' */
function wordState({ state, reason, statement }: SignOff): string {
  const head = reason === undefined ? state : `${state} (${reason})`;
  return statement ? `${head}: ${statement.name}, ${statement.date}` : head;
}
