import { Extension, Extensions, InvalidityDate } from '@peculiar/asn1-x509';
import { type AsnType, GeneralizedTime, UTCTime } from 'asn1js';
import { type Element, elementsIn } from './ber-length.ts';
import { integerOf } from './certificate-facts.ts';
import { decode, parseAs, partsOf, wordTime } from './der.ts';

/** A list of revoked certificates (RFC 5280, 5.1), of which the entries are only looked through. */
export interface RevocationList {
  /** What its signature is over. */
  readonly signed: Uint8Array;
  readonly algorithm: AsnType;
  readonly signature: Uint8Array;
  /** Name of who made it, in DER. */
  readonly issuer: Uint8Array;
  /** Such as `2031-05-04T09:30:00Z`. */
  readonly thisUpdate: string;
  readonly nextUpdate: string | undefined;
  readonly extensions: readonly Extension[];
  /** The entry of a serial number. */
  readonly find: (serialNumber: bigint) => ListEntry | undefined;
}

export interface ListEntry {
  /** From when on the certificate is revoked, or thought to be unsafe where that is said and earlier. */
  readonly revoked: string;
}

const TAGS = {
  integer: 0x02,
  bits: 0x03,
  utcTime: 0x17,
  time: 0x18,
  sequence: 0x30,
  extensions: 0xa0,
} as const;
/** Entries of other issuers name them (certificateIssuer, RFC 5280, 5.3.3): such lists are not understood here. */
const OTHER_ISSUER = Buffer.from('0603551d1d', 'hex');
const REASON = '2.5.29.21';
const INVALIDITY = '2.5.29.24';

/** @throws {Error} where it is no such list, or something follows */
export function readRevocationList(bytes: Uint8Array): RevocationList {
  const slice = ({ at, end }: Element): Uint8Array => bytes.subarray(at, end);
  const inside = ({ content, end }: Element): Element[] => [...elementsIn(bytes, content, end)];
  const [whole, ...more] = elementsIn(bytes, 0, bytes.length);
  const [signed, algorithm, signature] = tagged(whole && more.length === 0 ? inside(whole) : [], [
    TAGS.sequence,
    TAGS.sequence,
    TAGS.bits,
  ]);
  const parts = inside(signed!);
  // The version may be left out.
  if (parts[0]?.tag === TAGS.integer) parts.shift();
  const [, issuer] = tagged(parts.splice(0, 2), [TAGS.sequence, TAGS.sequence]);
  const times = [takeTime(parts), takeTime(parts)].map((one) => one && readTime(decode(slice(one))));
  if (times[0] === undefined) throw new Error('it does not say when it was made');
  const entries = parts[0]?.tag === TAGS.sequence ? parts.shift() : undefined;
  const extensions = parts[0]?.tag === TAGS.extensions ? parts.shift() : undefined;
  if (parts.length > 0) throw new Error('it holds something else');
  if (Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length).includes(OTHER_ISSUER))
    throw new Error('it has entries of other issuers');
  // A look at each, so that what is no entry is no list.
  if (entries) for (const entry of elementsIn(bytes, entries.content, entries.end)) serialOf(bytes, entry);
  return {
    signed: slice(signed!),
    algorithm: decode(slice(algorithm!)),
    signature: bytes.subarray(signature!.content + 1, signature!.end),
    issuer: slice(issuer!),
    thisUpdate: times[0],
    nextUpdate: times[1],
    extensions: extensions
      ? [...parseAs(bytes.subarray(extensions.content, extensions.end), Extensions)]
      : [],
    find: (serialNumber) => {
      if (entries === undefined) return undefined;
      for (const entry of elementsIn(bytes, entries.content, entries.end))
        if (integerOf(serialOf(bytes, entry)) === serialNumber) return readEntry(decode(slice(entry)));
      return undefined;
    },
  };
}

function tagged(elements: readonly Element[], tags: readonly number[]): readonly Element[] {
  if (elements.length === tags.length && elements.every(({ tag }, i) => tag === tags[i])) return elements;
  throw new Error('it is no list of revoked certificates');
}

function takeTime(parts: Element[]): Element | undefined {
  const [first] = parts;
  return first?.tag === TAGS.utcTime || first?.tag === TAGS.time ? parts.shift() : undefined;
}

/** The serial number with which an entry begins. */
function serialOf(bytes: Uint8Array, entry: Element): Uint8Array {
  const { value } = elementsIn(bytes, entry.content, entry.end).next();
  if (entry.tag !== TAGS.sequence || value?.tag !== TAGS.integer)
    throw new Error('an entry has no serial number');
  return bytes.subarray(value.content, value.end);
}

/** @throws {Error} where the entry has a critical extension that is not known here */
function readEntry(entry: AsnType): ListEntry {
  const [, time, extensions] = partsOf(entry);
  const known = (extensions ? partsOf(extensions) : []).map((one) => parseAs(one.toBER(), Extension));
  if (known.some(({ critical, extnID }) => critical && extnID !== REASON && extnID !== INVALIDITY))
    throw new Error('an entry has a critical extension');
  const found = known.find(({ extnID }) => extnID === INVALIDITY);
  const invalid = found && wordTime(parseAs(found.extnValue.buffer, InvalidityDate).value);
  const revoked = readTime(time!);
  return { revoked: invalid !== undefined && invalid < revoked ? invalid : revoked };
}

function readTime(element: AsnType): string {
  if (element instanceof GeneralizedTime || element instanceof UTCTime) return wordTime(element.toDate());
  throw new Error('a time in it is none');
}
