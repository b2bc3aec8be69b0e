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
  if (Array.isArray(value)) return `[${value.map(write).join(',')}]`;
  if (value instanceof Map) {
    return `Map{${[...value].map(([key, inner]) => `${write(key)}:${write(inner)}`).join(',')}}`;
  }
  if (value instanceof Set) return `Set{${[...value].map(write).join(',')}}`;
  if (ArrayBuffer.isView(value)) {
    return `${value.constructor.name}[${Array.from(value as unknown as ArrayLike<number>, write).join(',')}]`;
  }
  if (!isPlain(value)) throw new Error(`an object of ${value.constructor.name} has no content`);
  return `{${Object.entries(value)
    .map(([key, inner]) => `${JSON.stringify(key)}:${write(inner)}`)
    .join(',')}}`;
}
