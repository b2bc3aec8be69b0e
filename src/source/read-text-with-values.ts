import type { Collector } from '../diagnostics/collector.ts';
import { narrow, type Place } from '../diagnostics/place.ts';
import type { ProseValue, TextWithValues } from './note-source.ts';
import { type Read, readScalar } from './read-shape.ts';
import { isReferenceTarget, seemsOfOtherNote } from './reference-target.ts';

/** Braces of a value, whole or not, and what a backslash makes ordinary. */
const BRACES = /\\\{\{|\\\}\}|\{\{([^{}\r\n]*)\}\}|\{\{|\}\}/g;

/** A plain text in which `{{ block.name }}` stands for a value, as it does in the prose; a backslash before the braces keeps them. */
export const textWithValues: Read<TextWithValues> = (node, key, collector) => {
  if (node.type === 'empty' && node.reported) return undefined;
  const scalar = readScalar(node, key, collector);
  if (!scalar) return undefined;
  const { text, place } = scalar;
  if (text.trim() === '') {
    collector.error('empty-value', place, { key });
    return undefined;
  }
  const parts: (string | ProseValue)[] = [];
  let done = 0;
  let escaped = 0;
  for (const match of text.matchAll(BRACES)) {
    const [written, inner] = match;
    const at = narrow(place, { start: match.index, end: match.index + written.length }, text.length);
    const before = text.slice(done, match.index);
    done = match.index + written.length;
    const target = inner?.trim();
    if (written === '\\{{') escaped += 1;
    if (written.startsWith('\\')) parts.push(before + written.slice(1));
    else if (written === '}}' && escaped > 0) {
      escaped -= 1;
      parts.push(before + written);
    } else if (target === undefined) {
      collector.error(written === '{{' ? 'braces-unclosed' : 'braces-unopened', at, {});
      return undefined;
    } else if (!isReferenceTarget(target)) {
      reportMalformed(target, written, at, collector);
      return undefined;
    } else {
      const start = match.index + written.indexOf(target);
      parts.push(before, {
        target,
        place: narrow(place, { start, end: start + target.length }, text.length),
      });
    }
  }
  parts.push(text.slice(done).trimEnd());
  return parts.filter((part) => part !== '');
};

/** Reports a text in double braces that names no value. */
export function reportMalformed(target: string, written: string, place: Place, collector: Collector): void {
  if (seemsOfOtherNote(target)) collector.error('malformed-note-reference', place, { target });
  else collector.error('malformed-prose-value', place, { text: written });
}

/** The values that stand in a text. */
export function valuesIn(text: TextWithValues | undefined): readonly ProseValue[] {
  return (text ?? []).filter((part) => typeof part !== 'string');
}
