/**
 * A map of a few entries in one list, a third as large as one that hashes its keys: a long document has one for each of its tags. It answers as any
 * other map, but for two things: NaN is never found as a key, and what it gives to iterate over is a copy, which later changes do not reach.
 */
export class ShortMap<Key, Value> implements Map<Key, Value> {
  /** Each key with its value behind it. */
  readonly #listed: (Key | Value)[];

  /** @param listed different keys, each with its value behind it; taken over */
  constructor(listed: (Key | Value)[] = []) {
    this.#listed = listed;
  }

  get [Symbol.toStringTag](): string {
    return 'Map';
  }

  get size(): number {
    return this.#listed.length / 2;
  }

  get(key: Key): Value | undefined {
    const listed = this.#listed;
    for (let i = 0; i < listed.length; i += 2) if (listed[i] === key) return listed[i + 1] as Value;
    return undefined;
  }

  has(key: Key): boolean {
    return this.#placeOf(key) >= 0;
  }

  set(key: Key, value: Value): this {
    const place = this.#placeOf(key);
    if (place < 0) this.#listed.push(key, value);
    else this.#listed[place + 1] = value;
    return this;
  }

  delete(key: Key): boolean {
    const place = this.#placeOf(key);
    if (place >= 0) this.#listed.splice(place, 2);
    return place >= 0;
  }

  clear(): void {
    this.#listed.length = 0;
  }

  forEach(visit: (value: Value, key: Key, map: Map<Key, Value>) => void): void {
    const listed = this.#listed;
    for (let i = 0; i < listed.length; i += 2) visit(listed[i + 1] as Value, listed[i] as Key, this);
  }

  keys(): MapIterator<Key> {
    return this.#pairs()
      .map(([key]) => key)
      .values();
  }

  values(): MapIterator<Value> {
    return this.#pairs()
      .map(([, value]) => value)
      .values();
  }

  entries(): MapIterator<[Key, Value]> {
    return this.#pairs().values();
  }

  [Symbol.iterator](): MapIterator<[Key, Value]> {
    return this.entries();
  }

  #placeOf(key: Key): number {
    const listed = this.#listed;
    for (let i = 0; i < listed.length; i += 2) if (listed[i] === key) return i;
    return -1;
  }

  #pairs(): [Key, Value][] {
    const pairs: [Key, Value][] = [];
    for (let i = 0; i < this.#listed.length; i += 2)
      pairs.push([this.#listed[i] as Key, this.#listed[i + 1] as Value]);
    return pairs;
  }
}
