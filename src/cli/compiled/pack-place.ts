import { createHash } from 'node:crypto';
import { lstatSync, mkdirSync } from 'node:fs';
import { homedir } from 'node:os';
import { isAbsolute, join } from 'node:path';

interface PackRequest {
  /** Folder of the built program. */
  readonly program: string;
  /** As it was typed: a command keeps what it loads apart from what others do. */
  readonly command: string;
  readonly environment: NodeJS.ProcessEnv;
}

/**
 * Where what was compiled of the program is kept for this command, this version of Node and this copy of the program: beside the unpacked browser, and under the same
 * condition. The folder must be this user's own and no link, and no other may write to it, for what lies there is run unseen.
 * It is made where it is missing, in a cache folder that may be missing too, but not in a home that is not there.
 *
 * @returns undefined where there is no such folder
 */
export function openPackPlace({ program, command, environment }: PackRequest): string | undefined {
  const cache = environment.XDG_CACHE_HOME || join(environment.HOME || homedir(), '.cache');
  if (!isAbsolute(cache)) return undefined;
  const folder = join(cache, 'surgenote');
  if (![cache, folder, join(folder, 'compiled')].every(makeFolder)) return undefined;
  if (!isOurs(folder) || !isOurs(join(folder, 'compiled'))) return undefined;
  const { arch, versions } = process;
  const key = createHash('sha256').update(JSON.stringify([program, arch, versions.node, versions.v8]));
  const name = /^[a-z][a-z-]{0,30}$/.test(command) ? command : 'other';
  return join(folder, 'compiled', `${name}-${key.digest('hex').slice(0, 16)}`);
}

function makeFolder(path: string): boolean {
  try {
    mkdirSync(path, { mode: 0o700 });
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EEXIST';
  }
}

function isOurs(folder: string): boolean {
  try {
    const facts = lstatSync(folder);
    return facts.isDirectory() && facts.uid === process.getuid?.() && (facts.mode & 0o022) === 0;
  } catch {
    return false;
  }
}
