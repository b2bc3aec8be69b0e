import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { runSigningCommand } from './run-signing-command.ts';

/**
 * A program of the signer's, for keys on a token or in a service: it gets the data on its standard input and writes a
 * detached CMS signature (RFC 5652, DER) with its certificate to its standard output.
 */
export interface SigningCommand {
  readonly kind: 'command';
  /** The program and its arguments; no shell reads them. */
  readonly argv: readonly string[];
  /** Seconds within which it must end. */
  readonly patience?: number;
}

/** @throws {OutsideFailure} `signing-command`, `signing-output` */
export async function signWithCommand(data: Uint8Array, by: SigningCommand): Promise<Uint8Array> {
  const [name = ''] = by.argv;
  const out = await runSigningCommand(data, by, HINT);
  if (out.subarray(0, 10).toString('latin1') === '-----BEGIN')
    throw notSignature(name, 'it wrote PEM, not DER');
  if (!beginsAsCms(out)) throw notSignature(name, 'it wrote something else');
  return new Uint8Array(out);
}

const HINT = 'it must write a detached CMS signature in DER to its standard output, and nothing else';

/** "Signed data" (RFC 5652, 5.1): a sequence that begins with the object identifier 1.2.840.113549.1.7.2. */
const SIGNED_DATA = Buffer.from('06092a864886f70d010702', 'hex');

function beginsAsCms(bytes: Buffer): boolean {
  const [tag, length = 0] = bytes;
  const head = length < 0x80 ? 2 : 2 + (length - 0x80);
  return tag === 0x30 && bytes.subarray(head, head + SIGNED_DATA.length).equals(SIGNED_DATA);
}

function notSignature(name: string, what: string): OutsideFailure {
  return new OutsideFailure('signing-output', `the command '${name}' returned no signature: ${what}`, {
    hint: HINT,
  });
}
