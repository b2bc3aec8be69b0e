import type { Code } from 'mdast';
import { nearestName } from '../diagnostics/nearest-name.ts';
import type { Place } from '../diagnostics/place.ts';
import { relatedNote } from '../diagnostics/related-note.ts';
import { splitLines } from '../diagnostics/text-lines.ts';
import { BLOCK_KINDS, type BlockKind, isBlockKind, seemingKind } from './block-kinds.ts';
import { type NoteText, placeOf, writtenText } from './note-text.ts';

/** Languages by which an author says that code is to be shown as it is, whatever it holds. */
const SHOWN_AS_IT_IS = ['text', 'txt', 'plain', 'plaintext', 'markdown', 'md', 'json', 'diff'];

/** A line that opens a block of ours. */
export const OPENING_LINE = new RegExp(
  `^[ \\t>]*(\`{3,}|~{3,})[ \\t]*ya?ml[ \\t]+(?:${BLOCK_KINDS.join('|')})\\b.*$`,
  'im',
);

/**
 * The kind of block that a fence opens; undefined for code that is shown as it is. Whatever only seems to be that, and would be
 * printed though it was to be evaluated, is reported.
 */
export function readFence(code: Code, note: NoteText): BlockKind | undefined {
  const source = writtenText(code, note)?.source ?? '';
  const fence = openingFence(source);
  if (fence === undefined) {
    checkIndented(code, note);
    return undefined;
  }
  if (!isClosed(source, fence)) note.collector.error('unclosed-fence', placeOf(code, note), { fence });
  else if (holdsBlock(code, fence, note)) return undefined;
  return kindOf(code, note);
}

function checkIndented(code: Code, note: NoteText): void {
  const place = placeOf(code, note);
  if (/^[ \t>]*(`{3,}|~{3,})/m.test(code.value)) {
    if (OPENING_LINE.test(code.value) || seemingKind(code.value, 'as yaml')) {
      note.collector.error('indented-fence', place, {});
    }
    return;
  }
  const kind = seemingKind(code.value, 'as code');
  if (kind) note.collector.error('block-without-fence', place, { kind });
}

/** The characters that open code, '```'; undefined where it is code by its indentation. */
export function openingFence(source: string): string | undefined {
  return /^(`{3,}|~{3,})/.exec(source)?.[0];
}

/** Whether what an author wrote as code ends with a line that closes it. */
export function isClosed(source: string, fence: string): boolean {
  const last = splitLines(source).slice(1).at(-1) ?? '';
  return last.trimEnd().endsWith(fence);
}

/** Whether code that is not marked to be shown as it is holds a block of ours; reports it. */
function holdsBlock(code: Code, fence: string, note: NoteText): boolean {
  const opening = OPENING_LINE.exec(code.value);
  if (!opening) return false;
  const inner = opening[1]!;
  const nests = inner[0] !== fence[0] || inner.length < fence.length;
  if (nests && SHOWN_AS_IT_IS.includes(code.lang?.toLowerCase() ?? '')) return false;
  const line = (code.position?.start.line ?? 1) + splitLines(code.value.slice(0, opening.index)).length;
  reportBlockInCode(code, fence, note.lines.placeOf(note.path, line - 1), note);
  return true;
}

/** @param place of the line that opens the block */
export function reportBlockInCode(code: Code, fence: string, place: Place, note: NoteText): void {
  note.collector.error('block-in-code', place, { fence }, [
    { place: placeOf(code, note), note: relatedNote('code-begins', {}) },
  ]);
}

/** The kind that the info string names, or that it was meant to name; then that is reported, and the block is read. */
export function kindOf(code: Code, note: NoteText): BlockKind | undefined {
  const [word = '', ...rest] = code.meta?.trim().split(/\s+/) ?? [];
  const language = code.lang?.toLowerCase() ?? '';
  const place = placeOf(code, note);
  const written = [code.lang ?? '', word].filter((part) => part !== '').join(' ');
  const isYaml = language === 'yaml' || language === 'yml';
  if (isYaml && word !== '' && !isBlockKind(word)) {
    const nearest = nearestName(word, BLOCK_KINDS);
    note.collector.error('unknown-block-kind', place, { word, kinds: BLOCK_KINDS, nearest });
    return undefined;
  }
  const named = kindNamed(language, word);
  if (named) {
    if (code.lang !== 'yaml') note.collector.error('block-without-yaml', place, { kind: named, written });
    else if (rest.length > 0) {
      note.collector.error('words-after-kind', place, { words: rest.join(' '), kind: named });
    }
    return named;
  }
  if (SHOWN_AS_IT_IS.includes(language)) return undefined;
  const kind = seemingKind(code.value, isYaml ? 'as yaml' : 'as code');
  if (kind) note.collector.error('block-as-code', place, { kind, written });
  return isYaml ? kind : undefined;
}

/** `yaml calc`, `calc`, `yml calc`, `yalm calc`, `yaml-calc`, `{yaml calc}`. */
function kindNamed(language: string, word: string): BlockKind | undefined {
  const words = [word.toLowerCase().replace(/\W+$/, ''), language, /ya?ml\W*(\w+)/.exec(language)?.[1] ?? ''];
  return words.find(isBlockKind);
}
