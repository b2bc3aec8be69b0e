import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import { relatedNote } from '../diagnostics/related-note.ts';
import type { RegisterEntry } from './project-source.ts';
import { checkRegisterKey } from './read-names.ts';
import { optional, readRecord, required, text } from './read-shape.ts';
import { anyValue, faulty, isEmpty, namedEntries } from './read-value.ts';
import type { MapEntry } from './source-node.ts';

const PROPERTY = { value: required(anyValue, '75 kV'), source: optional(text) };

/** Reads the register of a project: section -> item -> property, each property a value or { value, source }. */
export class RegisterReader {
  readonly entries = new Map<string, RegisterEntry>();
  readonly itemTitles = new Map<string, string>();
  readonly #collector: Collector;
  /** Where each item stands. */
  readonly #places = new Map<string, Place>();

  constructor(collector: Collector) {
    this.#collector = collector;
  }

  readSection(section: MapEntry): void {
    if (section.value.type === 'empty' || !checkRegisterKey(section, this.#collector)) return;
    for (const item of namedEntries(section.value, section.key, this.#collector) ?? []) {
      if (!checkRegisterKey(item, this.#collector) || isEmpty(item, this.#collector)) continue;
      const path = `${section.key}.${item.key}`;
      if (this.claim(path, item.keyPlace)) this.#readItem(path, item);
    }
  }

  /** Whether an item is new; of one that stands in two files that is reported, and of a table in which it stands twice. */
  claim(path: string, place: Place, within?: 'each once'): boolean {
    const first = this.#places.get(path);
    if (!first) this.#places.set(path, place);
    // A key that is written twice in one YAML file has been reported by its reader.
    if (!first || (first.file === place.file && !within)) return true;
    const related = [{ place: first, note: relatedNote('first-written', {}) }];
    this.#collector.error('item-in-two-files', place, { item: path, first: first.file }, related);
    return false;
  }

  #readItem(path: string, item: MapEntry): void {
    for (const property of namedEntries(item.value, path, this.#collector) ?? []) {
      if (property.key === 'title') {
        const title = text(property.value, 'title', this.#collector);
        if (title !== undefined) this.itemTitles.set(path, title);
      } else if (checkRegisterKey(property, this.#collector)) {
        this.#readProperty(`${path}.${property.key}`, property);
      }
    }
  }

  #readProperty(path: string, property: MapEntry): void {
    const { keyPlace, value } = property;
    if (isEmpty(property, this.#collector, '75 kV')) {
      this.add(path, faulty(value.place), keyPlace);
      return;
    }
    if (value.type !== 'map') {
      this.add(path, value, keyPlace);
      return;
    }
    const reading = readRecord(value, PROPERTY, { where: `'${path}'` }, this.#collector);
    const written = reading?.values.value ?? faulty(value.place);
    this.add(path, written, keyPlace, reading?.values.source);
  }

  /** Adds a value of an item. */
  add(path: string, value: RegisterEntry['value'], place: Place, source?: string): void {
    this.entries.set(path, { path, value, place, ...(source === undefined ? {} : { source }) });
  }
}
