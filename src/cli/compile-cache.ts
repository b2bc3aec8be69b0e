import { lstatSync } from 'node:fs';
import * as nodeModule from 'node:module';
import { homedir } from 'node:os';
import { isAbsolute, join } from 'node:path';

/**
 * Has Node (22.1 and later) keep what it compiled of this program, which takes half the time of a short command. It is kept beside the
 * unpacked browser and under the same condition: in a folder that is this user's own and that no other may write to, for it is run unseen.
 * Before that folder is first made there is none.
 */
export function keepCompiled(
  enable: ((folder: string) => unknown) | undefined = (nodeModule as NewerModule).enableCompileCache,
  environment: NodeJS.ProcessEnv = process.env,
): void {
  if (!enable) return;
  const cache = environment.XDG_CACHE_HOME || join(environment.HOME || homedir(), '.cache');
  const folder = join(cache, 'surgenote');
  if (isAbsolute(folder) && isOurs(folder)) enable(join(folder, 'compiled'));
}

interface NewerModule {
  readonly enableCompileCache?: (folder: string) => unknown;
}

function isOurs(folder: string): boolean {
  try {
    const facts = lstatSync(folder);
    return facts.isDirectory() && facts.uid === process.getuid?.() && (facts.mode & 0o022) === 0;
  } catch {
    return false;
  }
}
