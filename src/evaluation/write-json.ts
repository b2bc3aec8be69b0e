import type { Json } from './machine-report.ts';

/** A report of which parts are made only when they are written: of ten thousand rows no two need be there at once. */
export type JsonInParts =
  | Json
  | (() => Json)
  | readonly JsonInParts[]
  | { readonly [key: string]: JsonInParts };

/** So many characters at least go out together. */
const CHUNK = 1 << 16;

/** The lines of `JSON.stringify(value, null, 2)`, many at a time, without the line feed behind each lot. */
export function* writeJson(value: JsonInParts): Generator<string> {
  let pending = '';
  for (const piece of piecesOf(value, '')) {
    pending += piece;
    if (pending.length < CHUNK) continue;
    const end = pending.lastIndexOf('\n');
    if (end < 0) continue;
    yield pending.slice(0, end);
    pending = pending.slice(end + 1);
  }
  yield pending;
}

function* piecesOf(value: JsonInParts, indent: string): Generator<string> {
  if (typeof value === 'function') {
    // A line feed within a text is escaped, so that each one here begins a line.
    yield JSON.stringify(value(), null, 2).replaceAll('\n', `\n${indent}`);
  } else if (typeof value !== 'object' || value === null) yield JSON.stringify(value);
  else {
    const isList = Array.isArray(value);
    const entries = Object.entries(value).filter(([, item]) => item !== undefined);
    if (entries.length === 0) {
      yield isList ? '[]' : '{}';
      return;
    }
    const inner = `${indent}  `;
    for (const [i, [key, item]] of entries.entries()) {
      const name = isList ? '' : `${JSON.stringify(key)}: `;
      yield `${i === 0 ? (isList ? '[' : '{') : ','}\n${inner}${name}`;
      yield* piecesOf(item, inner);
    }
    yield `\n${indent}${isList ? ']' : '}'}`;
  }
}
