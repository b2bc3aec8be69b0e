import type { InlineCode, Nodes } from 'mdast';
import rehypeStringify from 'rehype-stringify';
import remarkGfm from 'remark-gfm';
import remarkMath from 'remark-math';
import remarkParse from 'remark-parse';
import remarkRehype, { type Options } from 'remark-rehype';
import { unified } from 'unified';
import { escapeMarkup } from '../../markup/escape-markup.ts';
import { codeHtml } from '../../page/code-html.ts';
import { fitTex, TEXT_EM } from '../../page/math/fit-math.ts';

type Handler = NonNullable<NonNullable<Options['handlers']>['text']>;

/** What the text of a page may lead to and hold. */
export interface MarkdownParts {
  /** Where the page of a name stands; undefined where none has it. */
  readonly linkOf: (name: string) => string | undefined;
  /** Formulas that are set already, by what stands for each between dollars. */
  readonly formulas: ReadonlyMap<string, string>;
  /** Headings of the text begin at this level. */
  readonly level: number;
  readonly idOf: (heading: string) => string;
}

/** Text of the handbook, which is the program's own, as HTML. */
export function renderMarkdown(markdown: string, parts: MarkdownParts): string {
  const handlers: Record<string, Handler> = {
    inlineMath: (_, node: { value: string }) =>
      raw(parts.formulas.get(node.value) ?? fitTex(node.value, TEXT_EM).html),
    math: (_, node: { value: string }) => raw(`<p class="math">${fitTex(node.value, TEXT_EM).html}</p>`),
    inlineCode: (_, node: InlineCode) => raw(linkCode(node.value, parts)),
    code: (_, node: { value: string; lang?: string | null; meta?: string | null }) => {
      const label = [node.lang, node.meta].filter((word) => word).join(' ');
      return raw(
        `<pre tabindex="0" data-kind="${escapeMarkup(label)}"><code>${escapeMarkup(node.value)}</code></pre>`,
      );
    },
    heading: (state, node) => ({
      type: 'element',
      tagName: `h${Math.min(6, parts.level + node.depth - 2)}`,
      properties: { id: parts.idOf(textOf(node)) },
      children: state.all(node),
    }),
  };
  return unified()
    .use(remarkParse)
    .use(remarkGfm)
    .use(remarkMath)
    .use(remarkRehype, { handlers: handlers as Options['handlers'], allowDangerousHtml: true })
    .use(rehypeStringify, { allowDangerousHtml: true })
    .processSync(markdown)
    .toString();
}

function linkCode(text: string, { linkOf }: MarkdownParts): string {
  const name = /^(?:surgenote describe )?([a-z0-9-]+)$/.exec(text)?.[1];
  const link = name === undefined ? undefined : linkOf(name);
  return link === undefined ? codeHtml(text) : `<a href="${escapeMarkup(link)}">${codeHtml(text)}</a>`;
}

function raw(value: string): never {
  return { type: 'raw', value } as never;
}

function textOf(node: Nodes): string {
  if ('value' in node) return String(node.value);
  return 'children' in node ? node.children.map(textOf).join('') : '';
}
