import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { type SigningCommand, signWithCommand } from './sign-with-command.ts';
import { type KeyFile, signWithKeyFile } from './sign-with-key-file.ts';
import { requireValidity, type SignerCertificate } from './signer-certificate.ts';
import { verifyCms } from './verify-cms.ts';

/** The means by which a signature is made. */
export type Signer = KeyFile | SigningCommand;

export interface SignedData {
  /** The detached signature (RFC 5652, DER). */
  readonly cms: Uint8Array;
  readonly signer: SignerCertificate;
}

/**
 * Signs data, and verifies at once that the signature fits them and that its certificate is valid at the date of
 * signing, `2031-05-04` or `2031-05-04T09:30:00Z`.
 *
 * @throws {OutsideFailure} `openssl-missing`; `signing-key`, `signing-password` (key file); `signing-command`;
 *   `signing-output` where the outcome is no signature over the data; `certificate-expired`,
 *   `certificate-not-yet-valid`; `temporary-folder`
 */
export async function signData(data: Uint8Array, by: Signer, date: string): Promise<SignedData> {
  const cms = by.kind === 'key-file' ? await signWithKeyFile(data, by) : await signWithCommand(data, by);
  const { intact, reason, signer } = await verifyCms(cms, data);
  if (!intact || signer === null) {
    throw new OutsideFailure(
      'signing-output',
      `the signature that was made does not fit the document: ${reason}`,
      { hint: 'the signer must sign exactly the bytes it is given, detached, with its certificate' },
    );
  }
  requireValidity(signer, date);
  return { cms, signer };
}
