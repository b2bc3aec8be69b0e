import { realpath } from 'node:fs/promises';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { hasJournal, journalFolders, recoverGroup } from './file-journal.ts';
import { type LockOptions, withFolderLocks } from './folder-lock.ts';
import { wordFileError } from './word-file-error.ts';

export interface RecoverOptions extends LockOptions {
  readonly tell?: (notice: string) => void;
}

/**
 * Finishes what a run that was stopped left half done in a folder; nothing where nothing was. It waits for a run that is
 * still at it.
 *
 * @throws {OutsideFailure} `journal-damaged`, `not-written`, `folder-busy`
 */
export async function recoverFolder(folder: string, options: RecoverOptions = {}): Promise<void> {
  if (!hasJournal(folder)) return;
  try {
    const real = await realpath(folder);
    const recovery = await withFolderLocks(journalFolders(real), async () => recoverGroup(real), options);
    if (!recovery) return;
    const files = recovery.paths.join(', ');
    options.tell?.(
      recovery.outcome === 'completed'
        ? `an earlier run was stopped while it replaced files; that is completed now: ${files}`
        : `an earlier run was stopped while it replaced files; what it had done is undone, run it again: ${files}`,
    );
  } catch (cause) {
    if (cause instanceof OutsideFailure) throw cause;
    throw new OutsideFailure(
      'not-written',
      `an earlier run was stopped while it replaced files in ${folder}, and that cannot be put right: ${wordFileError(cause)}`,
      { cause },
    );
  }
}
