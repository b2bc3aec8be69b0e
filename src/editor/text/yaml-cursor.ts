/** Where a cursor stands in YAML, as far as the text before it and around it shows. */
export interface YamlCursor {
  /**
   * A key is being written, a value behind a key, an item of a list (a value, or the first key of a mapping), or a line of a text that is
   * written over several lines.
   */
  readonly at: 'key' | 'value' | 'item' | 'text';
  /** The keys that lead there, '-' for an item of a list; of a value its own key is the last. */
  readonly path: readonly string[];
  /** The keys that are written in the mapping in which the cursor stands, before and behind it. */
  readonly written: readonly string[];
  /** What is written there, from its first character to its last: the stretch that a completion replaces. */
  readonly start: number;
  readonly end: number;
  /** Of a key: whether its colon is written. */
  readonly hasColon: boolean;
}

/** A mapping as far as it was found; `children` by key, and by '-' and number for the items of a list. */
interface Mapping {
  readonly path: readonly string[];
  readonly keys: string[];
  readonly children: Map<string, Mapping>;
}

/** A mapping that is open at a line, with the column of its keys and the key that was written last. */
interface Level {
  readonly column: number;
  readonly mapping: Mapping;
  key: string | undefined;
}

interface FlowFrame {
  readonly isMap: boolean;
  readonly mapping: Mapping;
  key: string | undefined;
  /** Where the key, value or item begins that is being read. */
  start: number;
}

const KEY = /^(["']?)([\w.$/-]+(?: [\w.$/-]+)*)\1[ \t]*:(?=[ \t]|$)/;
const DASH = /^-(?=[ \t]|$)[ \t]*/;

/**
 * Finds where in a YAML text an offset stands. It goes by lines and columns and is content with whatever is half written: a parser says of such
 * a text that it is wrong, and not what was about to be written.
 *
 * @param text of marks of the markdown around blocks, `>`, nothing is left but blanks
 */
export function findYamlCursor(text: string, offset: number): YamlCursor {
  return new CursorFinder(text, offset).find();
}

class CursorFinder {
  readonly #text: string;
  readonly #offset: number;
  readonly #root = newMapping([]);
  #levels: Level[] = [{ column: 0, mapping: this.#root, key: undefined }];
  /** The indentation of the key of a text over several lines, while it lasts. */
  #textBelow: number | undefined;
  #isFirst = true;
  #found: (() => YamlCursor) | undefined;

  constructor(text: string, offset: number) {
    this.#text = text;
    this.#offset = offset;
  }

  find(): YamlCursor {
    let start = 0;
    while (start <= this.#text.length) start = this.#readLine(start);
    return this.#found?.() ?? this.#atKey(this.#levels[0]!.mapping, this.#offset, this.#offset);
  }

  /** Reads a line, with what else belongs to it; returns where the next one begins. */
  #readLine(start: number): number {
    const end = this.#lineEnd(start);
    const line = this.#text.slice(start, end);
    const indent = /^[ \t]*/.exec(line)![0].length;
    const isBlank = /^[ \t]*(?:#.*)?$/.test(line);
    const hasCursor = start <= this.#offset && this.#offset <= end;
    if (this.#textBelow !== undefined) {
      const isEmpty = line.trim() === '';
      const isWithin = isEmpty
        ? !hasCursor || this.#offset - start > this.#textBelow
        : indent > this.#textBelow;
      if (isWithin) {
        if (hasCursor) this.#takeText(start + indent, end);
        return end + 1;
      }
      this.#textBelow = undefined;
    }
    if (isBlank) {
      if (hasCursor && !this.#isInComment(line, start)) this.#takeBlank(this.#offset - start);
      return end + 1;
    }
    if (this.#isFirst) this.#levels = [{ column: indent, mapping: this.#root, key: undefined }];
    this.#isFirst = false;
    return this.#readContent(start + indent, start, end, hasCursor);
  }

  #readContent(from: number, start: number, end: number, hasCursor: boolean): number {
    let at = from;
    let item: Mapping | undefined;
    for (;;) {
      const dash = DASH.exec(this.#text.slice(at, end));
      if (!dash) break;
      item = this.#openItem(at - start);
      at += dash[0].length;
    }
    if (hasCursor && this.#offset < from) {
      this.#takeBlank(this.#offset - start);
      return end + 1;
    }
    const key = KEY.exec(this.#text.slice(at, end));
    if (key) return this.#readEntry(key, at, start, end, hasCursor);
    const opening = this.#text[at];
    if (item && (opening === '{' || opening === '[')) {
      const frame = opening === '{' ? item : childOf(item, '-', '-');
      return this.#readFlow(at, opening === '{', frame, start);
    }
    if (hasCursor) {
      const stop = this.#valueEnd(at, end);
      if (item) this.#takeItem(item, Math.min(at, this.#offset), stop);
      else this.#takeKey(this.#levelAt(at - start).mapping, at, stop);
    }
    return end + 1;
  }

  #readEntry(key: RegExpExecArray, at: number, start: number, end: number, hasCursor: boolean): number {
    const level = this.#levelAt(at - start);
    const name = key[2]!;
    this.#levels.push(level);
    level.key = name;
    level.mapping.keys.push(name);
    const colon = at + key[0].length;
    if (hasCursor && this.#offset < colon) {
      const keyEnd = at + key[0].slice(0, -1).trimEnd().length;
      const { mapping } = level;
      this.#found ??= () => ({
        ...this.#atKey(mapping, at, keyEnd),
        written: without(mapping.keys, name),
        hasColon: true,
      });
    }
    const value = colon + /^[ \t]*/.exec(this.#text.slice(colon, end))![0].length;
    const opening = this.#text[value];
    if (value < end && (opening === '{' || opening === '[')) {
      if (hasCursor && colon <= this.#offset && this.#offset <= value) {
        this.#takeValue(level.mapping, name, this.#offset, this.#offset);
      }
      const child = childOf(level.mapping, name, name);
      return this.#readFlow(
        value,
        opening === '{',
        opening === '{' ? child : childOf(child, '-', '-'),
        start,
      );
    }
    if (/^[|>][-+\d]*[ \t]*(?:#.*)?$/.test(this.#text.slice(value, end))) this.#textBelow = at - start;
    if (hasCursor && colon <= this.#offset) {
      this.#takeValue(level.mapping, name, Math.min(value, this.#offset), this.#valueEnd(value, end));
    }
    return end + 1;
  }

  /** The mapping whose keys stand at a column: one that is open, or a new one below the last key. It is the innermost from now on. */
  #levelAt(column: number): Level {
    while (this.#levels.length > 1 && this.#levels.at(-1)!.column > column) this.#levels.pop();
    const top = this.#levels.at(-1)!;
    const isBelow = top.column < column;
    if (isBelow && top.key !== undefined) return newLevel(column, childOf(top.mapping, top.key, top.key));
    if (this.#levels.length > 1) this.#levels.pop();
    return isBelow ? newLevel(column, top.mapping) : top;
  }

  /** An item of the list below the last key: its mapping, should it be one. */
  #openItem(column: number): Mapping {
    while (this.#levels.length > 1 && this.#levels.at(-1)!.column > column) this.#levels.pop();
    const top = this.#levels.at(-1)!;
    const list = top.key === undefined ? top.mapping : childOf(top.mapping, top.key, top.key);
    const item = childOf(list, '-', `- ${list.children.size}`);
    this.#levels.push({ column: column + 1, mapping: item, key: undefined });
    return item;
  }

  /** Reads a mapping in braces or a list in brackets, over several lines if need be. */
  #readFlow(from: number, isMap: boolean, mapping: Mapping, lineStart: number): number {
    const text = this.#text;
    const column = /^[ \t]*/.exec(text.slice(lineStart))![0].length;
    const frames: FlowFrame[] = [{ isMap, mapping, key: undefined, start: from + 1 }];
    let at = from + 1;
    while (at <= text.length) {
      const frame = frames.at(-1)!;
      if (at === this.#offset) this.#takeFlow(frame);
      const character = text[at];
      if (character === undefined) return at + 1;
      if (character === '\n') {
        if (this.#endsFlow(at + 1, column)) return at + 1;
      } else if ((character === '"' || character === "'") && text.slice(frame.start, at).trim() === '') {
        at = this.#skipQuoted(at, frame);
        continue;
      } else if (character === '#' && /\s/.test(text[at - 1] ?? ' ')) {
        at = this.#lineEnd(at);
        continue;
      } else if (character === '{' || character === '[') {
        const below = frame.isMap ? childOf(frame.mapping, frame.key ?? '', frame.key ?? '') : frame.mapping;
        const opensMap = character === '{';
        const own = opensMap && !frame.isMap ? freshItem(below) : opensMap ? below : childOf(below, '-', '-');
        frames.push({ isMap: opensMap, mapping: own, key: undefined, start: at + 1 });
      } else if (character === '}' || character === ']') {
        frames.pop();
        if (frames.length === 0) return this.#lineEnd(at) + 1;
        frames.at(-1)!.start = at + 1;
      } else if (character === ',') {
        frame.key = undefined;
        frame.start = at + 1;
      } else if (
        character === ':' &&
        frame.isMap &&
        frame.key === undefined &&
        /[\s,}\]]|^$/.test(text[at + 1] ?? '')
      ) {
        frame.key = text
          .slice(frame.start, at)
          .trim()
          .replace(/^(["'])(.*)\1$/, '$2');
        frame.mapping.keys.push(frame.key);
        frame.start = at + 1;
      }
      at += 1;
    }
    return at;
  }

  /** Whether a line that begins within braces that are still open is one that stands behind them: a key no deeper than theirs. */
  #endsFlow(start: number, column: number): boolean {
    const line = this.#text.slice(start, this.#lineEnd(start));
    const indent = /^[ \t]*/.exec(line)![0].length;
    return indent <= column && /^(?:- )*(["']?)[\w-]+\1[ \t]*:(?=[ \t]|$)/.test(line.slice(indent));
  }

  /** Where a quoted text ends; one that is not closed on its line ends with it. */
  #skipQuoted(from: number, frame: FlowFrame): number {
    const quote = this.#text[from]!;
    const end = this.#lineEnd(from);
    let at = from + 1;
    while (at < end && this.#text[at] !== quote) at += quote === '"' && this.#text[at] === '\\' ? 2 : 1;
    const stop = Math.min(at + 1, end);
    if (from < this.#offset && this.#offset < stop) this.#takeFlow(frame);
    return stop;
  }

  #takeFlow({ isMap, mapping, key, start }: FlowFrame): void {
    const text = this.#text;
    const first = Math.min(start + /^\s*/.exec(text.slice(start))![0].length, this.#offset);
    const quote = /["']/.test(text[first] ?? '') ? text[first]! : '';
    const stopsAt = quote === '' ? /[,{}[\]\r\n]|:(?=[\s,}\]])|[ \t]#|$/ : /[\r\n]|$/;
    const stop = this.#offset + stopsAt.exec(text.slice(this.#offset))!.index;
    const end = Math.max(this.#offset, first + text.slice(first, stop).trimEnd().length);
    if (!isMap) this.#takeItem(mapping, first, end);
    else if (key === undefined) this.#takeKey(mapping, first, end);
    else this.#takeValue(mapping, key, first, end);
  }

  /** On a line without content the column decides. */
  #takeBlank(column: number): void {
    const open = [...this.#levels];
    while (open.length > 1 && open.at(-1)!.column > column) open.pop();
    const top = open.at(-1)!;
    const isBelow = top.column < column && top.key !== undefined;
    const mapping = isBelow ? childOf(top.mapping, top.key!, top.key!) : top.mapping;
    this.#takeKey(mapping, this.#offset, this.#offset);
  }

  #takeKey(mapping: Mapping, start: number, end: number): void {
    this.#found ??= () => this.#atKey(mapping, start, end);
  }

  #takeItem({ path, keys }: Mapping, start: number, end: number): void {
    this.#found ??= () => ({ at: 'item', path, written: keys, start, end, hasColon: false });
  }

  #takeValue({ path, keys }: Mapping, key: string, start: number, end: number): void {
    this.#found ??= () => ({ at: 'value', path: [...path, key], written: keys, start, end, hasColon: false });
  }

  #takeText(start: number, end: number): void {
    const { mapping, key } = this.#levels.at(-1)!;
    const path = key === undefined ? mapping.path : [...mapping.path, key];
    this.#found ??= () => ({
      at: 'text',
      path,
      written: [],
      start: Math.min(start, this.#offset),
      end,
      hasColon: false,
    });
  }

  #atKey({ path, keys }: Mapping, start: number, end: number): YamlCursor {
    const hasColon = /^[ \t]*:/.test(this.#text.slice(end));
    return { at: 'key', path, written: keys, start: Math.min(start, this.#offset), end, hasColon };
  }

  #isInComment(line: string, start: number): boolean {
    const mark = line.indexOf('#');
    return mark >= 0 && this.#offset - start > mark;
  }

  #lineEnd(from: number): number {
    const end = this.#text.indexOf('\n', from);
    return end < 0 ? this.#text.length : end;
  }

  /** Where the value on a line ends: before a comment, and no earlier than the cursor. */
  #valueEnd(from: number, lineEnd: number): number {
    const written = this.#text.slice(from, lineEnd);
    const comment = /^["']/.test(written) ? -1 : written.search(/(?:^|[ \t])#/);
    const end = from + (comment < 0 ? written : written.slice(0, comment)).trimEnd().length;
    return this.#offset <= lineEnd && this.#offset >= from ? Math.max(end, this.#offset) : end;
  }
}

function newLevel(column: number, mapping: Mapping): Level {
  return { column, mapping, key: undefined };
}

function newMapping(path: readonly string[]): Mapping {
  return { path, keys: [], children: new Map() };
}

/** What stands below a key; `name` tells the items of a list apart. */
function childOf(parent: Mapping, key: string, name: string): Mapping {
  const known = parent.children.get(name);
  if (known) return known;
  const child = newMapping([...parent.path, key]);
  parent.children.set(name, child);
  return child;
}

/** A mapping that is an item of a list whose items have this path. */
function freshItem(item: Mapping): Mapping {
  return newMapping(item.path);
}

function without(keys: readonly string[], name: string): string[] {
  const index = keys.indexOf(name);
  return keys.filter((_, i) => i !== index);
}
