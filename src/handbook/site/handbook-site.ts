import { GENERAL_CAUTION } from '../../engine/handbook/describe-calculation.ts';
import { escapeMarkup } from '../../markup/escape-markup.ts';
import { loadFontStyles } from '../../page/fonts.ts';
import { readStyleSheet } from '../../page/package-files.ts';
import { fillTemplate } from '../../page/templates.ts';
import type { HandbookPart } from '../handbook.ts';
import type { HandbookPage } from '../handbook-page.ts';
import { evidenceHtml, INTRODUCTION, usePageHtml } from './page-html.ts';

/** By this line of its first page a folder with the handbook is known again. */
export const SITE_MARK = '<meta name="generator" content="surgenote describe --all">';

/**
 * The handbook as a site: texts by path. It loads nothing but its own files, also where it is opened as files.
 *
 * @param script what searches in the page, for a browser
 */
export function handbookSite(
  parts: readonly HandbookPart[],
  {
    software,
    script,
    pdf = true,
  }: { readonly software: string; readonly script: string; readonly pdf?: boolean },
): ReadonlyMap<string, string> {
  const pages = parts.flatMap((part) => part.pages.map((page) => ({ page, part })));
  const names = new Set(pages.map(({ page }) => page.name));
  const linkOf = (name: string): string | undefined => (names.has(name) ? `${name}.html` : undefined);
  const place = { linkOf, level: 2, scope: '' };
  const fill = (title: string, body: string): string =>
    fillTemplate('handbook-page', { title, software, caution: GENERAL_CAUTION, mark: SITE_MARK, body });
  return new Map([
    ['index.html', fill('Handbook', indexHtml(parts, pdf))],
    ...pages.map(({ page, part }): [string, string] => [
      `${page.name}.html`,
      fill(page.title, `${headHtml(page, part)}\n${usePageHtml(page, place)}\n${evidenceLink(page)}`),
    ]),
    ...pages.flatMap(({ page, part }): [string, string][] => {
      const evidence = evidenceHtml(page, place);
      if (evidence === undefined) return [];
      const back = `<p><a href="${page.name}.html">How it is used</a></p>`;
      return [
        [
          evidencePath(page),
          fill(`Evidence: ${page.title}`, `${headHtml(page, part, 'Evidence: ')}\n${back}\n${evidence}`),
        ],
      ];
    }),
    ['handbook.css', `${loadFontStyles().css}\n${readStyleSheet('handbook')}`],
    ['search.js', `${searchData(pages.map(({ page }) => page))}\n${script}`],
  ]);
}

function evidencePath({ name }: HandbookPage): string {
  return `${name}.evidence.html`;
}

function evidenceLink(page: HandbookPage): string {
  return page.kind === 'calculation'
    ? `<p class="aside"><a href="${evidencePath(page)}">Evidence: what shows that it is right</a></p>`
    : '';
}

function headHtml({ title, name }: HandbookPage, part: HandbookPart, before = ''): string {
  return `<p class="where">${escapeMarkup(part.title)}</p>\n<h1>${escapeMarkup(before + title)}</h1>\n<p class="name"><code>${escapeMarkup(name)}</code></p>`;
}

function indexHtml(parts: readonly HandbookPart[], pdf: boolean): string {
  const whole = pdf ? ' The whole as a document: <a href="handbook.pdf">handbook.pdf</a>.' : '';
  const lists = [...parts.slice(-1), ...parts.slice(0, -1)].map(({ title, pages }) => {
    const lines = pages.map(
      ({ name, title: of }) =>
        `<li><a href="${name}.html">${escapeMarkup(of)}</a> <code>${escapeMarkup(name)}</code></li>`,
    );
    return `<section>\n<h2>${escapeMarkup(title)}</h2>\n<ul class="pages">\n${lines.join('\n')}\n</ul>\n</section>`;
  });
  return `<h1>Handbook</h1>\n<p class="purpose">${INTRODUCTION}${whole}</p>\n${lists.join('\n')}`;
}

/** What the search in the page looks through: the same as that of the command. `<` is spelt so that it ends no script. */
function searchData(pages: readonly HandbookPage[]): string {
  const data = pages.map(({ name, kind, title, purpose, answers, lines }) => ({
    name,
    kind,
    title,
    purpose,
    answers,
    lines,
  }));
  return `globalThis.HANDBOOK_PAGES = ${JSON.stringify(data).replaceAll('<', '\\u003c')};`;
}
