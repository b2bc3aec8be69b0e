import { drawMargins, type MarginSeries } from '../../engine/figures/margin-chart.ts';
import { literalText } from '../../engine/figures/marked-text.ts';
import { NotDrawable } from '../../engine/figures/not-drawable.ts';
import type { BlockCase } from '../../source/note-source.ts';
import type { Words } from '../../words/words.ts';
import { wordCase } from '../case-titles.ts';
import { printMargin } from '../word-values.ts';
import { findLeast, sayOutcome } from './say-result.ts';
import type { RowSummary } from './summarise-rows.ts';
import { countOutcomes, rowsByCase, wordOutcome } from './word-counts.ts';

const CAPTION =
  'Margins of all rows, each row by the check that governs it, in order. The bars below show how many rows have which verdict.';

/** A longer name, and those of several series, stand beside the plot, where they cover no row. */
const LONGEST_AT_POINT = 24;

export interface DrawnSchedule {
  readonly svg: string;
  readonly caption: string;
}

/** The figure of the margins of all rows, a series for each case; undefined where no row is judged, or it cannot be drawn. */
export function drawSchedule(rows: readonly RowSummary[], words: Words): DrawnSchedule | undefined {
  if (rows.length === 0) return undefined;
  const cases = rowsByCase(rows);
  const outcome = (one: RowSummary['outcome']) => wordOutcome(one, rows, words);
  const series = [...cases].map(([ofCase, own]): MarginSeries => {
    const { met, total } = countOutcomes(own);
    const name = cases.size > 1 ? wordCase(ofCase) || 'as described' : '';
    const beside = cases.size > 1 || own.some(({ row }) => row.id.length > LONGEST_AT_POINT);
    const least = findLeast(own);
    const count = `${outcome('met')}: ${met} of ${total}`;
    const at = least ? `${printMargin(least.governing)} at ${least.row.id}` : '';
    return {
      name,
      label: [
        `${name === '' ? '' : `${name}: `}${count}`,
        ...(beside && at !== '' ? [`least margin ${literalText(at)}`] : []),
      ].join(', '),
      least: !beside && least ? literalText(`${least.row.id}: ${printMargin(least.governing)}`) : '',
      rows: own.map((summary) => ({ outcome: summary.outcome, margin: summary.margin })),
    };
  });
  try {
    const alternative = [...cases].map(([ofCase, own]) => nameCase(ofCase, sayOutcome(own))).join('. ');
    const svg = drawMargins({
      title: alternative,
      series,
      words: {
        margin: 'Margin in % of the limit',
        order: 'Number of rows, from the least margin',
        limit: 'limit',
        outcomes: { unmet: outcome('unmet'), open: outcome('open'), met: outcome('met') },
        beyond: (count, end) => `${count} beyond ${end < 0 ? '−' : '+'}${Math.round(Math.abs(end) * 100)} %`,
      },
    });
    return { svg, caption: CAPTION };
  } catch (error) {
    if (error instanceof NotDrawable) return undefined;
    throw error;
  }
}

function nameCase(ofCase: BlockCase | undefined, text: string): string {
  return ofCase === undefined ? text : `${wordCase(ofCase)}: ${text}`;
}
