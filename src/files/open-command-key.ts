import { signingAlgorithm } from '../cms/signing-algorithm.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { readCertificateFile } from './read-certificate-file.ts';
import { runSigningCommand } from './run-signing-command.ts';
import type { SigningKey } from './signing-key.ts';

/**
 * A program of the signer's that signs bytes and nothing more, for keys on a token: it gets the signed attributes on its standard input and
 * writes the bare signature to its standard output. The CMS around it is made here.
 */
export interface CommandKey {
  readonly kind: 'command-key';
  /** The program and its arguments; no shell reads them. */
  readonly argv: readonly string[];
  /** File of certificates (PEM): that of the key first, then those that lead to an authority. */
  readonly certificates: string;
  /** Seconds within which it must end. */
  readonly patience?: number;
}

/** @throws {OutsideFailure} `certificates-unreadable`, `signing-key`; signing itself `signing-command`, `signing-output` */
export async function openCommandKey(by: CommandKey): Promise<SigningKey> {
  const certificates = await readCertificateFile(by.certificates);
  const kind = certificates[0]!.publicKey.asymmetricKeyType;
  const algorithm = signingAlgorithm(kind);
  if (algorithm === undefined) {
    const message = `the first certificate of ${by.certificates} is of a key of the kind '${kind}': no documents are signed with it`;
    throw new OutsideFailure('signing-key', message);
  }
  const hint = `it must write the bare signature to its standard output, and nothing else: ${algorithm.form}`;
  return { certificates, algorithm, sign: (attributes) => runSigningCommand(attributes, by, hint) };
}
