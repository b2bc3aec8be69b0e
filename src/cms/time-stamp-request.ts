import { AsnConvert, OctetString } from '@peculiar/asn1-schema';
import { MessageImprint, PKIStatus, TimeStampReq, TimeStampResp } from '@peculiar/asn1-tsp';
import { AlgorithmIdentifier } from '@peculiar/asn1-x509';
import { Integer } from 'asn1js';
import { decode, encode, parseAs, partsOf, rawOf } from './der.ts';
import { OID } from './object-identifiers.ts';
import { readTimeStamp } from './read-time-stamp.ts';

/** What is asked of an authority for time stamps (RFC 3161, 2.4.1). */
export interface TimeStampRequest {
  /** SHA-256 of what is to be stamped. */
  readonly digest: Uint8Array;
  /** A number that nobody can foresee, so that no old answer passes for a new one: at most 8 bytes. */
  readonly nonce: Uint8Array;
  /** Object identifier of the policy under which it is to be stamped; the authority chooses where absent. */
  readonly policy?: string;
}

/** The request in DER; the certificate of the authority is asked for, since it must stand in the stamp to verify it later. */
export function encodeTimeStampRequest({ digest, nonce, policy }: TimeStampRequest): Uint8Array {
  const request = new TimeStampReq({
    version: 1,
    messageImprint: new MessageImprint({
      hashAlgorithm: new AlgorithmIdentifier({ algorithm: OID.sha256 }),
      hashedMessage: new OctetString(Uint8Array.from(digest)),
    }),
    nonce: positive(nonce),
    certReq: true,
    ...(policy === undefined ? {} : { reqPolicy: policy }),
  });
  return new Uint8Array(AsnConvert.serialize(request));
}

/** The content of an INTEGER that is not negative. */
function positive(bytes: Uint8Array): ArrayBuffer {
  return Integer.fromBigInt(toNumber(bytes)).valueBlock.valueHexView.slice().buffer as ArrayBuffer;
}

function toNumber(bytes: Uint8Array): bigint {
  return BigInt(`0x${Buffer.from(bytes).toString('hex') || '0'}`);
}

/**
 * The time stamp in an answer, held against the request: granted, over this digest, with this nonce, under this policy. Who made it is for
 * others to verify.
 *
 * @throws {Error} what is wrong, in words that follow "the answer of the server"
 */
export function readTimeStampAnswer(answer: Uint8Array, request: TimeStampRequest): Uint8Array {
  let response: TimeStampResp;
  let token: Uint8Array | undefined;
  try {
    response = parseAs(answer, TimeStampResp);
    const held = partsOf(decode(answer))[1];
    token = held && rawOf(held);
  } catch {
    throw new Error('is no answer of an authority for time stamps (RFC 3161)');
  }
  const { status, statusString, failInfo } = response.status;
  if (status !== PKIStatus.granted && status !== PKIStatus.grantedWithMods) {
    const said = [...(statusString ?? []), ...(failInfo?.toJSON() ?? [])].join(', ');
    throw new Error(`says that it gives no time stamp (status ${status}${said === '' ? '' : `: ${said}`})`);
  }
  if (token === undefined) throw new Error('holds no time stamp');
  const stamp = readTimeStamp(token);
  if (stamp.imprint.algorithm !== OID.sha256 || !equal(stamp.imprint.digest, request.digest))
    throw new Error('holds a time stamp of something else');
  if (stamp.nonce === undefined || toNumber(stamp.nonce) !== toNumber(request.nonce))
    throw new Error('does not repeat the number of the request: it may be an old one');
  if (request.policy !== undefined && stamp.policy !== request.policy)
    throw new Error(`holds a time stamp under the policy ${stamp.policy}, not ${request.policy}`);
  if (stamp.certificates.length === 0)
    throw new Error('holds a time stamp without the certificate of its authority');
  return encode(decode(token));
}

function equal(a: Uint8Array, b: Uint8Array): boolean {
  return Buffer.compare(a, b) === 0;
}
