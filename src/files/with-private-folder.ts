import { rmSync } from 'node:fs';
import { chmod, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { wordFileError } from './word-file-error.ts';

const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/**
 * A temporary folder that only this user may enter (mode 0700), for as long as `use` works with it. It is removed also
 * when the program is told to stop.
 *
 * @throws {OutsideFailure} `temporary-folder`
 */
export async function withPrivateFolder<T>(use: (folder: string) => Promise<T>): Promise<T> {
  const folder = await makeFolder();
  const remove = (): void => rmSync(folder, { recursive: true, force: true });
  const onSignal = (signal: NodeJS.Signals): void => {
    remove();
    stopWatching();
    // Where nobody else listens the process ends as if we had not either; a command that listens decides itself.
    if (process.listenerCount(signal) === 0) process.kill(process.pid, signal);
  };
  const stopWatching = (): void => {
    process.off('exit', remove);
    for (const signal of SIGNALS) process.off(signal, onSignal);
  };
  process.on('exit', remove);
  for (const signal of SIGNALS) process.on(signal, onSignal);
  try {
    return await use(folder);
  } finally {
    await rm(folder, { recursive: true, force: true });
    stopWatching();
  }
}

async function makeFolder(): Promise<string> {
  try {
    const folder = await mkdtemp(join(tmpdir(), 'surgenote-'));
    await chmod(folder, 0o700);
    return folder;
  } catch (cause) {
    throw new OutsideFailure(
      'temporary-folder',
      `no folder can be made in ${tmpdir()}: ${wordFileError(cause)}`,
      { hint: 'set TMPDIR to a folder that you may write to', cause },
    );
  }
}
