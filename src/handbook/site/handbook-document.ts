import { GENERAL_CAUTION } from '../../engine/handbook/describe-calculation.ts';
import { escapeMarkup } from '../../markup/escape-markup.ts';
import { loadFontStyles } from '../../page/fonts.ts';
import { readStyleSheet } from '../../page/package-files.ts';
import { pageRules } from '../../page/page-rules.ts';
import { fillTemplate } from '../../page/templates.ts';
import type { HandbookPart } from '../handbook.ts';
import { evidenceHtml, INTRODUCTION, usePageHtml } from './page-html.ts';

/** The handbook as one document to be printed, with what its PDF says of itself. */
export interface HandbookDocument {
  readonly html: string;
  readonly outline: readonly { readonly level: number; readonly title: string }[];
  readonly fonts: readonly string[];
}

interface Entry {
  readonly id: string;
  readonly level: 1 | 2;
  readonly title: string;
}

/** Sets the whole handbook: the topics, the calculations by domain, and behind all use the evidence. */
export function handbookDocument(parts: readonly HandbookPart[], software: string): HandbookDocument {
  const ordered = [...parts.slice(-1), ...parts.slice(0, -1)];
  const names = new Set(parts.flatMap(({ pages }) => pages.map(({ name }) => name)));
  const linkOf = (name: string): string | undefined => (names.has(name) ? `#${name}` : undefined);
  const entries: Entry[] = [];
  const sections: string[] = [];
  const enter = (entry: Entry, body: string): void => {
    entries.push(entry);
    sections.push(
      `<h${entry.level} id="${entry.id}">${escapeMarkup(entry.title)}</h${entry.level}>\n${body}`,
    );
  };
  for (const [i, { title, pages }] of ordered.entries()) {
    enter({ id: `part-${i}`, level: 1, title }, '');
    for (const page of pages) {
      const body = usePageHtml(page, { linkOf, level: 3, scope: `${page.name}.` });
      const name = `<p class="name"><code>${escapeMarkup(page.name)}</code></p>`;
      enter({ id: page.name, level: 2, title: page.title }, `${name}\n${body}`);
    }
  }
  enter({ id: 'evidence', level: 1, title: 'Evidence' }, `<p>${EVIDENCE_INTRODUCTION}</p>`);
  for (const page of ordered.flatMap(({ pages }) => pages)) {
    const body = evidenceHtml(page, { linkOf, level: 3, scope: `${page.name}.evidence.` });
    if (body !== undefined) enter({ id: `${page.name}.evidence`, level: 2, title: page.title }, body);
  }
  const styles = loadFontStyles();
  const words = {
    number: 'Handbook',
    revision: '',
    title: '',
    project: software,
    classification: '',
    status: software,
    mark: '',
  };
  const html = fillTemplate('handbook', {
    software,
    introduction: INTRODUCTION,
    caution: GENERAL_CAUTION,
    styles: `${styles.css}\n${pageRules('A4', words)}\n${readStyleSheet('handbook on paper')}`,
    contents: entries,
    body: sections.join('\n'),
  });
  return { html, outline: outlineOf(html), fonts: styles.names };
}

const EVIDENCE_INTRODUCTION =
  'What shows that each calculation is right, with what the program gives now. Only what is called published stands in a source with ' +
  'givens and results; what is from memory must be compared with the text of the standard.';

/** Every heading of the document, in its order. */
function outlineOf(html: string): { level: number; title: string }[] {
  return [...html.matchAll(/<h([1-6])\b[^>]*>([\s\S]*?)<\/h\1>/g)].map(([, level, title]) => ({
    level: Number(level),
    title: readText(title!),
  }));
}

function readText(html: string): string {
  const named: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"' };
  return html
    .replace(/<[^>]*>/g, '')
    .replace(/&(?:#x([0-9a-f]+)|#(\d+)|(\w+));/gi, (whole, hex, decimal, name) => {
      if (hex !== undefined) return String.fromCodePoint(Number.parseInt(hex, 16));
      return decimal === undefined ? (named[name] ?? whole) : String.fromCodePoint(Number(decimal));
    })
    .trim();
}
