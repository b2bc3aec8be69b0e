import type { Code } from 'mdast';
import { nearestName } from '../diagnostics/nearest-name.ts';
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
  const fence = /^(`{3,}|~{3,})/.exec(source)?.[0];
  if (!fence) {
    checkIndented(code, note);
    return undefined;
  }
  if (!isClosed(source, fence)) note.collector.error('unclosed-fence', placeOf(code, note), { fence });
  else if (swallows(code, fence, note)) return undefined;
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

function isClosed(source: string, fence: string): boolean {
  const last = splitLines(source).slice(1).at(-1) ?? '';
  const closing = /(`{3,}|~{3,})[ \t]*$/.exec(last)?.[1];
  return closing !== undefined && closing[0] === fence[0] && closing.length >= fence.length;
}

/** A fence above that was not closed ends where a block of ours ends: its opening then stands within the code. */
function swallows(code: Code, fence: string, note: NoteText): boolean {
  const opening = OPENING_LINE.exec(code.value);
  if (!opening) return false;
  const inner = opening[1]!;
  const nests = inner[0] !== fence[0] || inner.length < fence.length;
  if (nests && SHOWN_AS_IT_IS.includes(code.lang?.toLowerCase() ?? '')) return false;
  const line = (code.position?.start.line ?? 1) + splitLines(code.value.slice(0, opening.index)).length;
  const place = note.lines.placeOf(note.path, line - 1);
  note.collector.error('block-in-code', place, { fence, line: code.position?.start.line ?? 1 }, [
    { place: placeOf(code, note), note: 'the code begins here' },
  ]);
  return true;
}

/** The kind that the info string names, or that it was meant to name; then that is reported, and the block is read. */
function kindOf(code: Code, note: NoteText): BlockKind | undefined {
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
