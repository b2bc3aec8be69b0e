import { Collector } from '../../diagnostics/collector.ts';
import { wholeFile } from '../../source/map-places.ts';
import { readYaml } from '../../source/read-yaml.ts';
import { partYaml, type Token, type YamlLine } from './yaml-lines.ts';

const STEP = 2;

/**
 * Sets a YAML text evenly: two blanks for each level, one behind a colon or a comma, one within braces, no blanks at the ends of lines and no
 * two blank lines together. Words, quotes, comments, their order and the ends of lines stay.
 *
 * **Invariant:** what is read of the text is what was read before; where that would not be so, undefined.
 *
 * @returns undefined too where the text is not well-formed, or has a form that cannot be set otherwise in safety
 */
export function formatYaml(text: string): string | undefined {
  const once = setEvenly(text);
  if (once === undefined || meaningOf(once) !== meaningOf(text)) return undefined;
  return setEvenly(once) === once ? once : undefined;
}

/** All that is read of a text, but for where it stands, with its comments; undefined where it is not well-formed. */
function meaningOf(text: string): string | undefined {
  const collector = new Collector();
  const { node, broken } = readYaml(text, wholeFile(''), collector, { bracesAreText: true });
  if (broken) return undefined;
  const content = JSON.stringify(node, (key, value) => (/place$/i.test(key) ? undefined : value));
  const comments = (partYaml(text) ?? []).flatMap(({ tokens }) =>
    tokens.filter(({ type }) => type === 'comment').map(({ source }) => source.trimEnd()),
  );
  const faults = collector.list().map(({ code }) => code);
  return JSON.stringify([content, comments, faults]);
}

function setEvenly(text: string): string | undefined {
  if (meaningOf(text) === undefined) return undefined;
  const lines = partYaml(text);
  if (!lines || text.trim() === '') return undefined;
  const end = /\r\n|\n/.exec(text)?.[0] ?? '\n';
  const set = new LineSetter(lines).set();
  if (!set) return undefined;
  const last = /\r?\n[ \t]*$/.test(text) ? end : '';
  return withoutEmptyRuns(set).join('\n').replaceAll('\n', end) + last;
}

/** No blank lines at the ends, and one where there were several; within texts over several lines they stay. */
function withoutEmptyRuns(lines: readonly string[]): string[] {
  const kept = lines.filter((line, index) => line !== '' || (index > 0 && lines[index - 1] !== ''));
  while (kept.at(-1) === '') kept.pop();
  return kept[0] === '' ? kept.slice(1) : kept;
}

/** A mapping or list that is open, by the column of its keys or dashes as they stand and as they are set. */
interface Level {
  readonly column: number;
  readonly isList: boolean;
  readonly set: number;
}

class LineSetter {
  readonly #lines: readonly YamlLine[];
  readonly #levels: Level[] = [];
  /** Of the line on which the open braces began. */
  #flowIndent = 0;

  constructor(lines: readonly YamlLine[]) {
    this.#lines = lines;
  }

  /** The lines as they are to stand, each perhaps of several; undefined where a text over several lines cannot be moved. */
  set(): readonly string[] | undefined {
    const set: string[] = [];
    /** Lines of comments alone: they belong to what follows. */
    let waiting: number[] = [];
    for (const line of this.#lines) {
      const [first] = line.tokens;
      if (first?.type === 'comment' && line.depth === 0) {
        waiting.push(set.length);
        set.push(first.source.trimEnd());
        continue;
      }
      if (!first) {
        set.push('');
        continue;
      }
      const indent = line.depth > 0 ? this.#flowColumn(line) : this.#blockColumn(line);
      for (const index of waiting) set[index] = blanks(indent) + set[index];
      waiting = [];
      const written = blanks(indent) + this.#join(line, indent);
      const below = line.blockText === undefined ? '' : moveBlockText(line, line.blockText, indent + STEP);
      if (below === undefined) return undefined;
      set.push(written + below);
    }
    return set;
  }

  #flowColumn({ depth, tokens }: YamlLine): number {
    const closes = tokens[0]!.type === 'flow-map-end' || tokens[0]!.type === 'flow-seq-end';
    return this.#flowIndent + STEP * Math.max(1, closes ? depth - 1 : depth);
  }

  /** Where a line begins that stands in no braces; opens and closes levels as it does. */
  #blockColumn({ column, tokens }: YamlLine): number {
    let at = column;
    let first: number | undefined;
    for (const [index, token] of tokens.entries()) {
      if (token.type !== 'seq-item-ind') {
        const isKey = this.#isKey(tokens, index);
        const set = isKey ? this.#enter(at, false) : this.#valueColumn(at);
        first ??= set;
        break;
      }
      const set = this.#enter(at, true);
      first ??= set;
      at += token.source.length + (tokens[index + 1]?.gap.length ?? 0);
    }
    this.#flowIndent = first ?? 0;
    return first ?? 0;
  }

  /** Whether a scalar is followed by a colon. */
  #isKey(tokens: readonly Token[], index: number): boolean {
    return tokens[index + 1]?.type === 'map-value-ind';
  }

  /** The column of a key or dash, of a level that is open or is opened by it. */
  #enter(column: number, isList: boolean): number {
    const open = (): Level | undefined => this.#levels.at(-1);
    while (open() && (open()!.column > column || (open()!.column === column && open()!.isList && !isList))) {
      this.#levels.pop();
    }
    const top = open();
    if (top && top.column === column && top.isList === isList) return top.set;
    const set = top ? top.set + STEP : 0;
    this.#levels.push({ column, isList, set });
    return set;
  }

  /** A value on a line of its own, below its key or behind a dash. */
  #valueColumn(column: number): number {
    const below = this.#levels.findLast((level) => level.column < column);
    return below ? below.set + STEP : 0;
  }

  #join({ tokens }: YamlLine, indent: number): string {
    return tokens
      .map((token, index) => gapBefore(token, tokens[index - 1]) + moveLines(token.source, indent + STEP))
      .join('')
      .trimEnd();
  }
}

const blanks = (count: number): string => ' '.repeat(count);

/** The blanks between two tokens of a line. */
function gapBefore({ type, gap }: Token, before: Token | undefined): string {
  if (!before) return '';
  if (type === 'comment') return gap === '' ? ' ' : gap;
  if (type === 'comma' || type === 'map-value-ind') return '';
  if (type === 'flow-map-end') return before.type === 'flow-map-start' ? '' : ' ';
  if (type === 'flow-seq-end' || before.type === 'flow-seq-start') return '';
  return ' ';
}

/** A plain or quoted text over several lines: how far the further ones are indented means nothing. */
function moveLines(source: string, column: number): string {
  if (!source.includes('\n')) return source;
  return source
    .split('\n')
    .map((line, index) => (index === 0 || line.trim() === '' ? line : blanks(column) + line.trimStart()))
    .join('\n');
}

/** The lines of a block scalar, all moved by as much; undefined where its header says how far they are indented. */
function moveBlockText({ tokens }: YamlLine, text: string, column: number): string | undefined {
  const header = tokens.find(({ type }) => type === 'block-scalar-header')!.source;
  if (/[\d+]/.test(header)) return undefined;
  const lines = text.replace(/\r?\n[ \t]*$/, '').split('\n');
  const first = lines.find((line) => line.trim() !== '');
  if (first === undefined) return undefined;
  const old = /^ */.exec(first)![0].length;
  if (lines.some((line) => line.trim() !== '' && !line.startsWith(blanks(old)))) return undefined;
  const moved = lines.map((line) =>
    line.trim() === '' ? line.slice(old) : blanks(column) + line.slice(old),
  );
  return `\n${moved.join('\n')}`;
}
