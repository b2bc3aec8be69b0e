/**
 * Whether two values of plain data are the same: numbers, texts, lists, maps, sets, typed arrays, and objects by their own
 * fields in their order. Functions, symbols and objects of classes are the same only as themselves.
 */
export function sameValue(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a)) return Array.isArray(b) && sameLists(a, b);
  if (a instanceof Map) return b instanceof Map && sameLists([...a], [...b]);
  if (a instanceof Set) return b instanceof Set && sameLists([...a], [...b]);
  if (ArrayBuffer.isView(a)) return ArrayBuffer.isView(b) && sameArrays(a, b);
  return isPlain(a) && isPlain(b) && sameLists(Object.entries(a), Object.entries(b));
}

/** Whether an object has nothing but its own fields. */
export function isPlain(value: object): boolean {
  const prototype = Object.getPrototypeOf(value);
  return prototype === Object.prototype || prototype === null;
}

function sameLists(a: readonly unknown[], b: readonly unknown[]): boolean {
  return a.length === b.length && a.every((item, i) => sameValue(item, b[i]));
}

function sameArrays(a: ArrayBufferView, b: ArrayBufferView): boolean {
  if (a.constructor !== b.constructor) return false;
  return sameLists(
    Array.from(a as unknown as ArrayLike<number>),
    Array.from(b as unknown as ArrayLike<number>),
  );
}
