import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { type ProgramOutcome, type ProgramRun, runProgram } from './run-program.ts';

/**
 * Runs openssl. A status other than 0 is for the caller to understand.
 *
 * @throws {OutsideFailure} `openssl-missing`
 */
export async function runOpenssl(args: readonly string[], run: ProgramRun = {}): Promise<ProgramOutcome> {
  const outcome = await runProgram(['openssl', ...args], run);
  if (outcome.end === 'missing') {
    throw new OutsideFailure('openssl-missing', 'openssl cannot be started', {
      hint: 'install openssl: signatures in PDFs are made and verified with it',
    });
  }
  return outcome;
}

/**
 * The reason in what openssl says: the part behind the last colons of its first error line, without the addresses and
 * file names of its own source.
 */
export function wordOpensslError(said: string): string {
  const [, reason] = /error:[0-9A-Fa-f]+:[^:]*:[^:]*:([^:\n]+)/.exec(said) ?? [];
  return (reason ?? said.split('\n')[0] ?? '').trim() || 'openssl does not say why';
}
