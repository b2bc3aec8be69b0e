import { TSTInfo } from '@peculiar/asn1-tsp';
import { parseAs, wordTime } from './der.ts';
import { OID } from './object-identifiers.ts';
import { readSignedData } from './read-signed-data.ts';

/** What a time stamp (RFC 3161, 2.4.2) says; whether its authority made it is for others to verify. */
export interface TimeStampFacts {
  /** By when it was made, such as `2031-05-04T09:30:00Z`; parts of a second are rounded up. */
  readonly time: string;
  /** Seconds by which the authority says that its clock may be wrong; 0 where it does not say. */
  readonly accuracy: number;
  readonly policy: string;
  readonly imprint: { readonly algorithm: string; readonly digest: Uint8Array };
  readonly nonce: Uint8Array | undefined;
  /** In DER. */
  readonly certificates: readonly Uint8Array[];
  /** That of the authority. */
  readonly certificate: Uint8Array | undefined;
  /** Object identifier of the digest on which its own signature rests. */
  readonly digest: string;
}

/** @throws {Error} where it is no time stamp that can be read */
export function readTimeStamp(token: Uint8Array): TimeStampFacts {
  const { contentType, content, certificates, certificate, digest } = readSignedData(token);
  if (contentType !== OID.timeStampContent || content === undefined) throw new Error('it is no time stamp');
  const info = parseAs(content, TSTInfo);
  if (info.extensions?.some(({ critical }) => critical)) throw new Error('it has a critical extension');
  const { seconds = 0, millis = 0, micros = 0 } = info.accuracy ?? {};
  return {
    time: wordTime(new Date(Math.ceil(info.genTime.getTime() / 1000) * 1000)),
    accuracy: seconds + millis / 1000 + micros / 1_000_000,
    policy: info.policy,
    imprint: {
      algorithm: info.messageImprint.hashAlgorithm.algorithm,
      digest: new Uint8Array(info.messageImprint.hashedMessage.buffer),
    },
    nonce: info.nonce && new Uint8Array(info.nonce),
    certificates,
    certificate,
    digest,
  };
}
