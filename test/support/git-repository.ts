import { execFileSync } from 'node:child_process';
import { appendFileSync, existsSync } from 'node:fs';
import { join } from 'node:path';

/** Nothing is tidied up behind a commit: git would start another program to find that there is nothing. */
const SETTINGS = `[user]
	name = Ilse Brandreth
	email = brandreth@quillfeather.example
[gc]
	auto = 0
[maintenance]
	auto = false
`;

/** The git repository of a folder, made where there is none: an identity of its own, none of the settings of the machine, none of git's samples of hooks. */
export class GitRepository {
  readonly folder: string;

  constructor(folder: string) {
    this.folder = folder;
    if (existsSync(join(folder, '.git'))) return;
    this.run('init', '-q', '-b', 'main', '--template=');
    appendFileSync(join(folder, '.git/config'), SETTINGS);
  }

  run(...args: readonly string[]): string {
    return execFileSync('git', args, {
      cwd: this.folder,
      encoding: 'utf8',
      env: { ...process.env, GIT_CONFIG_GLOBAL: '/dev/null', GIT_CONFIG_SYSTEM: '/dev/null' },
    });
  }

  commitAll(message: string): void {
    this.run('add', '-A');
    this.run('commit', '-q', '-m', message);
  }

  commitNothing(message: string): void {
    this.run('commit', '-q', '--allow-empty', '-m', message);
  }
}
