import type { NoteReview } from '../review/sign-off/note-review.ts';
import { viewActions } from './actions-view.ts';
import { viewDecisive } from './decisive-view.ts';
import { firstPageParts } from './document-parts.ts';
import type { NoteContext } from './note-context.ts';
import { listNotices } from './notices-view.ts';
import { summaryHtml } from './summary-html.ts';
import { type TitleBlockOptions, viewTitleBlock } from './title-block-view.ts';

/** The page for a reader who has one minute: which document, what was found, which verdicts decide, what to do. */
export function viewFirstPage(context: NoteContext, review: NoteReview, options: TitleBlockOptions) {
  const { note, project } = context;
  const parts = firstPageParts(note.source.frontMatter.title);
  const actions = viewActions(context);
  return {
    ...viewTitleBlock(note, project, review, options),
    parts: Object.fromEntries(parts.map(({ id, text }) => [id.replace('-', '_'), { id, text }])),
    summary: summaryHtml(context),
    notices: listNotices(note, review),
    cases: viewDecisive(context, note.source.frontMatter.summary !== undefined),
    actions,
    // They may go on overleaf, and page 1 says so.
    lastAction: actions.length,
  };
}
