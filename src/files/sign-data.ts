import { addSignatureTimeStamp } from '../cms/build-signed-data.ts';
import { readSignedData } from '../cms/read-signed-data.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { type CommandKey, openCommandKey } from './open-command-key.ts';
import { type KeyFile, openKeyFile } from './open-key-file.ts';
import { requestTimeStamp, type TimeStampServer } from './request-time-stamp.ts';
import { type SigningCommand, signWithCommand } from './sign-with-command.ts';
import { requireValidity, type SignerCertificate } from './signer-certificate.ts';
import { signWithKey } from './signing-key.ts';
import { verifyCms } from './verify-cms.ts';
import type { TimeStampVerdict } from './verify-time-stamp.ts';

/** The means by which a signature is made. */
export type Signer = KeyFile | CommandKey | SigningCommand;

export interface SignedData {
  /** The detached signature (RFC 5652, DER). */
  readonly cms: Uint8Array;
  readonly signer: SignerCertificate;
  /** What was found out about its time stamp; null where none was asked for. */
  readonly timeStamp: TimeStampVerdict | null;
  /** The time of signing that the signature itself states, which the baseline profile forbids: a command of the signer's wrote it. */
  readonly signingTime: string | undefined;
}

/**
 * Signs data, and verifies at once that the signature fits them and that its certificate is valid at the date of
 * signing, `2031-05-04` or `2031-05-04T09:30:00Z`.
 *
 * @param server has the signature stamped, where one is given; then the certificate must be valid at the time of the stamp too
 * @throws {OutsideFailure} `openssl-missing`; `signing-key`, `signing-password` (key file); `signing-command`;
 *   `signing-output` where the outcome is no signature over the data; `certificate-expired`,
 *   `certificate-not-yet-valid`; `temporary-folder`; what `requestTimeStamp` throws
 */
export async function signData(
  data: Uint8Array,
  by: Signer,
  date: string,
  server?: TimeStampServer,
): Promise<SignedData> {
  const cms = await sign(data, by);
  const signer = await requireSound(cms, data);
  requireValidity(signer, date);
  const { signatureValue, signingTime } = readSignedData(cms);
  if (server === undefined) return { cms, signer, timeStamp: null, signingTime };
  const { token, verdict } = await requestTimeStamp(signatureValue, server);
  requireValidity(signer, verdict.time!);
  const stamped = addStamp(cms, token);
  await requireSound(stamped, data);
  return { cms: stamped, signer, timeStamp: verdict, signingTime };
}

async function sign(data: Uint8Array, by: Signer): Promise<Uint8Array> {
  if (by.kind === 'command') return signWithCommand(data, by);
  return signWithKey(data, by.kind === 'key-file' ? await openKeyFile(by) : await openCommandKey(by));
}

async function requireSound(cms: Uint8Array, data: Uint8Array): Promise<SignerCertificate> {
  const { intact, reason, signer } = await verifyCms(cms, data);
  if (intact && signer !== null) return signer;
  const hint = 'the signer must sign exactly the bytes it is given, detached, with its certificate';
  throw new OutsideFailure(
    'signing-output',
    `the signature that was made does not fit the document: ${reason}`,
    { hint },
  );
}

function addStamp(cms: Uint8Array, token: Uint8Array): Uint8Array {
  try {
    return addSignatureTimeStamp(cms, token);
  } catch (cause) {
    const message = `the signature that was made takes no time stamp: ${(cause as Error).message}`;
    throw new OutsideFailure('signing-output', message, { cause });
  }
}
