import type { NoteReview } from '../review/sign-off/note-review.ts';
import { sayOrderOfActions, viewActions } from './actions-view.ts';
import { viewDecisive } from './decisive-view.ts';
import { firstPageParts } from './document-parts.ts';
import type { NoteContext } from './note-context.ts';
import { listNotices } from './notices-view.ts';
import { summaryHtml } from './summary-html.ts';
import { type TitleBlockOptions, viewTitleBlock } from './title-block-view.ts';

/** So many actions are named with the finding; the others are counted there. */
const MOST_LISTED = 6;

/** The schedule of actions may begin or go on overleaf: the finding names each action by its place, with its page. */
function listForFinding(actions: ReturnType<typeof viewActions>) {
  const isUnique = (where: string) => actions.filter((one) => one.where === where).length === 1;
  return {
    ordered: sayOrderOfActions(actions),
    listed: actions.slice(0, MOST_LISTED).map(({ place, where, calculation }) => ({
      place,
      name: where === '' ? calculation.title : isUnique(where) ? where : `${where} (${calculation.name})`,
    })),
    unlisted: Math.max(0, actions.length - MOST_LISTED),
  };
}

/** The page for a reader who has one minute: which document, what was found, which verdicts decide, what to do. */
export function viewFirstPage(context: NoteContext, review: NoteReview, options: TitleBlockOptions) {
  const { note, project } = context;
  const parts = firstPageParts(note.source.frontMatter.title);
  const actions = viewActions(context);
  return {
    ...viewTitleBlock(note, project, review, options),
    parts: Object.fromEntries(parts.map(({ id, text }) => [id.replace('-', '_'), { id, text }])),
    summary: summaryHtml(context),
    notices: listNotices(note, review, context.otherNotes),
    cases: viewDecisive(context, note.source.frontMatter.summary !== undefined),
    actions,
    ...listForFinding(actions),
  };
}
