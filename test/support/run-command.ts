import { spawn } from 'node:child_process';
import { resolve } from 'node:path';

const MAIN = resolve(import.meta.dirname, '../../dist/cli/main.js');

export interface Outcome {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs the real command as a user would, from the built program (`npm test` builds it first). */
export function runCommand(
  args: readonly string[],
  options: {
    readonly cwd?: string;
    readonly env?: Readonly<Record<string, string>>;
    readonly killAfter?: number;
  } = {},
): Promise<Outcome> {
  return new Promise((done, fail) => {
    const child = spawn(process.execPath, [MAIN, ...args], {
      cwd: options.cwd,
      env: { ...process.env, CI: '1', ...options.env },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    let [out, err] = ['', ''];
    child.stdout.on('data', (chunk: Buffer) => {
      out += chunk.toString();
    });
    child.stderr.on('data', (chunk: Buffer) => {
      err += chunk.toString();
    });
    const timer =
      options.killAfter === undefined
        ? undefined
        : setTimeout(() => child.kill('SIGTERM'), options.killAfter);
    child.on('error', fail);
    child.on('close', (status) => {
      clearTimeout(timer);
      done({ status, out, err });
    });
  });
}
