import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { runProgram } from './run-program.ts';

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

/** Time to find the token and to type its code. */
const USUAL_PATIENCE = 600;
const MOST_BYTES = 1_000_000;

/** @throws {OutsideFailure} `signing-command`, `signing-output` */
export async function signWithCommand(data: Uint8Array, by: SigningCommand): Promise<Uint8Array> {
  const [name = ''] = by.argv;
  if (name === '') throw failed('no command for signing is named');
  const patience = by.patience ?? USUAL_PATIENCE;
  const { end, status, out, err } = await runProgram(by.argv, {
    input: data,
    mostOutput: MOST_BYTES,
    patience,
  });
  if (end === 'missing') throw failed(`the command for signing '${name}' cannot be started`);
  if (end === 'too-long') throw failed(`the command for signing '${name}' did not end within ${patience} s`);
  if (end === 'too-much') throw notSignature(name, `it wrote more than ${MOST_BYTES} bytes`);
  if (status !== 0) {
    const said = err.split('\n').at(-1);
    throw failed(`the command for signing '${name}' ended with status ${status}${said ? `: ${said}` : ''}`);
  }
  if (out.length === 0) throw notSignature(name, 'it wrote nothing');
  if (out.subarray(0, 10).toString('latin1') === '-----BEGIN')
    throw notSignature(name, 'it wrote PEM, not DER');
  if (!beginsAsCms(out)) throw notSignature(name, 'it wrote something else');
  return new Uint8Array(out);
}

/** "Signed data" (RFC 5652, 5.1): a sequence that begins with the object identifier 1.2.840.113549.1.7.2. */
const SIGNED_DATA = Buffer.from('06092a864886f70d010702', 'hex');

function beginsAsCms(bytes: Buffer): boolean {
  const [tag, length = 0] = bytes;
  const head = length < 0x80 ? 2 : 2 + (length - 0x80);
  return tag === 0x30 && bytes.subarray(head, head + SIGNED_DATA.length).equals(SIGNED_DATA);
}

function failed(message: string): OutsideFailure {
  return new OutsideFailure('signing-command', message);
}

function notSignature(name: string, what: string): OutsideFailure {
  return new OutsideFailure('signing-output', `the command '${name}' returned no signature: ${what}`, {
    hint: 'it must write a detached CMS signature in DER to its standard output, and nothing else',
  });
}
