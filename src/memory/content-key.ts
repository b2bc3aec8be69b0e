import { isPlain } from './same-value.ts';

/**
 * The content of a value as one text: two values have the same text exactly where `sameValue` finds no difference. What is asked
 * again of one object is not written again; so an object must not change after it was asked of.
 *
 * @throws {Error} of a function, a symbol or an object of a class, whose content cannot be told
 */
export function contentKey(value: unknown): string {
  if (typeof value !== 'object' || value === null) return write(value);
  const known = KNOWN.get(value);
  if (known !== undefined) return known;
  const text = write(value);
  KNOWN.set(value, text);
  return text;
}

/** What was written of an object, as long as somebody holds it: its content alone decides, so that it matters to no result. */
const KNOWN = new WeakMap<object, string>();

function write(value: unknown): string {
  switch (typeof value) {
    case 'string':
      return JSON.stringify(value);
    case 'number':
      return Object.is(value, -0) ? '-0' : String(value);
    case 'bigint':
      return `${value}n`;
    case 'boolean':
    case 'undefined':
      return String(value);
    case 'object':
      return value === null ? 'null' : writeObject(value);
    default:
      throw new Error(`a ${typeof value} has no content`);
  }
}

function writeObject(value: object): string {
  if (Array.isArray(value)) return `[${writeAll(value)}]`;
  if (value instanceof Map) {
    let text = '';
    for (const [key, inner] of value) text += `${text === '' ? '' : ','}${write(key)}:${write(inner)}`;
    return `Map{${text}}`;
  }
  if (value instanceof Set) return `Set{${writeAll(value)}}`;
  if (ArrayBuffer.isView(value)) {
    return `${value.constructor.name}[${writeAll(value as unknown as Iterable<number>)}]`;
  }
  if (!isPlain(value)) throw new Error(`an object of ${value.constructor.name} has no content`);
  let text = '';
  for (const key of Object.keys(value)) {
    text += `${text === '' ? '' : ','}${writeKey(key)}:${write((value as Record<string, unknown>)[key])}`;
  }
  return `{${text}}`;
}

function writeAll(values: Iterable<unknown>): string {
  let text = '';
  for (const value of values) text += text === '' ? write(value) : `,${write(value)}`;
  return text;
}

/** Keys of objects are few, and written again and again. */
function writeKey(key: string): string {
  let text = KEYS.get(key);
  if (text === undefined) {
    text = JSON.stringify(key);
    if (KEYS.size < MOST_KEYS) KEYS.set(key, text);
  }
  return text;
}

const KEYS = new Map<string, string>();
const MOST_KEYS = 10_000;
