import { execFileSync } from 'node:child_process';

/** A git repository in a folder: an identity of its own, none of the settings of the machine. */
export class GitRepository {
  readonly folder: string;

  constructor(folder: string) {
    this.folder = folder;
    this.run('init', '-q', '-b', 'main');
    this.run('config', 'user.name', 'Ilse Brandreth');
    this.run('config', 'user.email', 'brandreth@quillfeather.example');
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
