import { Collector } from '../diagnostics/collector.ts';
import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import type { Code } from '../diagnostics/messages.ts';
import type { Place } from '../diagnostics/place.ts';
import { TextLines } from '../diagnostics/text-lines.ts';
import type { PlaceMap } from './map-places.ts';
import type { SourceNode } from './source-node.ts';

/** What one reading of a text gave. */
export interface OnceRead {
  readonly node: SourceNode;
  /** Faults by which the structure cannot be trusted; they are in the collector too. */
  readonly faults: readonly Diagnostic[];
}

/** Reads a text once; everything that is wrong with it goes into the collector. */
export type ReadOnce = (text: string, places: PlaceMap, collector: Collector) => OnceRead;

/** So often at most a text is read again without the lines at fault; a long one takes its time. */
const MOST_READINGS = 12;
const MOST_READINGS_OF_LONG = 3;
const LONG = 100_000;
/** With so many lines at fault each reading takes its time. */
const MANY_FAULTS = 300;

/** Faults that say no more than that a line does not fit: below another fault they follow from it. */
const MAY_FOLLOW: ReadonlySet<Code> = new Set<Code>([
  'yaml-syntax',
  'bad-indentation',
  'indented-under-value',
  'tag-on-key',
]);

/**
 * Reads a text whose structure may be broken. One fault makes whatever stands below it seem wrong; so the first faulty line is
 * reported and passed over, and the rest is read again, until what is left is sound. What else is wrong on a line that was passed
 * over, or on lines right below that do not fit, is told when that line is mended.
 *
 * @returns broken where a line was passed over: what the node holds is then not all that was written
 */
export function readSound(
  text: string,
  read: ReadOnce,
  places: PlaceMap,
  collector: Collector,
): { readonly node: SourceNode; readonly broken: boolean } {
  return new SoundReader(text, read, places, collector).run();
}

class SoundReader {
  readonly #read: ReadOnce;
  readonly #places: PlaceMap;
  readonly #collector: Collector;
  readonly #lines: TextLines;
  /** Where in the text a place that was handed out begins. */
  readonly #offsets = new WeakMap<Place, number>();
  readonly #passed = new Set<number>();
  #text: string;
  #hadTabs = false;

  constructor(text: string, read: ReadOnce, places: PlaceMap, collector: Collector) {
    this.#text = text;
    this.#read = read;
    this.#places = places;
    this.#collector = collector;
    this.#lines = new TextLines(text);
  }

  run(): { readonly node: SourceNode; readonly broken: boolean } {
    let most = this.#text.length > LONG ? MOST_READINGS_OF_LONG : MOST_READINGS;
    let last = -2;
    for (let i = 1; ; i += 1) {
      const found = new Collector();
      const { node, faults } = this.#read(this.#text, this.#placeOf, found);
      if (faults.length === 0) {
        this.#reportRest(found);
        return { node, broken: i > 1 };
      }
      if (faults.length > MANY_FAULTS) most = MOST_READINGS_OF_LONG;
      const lines = this.#faultyLines(faults);
      const first = this.#causeOf(lines[0]!, found);
      const ofLine = this.#onLine(faults, first);
      const follows = this.#follows(ofLine, first, last);
      if (!follows) this.#report(found, faults, first);
      const passed = follows ? runOf(lines) : [first];
      const hasTab = ofLine.some(({ code }) => code === 'tab-indentation');
      const isLess = hasTab ? this.#replaceTabs() : passed.map((line) => this.#passOver(line)).includes(true);
      if (i >= most) this.#collector.addAll(found);
      if (!isLess || i >= most) return { node, broken: true };
      last = passed.at(-1)!;
    }
  }

  readonly #placeOf: PlaceMap = (start, end) => {
    const place = this.#places(start, end);
    this.#offsets.set(place, start);
    return place;
  };

  #lineOf({ place }: Diagnostic): number {
    return this.#lines.lineAt(this.#offsets.get(place) ?? 0);
  }

  #onLine(diagnostics: readonly Diagnostic[], line: number): Diagnostic[] {
    return diagnostics.filter((one) => this.#lineOf(one) === line);
  }

  #faultyLines(faults: readonly Diagnostic[]): number[] {
    return [...new Set(faults.map((fault) => this.#lineOf(fault)))].sort((a, b) => a - b);
  }

  /** A line that does not fit may do so because of a tag alone on the line above. */
  #causeOf(line: number, found: Collector): number {
    const above = this.#onLine(found.list(), line - 1);
    const isTag = above.some(({ code }) => code === 'unknown-tag' || code === 'tag-without-text');
    return isTag && !this.#passed.has(line - 1) ? line - 1 : line;
  }

  /** Whether the faults of a line are what is left of one that was reported. */
  #follows(ofLine: readonly Diagnostic[], line: number, last: number): boolean {
    if (this.#passed.has(line)) return true;
    if (ofLine.length === 0) return false;
    return (line === last + 1 || this.#hadTabs) && ofLine.every(({ code }) => MAY_FOLLOW.has(code));
  }

  /** What is wrong with a sound text; a line that was passed over may have parted keys that are now written twice. */
  #reportRest(found: Collector): void {
    const below = new Set(this.#passed);
    const byLine = new Map<number, Diagnostic[]>();
    for (const one of found.list()) {
      const line = this.#lineOf(one);
      const known = byLine.get(line);
      if (known) known.push(one);
      else byLine.set(line, [one]);
    }
    for (const [line, ofLine] of [...byLine].sort(([a], [b]) => a - b)) {
      if (below.has(line - 1) && ofLine.every(({ code }) => code === 'duplicate-key')) below.add(line);
      else for (const diagnostic of ofLine) this.#collector.add(diagnostic);
    }
  }

  /** Of a faulty line, what names its fault; where nothing does, that it does not fit. */
  #report(found: Collector, faults: readonly Diagnostic[], line: number): void {
    const all = this.#onLine(found.list(), line);
    const named = all.filter(({ code }) => !MAY_FOLLOW.has(code));
    const told = named.some(({ severity }) => severity === 'error') ? named : this.#onLine(faults, line);
    for (const diagnostic of told) this.#collector.add(diagnostic);
  }

  /** Indents with blanks where tabs stand, one for one: that tabs stand there is said once, and they hid how deep a line is. */
  #replaceTabs(): boolean {
    this.#hadTabs = true;
    const before = this.#text;
    this.#text = before.replace(/^[ \t]+/gm, (indentation) => indentation.replaceAll('\t', ' '));
    return this.#text !== before;
  }

  /** Leaves a line blank, or its value where it has a key and was not passed over before; false where it was blank already. */
  #passOver(index: number): boolean {
    const start = this.#lines.startOf(index);
    const end = start + this.#lines.lines[index]!.length;
    const line = this.#text.slice(start, end);
    this.#passed.add(index);
    if (line.trim() === '') return false;
    const kept = VALUE_OF_KEY.exec(line)?.[1] ?? '';
    this.#text = this.#text.slice(0, start) + kept.padEnd(line.length) + this.#text.slice(end);
    return true;
  }
}

const VALUE_OF_KEY = /^(\s*(?:-\s+)*["']?[\w-]+["']?:)(?=\s*\S)/;

/** The lines that follow one another without a gap from the first. */
function runOf(lines: readonly number[]): number[] {
  return lines.filter((line, index) => line === lines[0]! + index);
}
