import { AsnConvert } from '@peculiar/asn1-schema';
import {
  type AsnType,
  fromBER,
  ObjectIdentifier,
  OctetString,
  type Sequence,
  type Set as SetOf,
} from 'asn1js';
import { refuseLongElements } from './ber-length.ts';

/** Bytes of an element. */
export function encode(element: AsnType): Uint8Array {
  return new Uint8Array(element.toBER());
}

/**
 * The element that data in BER or DER consist of.
 *
 * @throws {Error} where they are none, or something follows
 */
export function decode(bytes: Uint8Array): AsnType {
  refuseLongElements(bytes);
  const { offset, result } = fromBER(bytes);
  if (offset === -1 || offset !== bytes.length) throw new Error(result.error || 'something follows its end');
  return result;
}

/** As the library parses data into one of its types. @throws {Error} */
export function parseAs<T>(data: Uint8Array | ArrayBuffer, type: new () => T): T {
  const bytes = new Uint8Array(data);
  refuseLongElements(bytes);
  return AsnConvert.parse(bytes, type);
}

/** The elements of a sequence, set or tagged element. @throws {Error} where it is none */
export function partsOf(element: AsnType | undefined): AsnType[] {
  const parts = (element as Sequence | SetOf | undefined)?.valueBlock?.value;
  if (!Array.isArray(parts)) throw new Error('it lacks a part');
  return parts as AsnType[];
}

/** Number of a part that is tagged by its context; undefined for any other. */
export function contextTag(element: AsnType): number | undefined {
  return element.idBlock.tagClass === 3 ? element.idBlock.tagNumber : undefined;
}

/** The bytes of an element as they stood in what was decoded. */
export function rawOf(element: AsnType): Uint8Array {
  return Uint8Array.from(element.valueBeforeDecodeView);
}

/** The value of an object identifier. @throws {Error} where it is none */
export function identifierOf(element: AsnType | undefined): string {
  if (!(element instanceof ObjectIdentifier)) throw new Error('it lacks an identifier');
  return element.getValue();
}

/** The content of an octet string, in one piece or several. @throws {Error} where it is none */
export function octetsOf(element: AsnType | undefined): Uint8Array {
  if (!(element instanceof OctetString)) throw new Error('it lacks a value');
  return new Uint8Array(element.getValue());
}

/** Names and serial number of a certificate (RFC 5280, 4.1): the version before them may be left out. */
export function nameCertificate(certificate: AsnType): {
  issuer: AsnType;
  serialNumber: AsnType;
  subject: AsnType;
} {
  const body = partsOf(partsOf(certificate)[0]);
  const [serialNumber, , issuer, , subject] = contextTag(body[0]!) === 0 ? body.slice(1) : body;
  if (!serialNumber || !issuer || !subject) throw new Error('a certificate in it is damaged');
  return { issuer, serialNumber, subject };
}

/** `2031-05-04T09:30:00Z`; parts of a second are dropped. */
export function wordTime(time: Date): string {
  return `${time.toISOString().slice(0, 19)}Z`;
}
