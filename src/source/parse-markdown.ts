import type { Root } from 'mdast';
import remarkGfm from 'remark-gfm';
import remarkMath from 'remark-math';
import remarkParse from 'remark-parse';
import { unified } from 'unified';
import { proseValueSyntax } from './prose-value-syntax.ts';

const processor = unified().use(remarkParse).use(remarkGfm).use(remarkMath).use(proseValueSyntax).freeze();

/** Parses a note: CommonMark with tables, footnotes, task lists, math and values in the prose. */
export function parseMarkdown(text: string): Root {
  return processor.parse(text);
}
