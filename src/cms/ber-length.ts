/** Most bytes of a length that are followed: 4 reach to 4 GB. */
const LONGEST = 4;
/** Elements of indefinite length within one another that are followed; a signature has about 6. */
const DEEPEST = 32;

const SEQUENCE = 0x30;
const INDEFINITE = 0x80;

/**
 * Length in bytes of the sequence that data in BER or DER (ITU-T X.690, 8.1) begin with, head and all; undefined where
 * they begin with none, or end before it does. What follows is not looked at.
 */
export function readSequenceLength(data: Uint8Array): number | undefined {
  if (data[0] !== SEQUENCE) return undefined;
  const end = findEnd(data, 0, 0);
  return end === undefined || end > data.length ? undefined : end;
}

/** Where the element ends that begins at an offset. */
function findEnd(data: Uint8Array, at: number, depth: number): number | undefined {
  const tag = data[at];
  const first = data[at + 1];
  // A tag of several bytes does not occur in signatures.
  if (tag === undefined || first === undefined || (tag & 0x1f) === 0x1f) return undefined;
  const start = at + 2;
  if (first < INDEFINITE) return start + first;
  if (first === INDEFINITE) return findMark(data, start, depth + 1);
  const count = first - INDEFINITE;
  if (count > LONGEST || start + count > data.length) return undefined;
  let length = 0;
  for (const byte of data.subarray(start, start + count)) length = length * 256 + byte;
  return start + count + length;
}

/** Where an element of indefinite length ends: behind the two zeros that follow its parts. */
function findMark(data: Uint8Array, start: number, depth: number): number | undefined {
  if (depth > DEEPEST) return undefined;
  let at: number | undefined = start;
  while (at !== undefined && at + 1 < data.length) {
    if (data[at] === 0 && data[at + 1] === 0) return at + 2;
    at = findEnd(data, at, depth);
  }
  return undefined;
}

/** An element, and where it stands: its tag, where its content begins, and where it ends. */
export interface Element {
  readonly tag: number;
  readonly at: number;
  readonly content: number;
  readonly end: number;
}

/**
 * The elements of DER that lie side by side in a stretch of data, without their insides: lists may have a million of them.
 *
 * @throws {Error} where they do not fill the stretch, or one is of indefinite length
 */
export function* elementsIn(data: Uint8Array, from: number, to: number): Generator<Element> {
  for (let at = from; at < to; ) {
    const end = data[at + 1] === INDEFINITE ? undefined : findEnd(data, at, 0);
    if (end === undefined || end > to) throw new Error('an element ends behind what holds it');
    const length = data[at + 1]!;
    yield { tag: data[at]!, at, content: at + 2 + Math.max(0, length - INDEFINITE), end };
    at = end;
  }
}

/** A truth value has one byte (ITU-T X.690, 8.2.1); what is tagged by its context and no list may be one, or a name or an address. */
const LONGEST_BOOLEAN = 1;
const LONGEST_TAGGED = 8192;
const BOOLEAN = 0x01;

/**
 * Refuses data in BER or DER with elements that the library takes hours for: it copies a truth value once for each of its bytes. Each byte
 * is looked at once; what is no BER is left to whoever reads it.
 *
 * @throws {Error}
 */
export function refuseLongElements(data: Uint8Array): void {
  for (let at = 0; at + 1 < data.length; ) {
    const tag = data[at]!;
    at += 1;
    if ((tag & 0x1f) === 0x1f) while (at < data.length && data[at]! >= 0x80) at += 1;
    if ((tag & 0x1f) === 0x1f) at += 1;
    const first = data[at];
    if (first === undefined) return;
    at += 1;
    const count = first > INDEFINITE ? first - INDEFINITE : 0;
    let length = first > INDEFINITE ? 0 : first;
    for (const byte of data.subarray(at, at + count)) length = length * 256 + byte;
    at += count;
    // What is made of parts is followed into, whatever it says of its length.
    if ((tag & 0x20) !== 0) continue;
    const most = tag === BOOLEAN ? LONGEST_BOOLEAN : tag >= 0x80 ? LONGEST_TAGGED : Number.POSITIVE_INFINITY;
    if (length > most) throw new Error(`an element of ${length} bytes in it may have ${most} at most`);
    at += length;
  }
}
