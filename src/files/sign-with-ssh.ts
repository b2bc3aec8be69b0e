import { access, constants, stat } from 'node:fs/promises';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { runProgram } from './run-program.ts';
import { UnfitFile, wordFileError } from './word-file-error.ts';

/**
 * Signs a text with an SSH key through `ssh-keygen -Y sign`. The key is a private key, or a public key whose private
 * one an agent or a token holds; ssh-keygen asks for a passphrase on the terminal.
 *
 * @returns the armoured signature
 * @throws {OutsideFailure} `key-unreadable`, `ssh-missing`, `key-refused`
 */
export async function signWithSsh(text: string, keyFile: string, namespace: string): Promise<string> {
  try {
    await access(keyFile, constants.R_OK);
    if (!(await stat(keyFile)).isFile()) throw new UnfitFile('it is not an ordinary file');
  } catch (cause) {
    throw new OutsideFailure('key-unreadable', `the key ${keyFile} cannot be read: ${wordFileError(cause)}`, {
      hint: 'name the file of a private SSH key, or of the public key that your agent holds',
      cause,
    });
  }
  const { end, status, out, err } = await runProgram(
    ['ssh-keygen', '-q', '-Y', 'sign', '-f', keyFile, '-n', namespace],
    {
      input: new TextEncoder().encode(text),
    },
  );
  if (end === 'missing') {
    throw new OutsideFailure('ssh-missing', 'ssh-keygen cannot be started', {
      hint: 'install OpenSSH, 8.1 or later',
    });
  }
  const signature = out.toString();
  if (status !== 0 || !signature.includes('BEGIN SSH SIGNATURE')) {
    throw new OutsideFailure(
      'key-refused',
      `ssh-keygen did not sign with ${keyFile}: ${err || 'no reason given'}`,
      {
        hint: 'nothing was written',
      },
    );
  }
  return signature;
}
