import type { Definition, Link } from 'mdast';
import { visit } from 'unist-util-visit';
import type { Collector } from '../diagnostics/collector.ts';
import { nearestName } from '../diagnostics/nearest-name.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { placeOf } from '../source/note-text.ts';
import { wordsFor } from '../words/languages.ts';
import { headingId, Ids } from './ids.ts';
import { listTargets } from './list-targets.ts';
import { readProse } from './prose-text.ts';

/**
 * Reports links within the note that lead to nothing. The formulas of its headings must have passed `checkMath`.
 */
export function checkTargets(note: EvaluatedNote, collector: Collector): void {
  const words = wordsFor(note.source.frontMatter.locale);
  const proseTexts = new Map([...note.proseTexts].map(([target, text]) => [target, words.word(text)]));
  const targets = new Set(listTargets(note).keys());
  const ids = new Ids();
  visit(note.source.tree, 'heading', (heading) => {
    const id = ids.take(headingId(readProse(heading, proseTexts).text));
    targets.add(id).add(id.replace(/^sec-/, ''));
  });
  visit(note.source.tree, (node) => {
    if (node.type === 'link' || node.type === 'definition') checkTarget(node, note, targets, collector);
  });
}

function checkTarget(
  node: Link | Definition,
  note: EvaluatedNote,
  targets: ReadonlySet<string>,
  collector: Collector,
): void {
  if (!node.url.startsWith('#')) return;
  const target = readTarget(node.url);
  if (targets.has(target)) return;
  collector.error('link-to-nothing', placeOf(node, note.source), {
    target,
    nearest: nearestName(target, targets),
  });
}

/** What stands behind #; a sign that is not well escaped stands for itself. */
export function readTarget(address: string): string {
  try {
    return decodeURIComponent(address.slice(1));
  } catch {
    return address.slice(1);
  }
}
