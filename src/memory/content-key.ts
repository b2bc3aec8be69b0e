import { isPlain } from './same-value.ts';

/**
 * The content of a value as one text: two values have the same text exactly where `sameValue` finds no difference. What is asked
 * again of one object is not written again; so an object must not change after it was asked of.
 *
 * @throws {Error} of a function, a symbol or an object of a class, whose content cannot be told
 */
export function contentKey(value: unknown): string {
  if (typeof value !== 'object' || value === null) return textOf(value);
  const known = KNOWN.get(value);
  if (known !== undefined) return known;
  const text = textOf(value);
  KNOWN.set(value, text);
  return text;
}

/** What was written of an object, as long as somebody holds it: its content alone decides, so that it matters to no result. */
const KNOWN = new WeakMap<object, string>();

/** Joined at the end: of a text that is added to, V8 keeps every addition, as long as the text is kept. */
function textOf(value: unknown): string {
  const parts: string[] = [];
  write(value, parts);
  return parts.join('');
}

function write(value: unknown, parts: string[]): void {
  switch (typeof value) {
    case 'string':
      parts.push(JSON.stringify(value));
      return;
    case 'number':
      parts.push(Object.is(value, -0) ? '-0' : String(value));
      return;
    case 'bigint':
      parts.push(`${value}n`);
      return;
    case 'boolean':
    case 'undefined':
      parts.push(String(value));
      return;
    case 'object':
      if (value === null) parts.push('null');
      else writeObject(value, parts);
      return;
    default:
      throw new Error(`a ${typeof value} has no content`);
  }
}

function writeObject(value: object, parts: string[]): void {
  if (Array.isArray(value)) writeAll('[', value, ']', parts);
  else if (value instanceof Map) {
    let before = 'Map{';
    for (const [key, inner] of value) {
      parts.push(before);
      write(key, parts);
      parts.push(':');
      write(inner, parts);
      before = ',';
    }
    parts.push(value.size === 0 ? 'Map{}' : '}');
  } else if (value instanceof Set) writeAll('Set{', value, '}', parts);
  else if (ArrayBuffer.isView(value)) {
    writeAll(`${value.constructor.name}[`, value as unknown as Iterable<number>, ']', parts);
  } else if (isPlain(value)) writeFields(value as Record<string, unknown>, parts);
  else throw new Error(`an object of ${value.constructor.name} has no content`);
}

function writeFields(value: Record<string, unknown>, parts: string[]): void {
  let before = '{';
  for (const key of Object.keys(value)) {
    parts.push(before, writeKey(key));
    write(value[key], parts);
    before = ',';
  }
  parts.push(before === '{' ? '{}' : '}');
}

function writeAll(open: string, values: Iterable<unknown>, close: string, parts: string[]): void {
  parts.push(open);
  let isFirst = true;
  for (const value of values) {
    if (!isFirst) parts.push(',');
    write(value, parts);
    isFirst = false;
  }
  parts.push(close);
}

/** Keys of objects are few, and written again and again. */
function writeKey(key: string): string {
  let text = KEYS.get(key);
  if (text === undefined) {
    text = `${JSON.stringify(key)}:`;
    if (KEYS.size < MOST_KEYS) KEYS.set(key, text);
  }
  return text;
}

const KEYS = new Map<string, string>();
const MOST_KEYS = 10_000;
