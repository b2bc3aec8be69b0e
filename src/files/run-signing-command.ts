import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { runProgram } from './run-program.ts';

/** Time to find the token and to type its code. */
const USUAL_PATIENCE = 600;
const MOST_BYTES = 1_000_000;

/**
 * What a program of the signer's writes to its standard output when it gets data on its standard input.
 *
 * @param hint what it must write
 * @throws {OutsideFailure} `signing-command` where it fails, `signing-output` where it writes nothing or too much
 */
export async function runSigningCommand(
  data: Uint8Array,
  { argv, patience = USUAL_PATIENCE }: { readonly argv: readonly string[]; readonly patience?: number },
  hint: string,
): Promise<Buffer> {
  const [name = ''] = argv;
  if (name === '') throw failed('no command for signing is named');
  const { end, status, out, err } = await runProgram(argv, { input: data, mostOutput: MOST_BYTES, patience });
  const wrong = (what: string): OutsideFailure =>
    new OutsideFailure('signing-output', `the command '${name}' returned no signature: ${what}`, { hint });
  if (end === 'missing') throw failed(`the command for signing '${name}' cannot be started`);
  if (end === 'too-long') throw failed(`the command for signing '${name}' did not end within ${patience} s`);
  if (end === 'too-much') throw wrong(`it wrote more than ${MOST_BYTES} bytes`);
  if (status !== 0) {
    const said = err.split('\n').at(-1);
    throw failed(`the command for signing '${name}' ended with status ${status}${said ? `: ${said}` : ''}`);
  }
  if (out.length === 0) throw wrong('it wrote nothing');
  return out;
}

function failed(message: string): OutsideFailure {
  return new OutsideFailure('signing-command', message);
}
