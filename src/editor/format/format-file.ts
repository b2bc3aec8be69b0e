import type { Reading } from '../project/reading.ts';
import { findAreas } from '../text/find-areas.ts';
import { formatYaml } from './format-yaml.ts';

/** A stretch of a file with what is to stand there instead. */
export interface TextEdit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/**
 * Edits that set the YAML of a file evenly: blocks and front matter of a note, or the whole file. What is not well-formed stays, and so do
 * blocks that stand in a list or a quotation.
 *
 * @param within only what touches this stretch
 */
export function formatFile(
  reading: Reading,
  path: string,
  within: { readonly start: number; readonly end: number } = { start: 0, end: Number.POSITIVE_INFINITY },
): TextEdit[] {
  const text = reading.textOf(path);
  if (text === undefined) return [];
  return stretchesOf(path, text)
    .filter(({ start, end }) => start <= within.end && end >= within.start)
    .flatMap(({ start, end }) => {
      const written = text.slice(start, end);
      const set = formatYaml(written);
      return set === undefined || set === written ? [] : [{ start, end, text: set }];
    });
}

function stretchesOf(path: string, text: string): { readonly start: number; readonly end: number }[] {
  if (!path.endsWith('.md')) return [{ start: 0, end: text.length }];
  return findAreas(text)
    .filter(({ type, closed, start }) => type !== 'code' && closed && /[`~-]/.test(text[start]!))
    .map(({ content }) => content);
}
