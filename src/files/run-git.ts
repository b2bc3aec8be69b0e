import { spawn } from 'node:child_process';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';

export interface GitOutcome {
  readonly status: number;
  readonly out: Buffer;
  /** What git said on its standard error. */
  readonly err: string;
}

/** Settings by which a caller (a hook, an editor) would lead git to another repository than that of the folder. */
const MISLEADING = ['GIT_DIR', 'GIT_WORK_TREE', 'GIT_INDEX_FILE', 'GIT_PREFIX', 'GIT_OBJECT_DIRECTORY'];

/**
 * Runs git in a folder, without changing anything there: no lock is taken, no password asked for, and what is not in the
 * repository is not fetched from anywhere.
 *
 * @throws {OutsideFailure} `git-missing`
 */
export function runGit(folder: string, args: readonly string[], input = ''): Promise<GitOutcome> {
  const env = { ...process.env };
  for (const name of MISLEADING) delete env[name];
  return new Promise((done, fail) => {
    const child = spawn('git', ['-C', folder, ...args], {
      env: {
        ...env,
        LC_ALL: 'C',
        GIT_OPTIONAL_LOCKS: '0',
        GIT_TERMINAL_PROMPT: '0',
        GIT_NO_LAZY_FETCH: '1',
        GIT_ALLOW_PROTOCOL: 'none',
      },
      stdio: ['pipe', 'pipe', 'pipe'],
    });
    const out: Buffer[] = [];
    const err: Buffer[] = [];
    child.stdout.on('data', (chunk: Buffer) => out.push(chunk));
    child.stderr.on('data', (chunk: Buffer) => err.push(chunk));
    child.on('error', (cause) => {
      fail(
        new OutsideFailure('git-missing', 'git cannot be started', {
          hint: 'install git, or compare two folders',
          cause,
        }),
      );
    });
    // git may end before it has read everything; its status tells.
    child.stdin.on('error', () => {});
    child.stdin.end(input);
    child.on('close', (status) =>
      done({ status: status ?? 1, out: Buffer.concat(out), err: Buffer.concat(err).toString().trim() }),
    );
  });
}
