import type { Nodes } from 'mdast';
import { visit } from 'unist-util-visit';
import type { Collector } from '../diagnostics/collector.ts';
import { narrow, type Place } from '../diagnostics/place.ts';
import type { AuthorSummary, ProseValue } from './note-source.ts';
import { parseMarkdown } from './parse-markdown.ts';
import { type Read, readScalar } from './read-shape.ts';
import { reportMalformed } from './read-text-with-values.ts';
import { isReferenceTarget } from './reference-target.ts';
import type { ScalarNode } from './source-node.ts';

/** What the first page has room for: sentences. */
const LIGHT: ReadonlySet<Nodes['type']> = new Set([
  'root',
  'paragraph',
  'text',
  'emphasis',
  'strong',
  'inlineCode',
  'break',
  'proseValue',
]);

const LONGEST = 900;

/** The summary of a note: paragraphs of markdown with values in double braces, read from the syntax tree as the prose is. */
export const summary: Read<AuthorSummary> = (node, key, collector) => {
  if (node.type === 'empty' && node.reported) return undefined;
  const scalar = readScalar(node, key, collector);
  if (!scalar) return undefined;
  const { text, place } = scalar;
  if (text.trim() === '') {
    collector.error('empty-value', place, { key });
    return undefined;
  }
  if (text.length > LONGEST) collector.error('summary-too-long', place, { limit: LONGEST });
  const tree = parseMarkdown(text);
  const values = readTree(tree, scalar, collector);
  return values && { tree, values, place };
};

/** The values of the summary; undefined where something in it is at fault. */
function readTree(tree: Nodes, scalar: ScalarNode, collector: Collector): ProseValue[] | undefined {
  const values: ProseValue[] = [];
  let sound = true;
  const fault = (report: () => void): void => {
    sound = false;
    report();
  };
  visit(tree, (node) => {
    const place = placeOf(node, scalar);
    if (!LIGHT.has(node.type)) {
      fault(() => collector.error('summary-not-plain', place, { found: node.type }));
      return 'skip';
    }
    if (node.type === 'proseValue') {
      const { target } = node;
      if (isReferenceTarget(target)) values.push({ target, place });
      else fault(() => reportMalformed(target, `{{ ${target} }}`, place, collector));
    }
    const braces = node.type === 'text' ? /(?<!\\)(?:\{\{|\}\})/.exec(writtenText(node, scalar)) : null;
    if (braces) {
      const code = braces[0] === '{{' ? 'braces-unclosed' : 'braces-unopened';
      fault(() => collector.error(code, place, {}));
    }
    return undefined;
  });
  return sound ? values : undefined;
}

/** As it stands in the source: with the backslashes that markdown takes away. */
function writtenText({ position }: Nodes, { text }: ScalarNode): string {
  return text.slice(position?.start.offset ?? 0, position?.end.offset ?? 0);
}

function placeOf({ position }: Nodes, { text, place }: ScalarNode): Place {
  const [start, end] = [position?.start.offset ?? 0, position?.end.offset ?? text.length];
  return narrow(place, { start, end }, text.length);
}
