import { spawn } from 'node:child_process';
import { devNull } from 'node:os';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';

export interface GitOutcome {
  readonly status: number;
  readonly out: Buffer;
  /** What git said on its standard error. */
  readonly err: string;
}

/**
 * Settings by which a caller (a hook, an editor) would lead git to another repository, or another history, than that of the folder: those
 * that `git rev-parse --local-env-vars` lists, but for single settings (`GIT_CONFIG_COUNT`), which may say whose repository is to be trusted.
 */
const MISLEADING = [
  ...['GIT_DIR', 'GIT_WORK_TREE', 'GIT_IMPLICIT_WORK_TREE', 'GIT_COMMON_DIR', 'GIT_INDEX_FILE', 'GIT_PREFIX'],
  ...['GIT_OBJECT_DIRECTORY', 'GIT_ALTERNATE_OBJECT_DIRECTORIES', 'GIT_GRAFT_FILE', 'GIT_SHALLOW_FILE'],
  ...['GIT_REPLACE_REF_BASE', 'GIT_NAMESPACE', 'GIT_CEILING_DIRECTORIES', 'GIT_DISCOVERY_ACROSS_FILESYSTEM'],
];

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
    const child = spawn('git', ['-c', 'advice.graftFileDeprecated=false', '-C', folder, ...args], {
      env: {
        ...env,
        LC_ALL: 'C',
        GIT_OPTIONAL_LOCKS: '0',
        GIT_TERMINAL_PROMPT: '0',
        GIT_NO_LAZY_FETCH: '1',
        // What stands here, and in no other clone, under the name of an object or as the parent of a commit counts for nothing.
        GIT_NO_REPLACE_OBJECTS: '1',
        GIT_GRAFT_FILE: devNull,
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

/** The failure to read a project, in the words of git or ours; `of` says what it was about. */
export function gitFailed(said: string, of = ''): OutsideFailure {
  return new OutsideFailure('git-failed', `git could not read the project: ${of}${wordGitError(said)}`);
}

/** What git said, without its own words for how bad that is, and without its advice. */
export function wordGitError(said: string): string {
  const lines = said.split('\n').filter((line) => line !== '' && !line.startsWith('hint:'));
  return lines.map((line) => line.replace(/^(?:fatal|error): /, '')).join('; ') || 'it does not say why';
}
