import type { Nodes } from 'mdast';
import { findOpen } from '../evaluation/actions/judge-urgency.ts';
import { findGoverning } from '../evaluation/actions/judge-variants.ts';
import type { AuthorSummary } from '../source/note-source.ts';
import { caseTitle } from './case-titles.ts';
import { codeHtml } from './code-html.ts';
import { listCases } from './decisive-view.ts';
import { linkPhrases } from './link-phrases.ts';
import type { NoteContext } from './note-context.ts';
import { listScheduleVerdicts, type ScheduleVerdict } from './schedule/schedule-verdicts.ts';
import { textHtml } from './text-html.ts';
import { printMargin } from './word-values.ts';

/** The finding of a note: the author's summary, else what the verdicts say by themselves. */
export function summaryHtml(context: NoteContext): string {
  const { summary } = context.note.source.frontMatter;
  return summary ? authorsHtml(summary, context) : `<p>${textHtml(wordFinding(context))}</p>`;
}

/** Of the tree only what `readSummary` lets pass can stand here. */
function authorsHtml({ tree }: AuthorSummary, { note, references }: NoteContext): string {
  const html = (node: Nodes): string => {
    switch (node.type) {
      case 'text':
        return linkPhrases(node.value, references.phrases);
      case 'proseValue':
        return textHtml(note.proseTexts.get(node.target) ?? '');
      case 'inlineCode':
        return codeHtml(node.value);
      case 'break':
        return '<br>';
      default: {
        const inner = 'children' in node ? node.children.map(html).join('') : '';
        const tag = TAGS[node.type];
        return tag === undefined ? inner : `<${tag}>${inner}</${tag}>`;
      }
    }
  };
  return html(tree);
}

const TAGS: Readonly<Record<string, string>> = { paragraph: 'p', emphasis: 'em', strong: 'strong' };

/** A sentence or two of each case: how many verdicts there are of each kind, and which comes first. */
function wordFinding(context: Pick<NoteContext, 'note' | 'blocks' | 'numbering' | 'words'>): string {
  const cases = listCases(context);
  if (cases.length === 0) return 'No calculation of this note makes a check.';
  const schedules = listScheduleVerdicts(context);
  return cases
    .map(({ case: ofCase, tally, blocks }) => {
      const rows = schedules.filter((one) => one.case === ofCase).map(wordSchedule);
      const head = [`${caseTitle(ofCase)}: ${tally}.`, ...rows].join(' ');
      if (ofCase === 'alternative') return head;
      const checks = blocks.flatMap(({ number, title, evaluated }) =>
        evaluated.checks.map((check) => ({ check, where: `calculation ${number}, ${title}` })),
      );
      const [open] = findOpen(checks.map(({ check }) => check));
      const first = open ?? findGoverning(checks.map(({ check }) => check));
      const found = checks.find(({ check }) => check === first);
      if (found?.check.margin?.of !== 'limit') return head;
      const what = open ? 'Worst verdict' : 'Least margin';
      return `${head} ${what}: ${found.where}, margin ${printMargin(found.check)}.`;
    })
    .join(' ');
}

/** 'Schedule 1, SPDs of the boards: 212 of 500 rows comply, 288 do not comply, least margin −62 % at DB-07.' */
function wordSchedule({ number, title, counts, least, margin, at }: ScheduleVerdict): string {
  const worst = at === '' ? '' : `, ${least} ${margin} at ${at}`;
  return `${number}, ${title}: ${counts}${worst}.`;
}
