import { defaultSchema, type Options } from 'rehype-sanitize';

/**
 * What an author's markdown may become: text, tables, lists, links. Raw HTML never gets this far. Ids are given by the
 * page itself, after; the only ones here are those of footnotes, which the markdown pipeline makes.
 */
export const PROSE_SCHEMA: Options = {
  ...defaultSchema,
  tagNames: [
    ...['p', 'br', 'hr', 'blockquote', 'pre', 'code', 'em', 'strong', 'del', 'sup', 'sub', 'section'],
    ...['h1', 'h2', 'h3', 'h4', 'h5', 'h6', 'ul', 'ol', 'li', 'input', 'a', 'span', 'div'],
    ...['table', 'thead', 'tbody', 'tr', 'th', 'td'],
  ],
  attributes: {
    a: ['href', 'dataFootnoteRef', 'dataFootnoteBackref', 'ariaLabel', 'ariaDescribedBy'],
    section: ['dataFootnotes', ['className', 'footnotes']],
    code: [['className', /^language-[\w-]+$/]],
    input: [['type', 'checkbox'], 'checked', ['disabled', true]],
    li: [['className', 'task-list-item']],
    ul: [['className', 'contains-task-list']],
    ol: ['start', ['className', 'contains-task-list']],
    th: ['align'],
    td: ['align'],
    p: [['className', 'footnotes-label']],
    span: ['dataValue'],
    '*': ['dataSlot', 'id'],
  },
  protocols: { href: ['http', 'https', 'mailto'] },
  required: { input: { disabled: true, type: 'checkbox' } },
  strip: ['script', 'style'],
  clobber: [],
  clobberPrefix: '',
};
