import { spawn } from 'node:child_process';
import { mkdirSync, readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';

const MAIN = resolve('dist/cli/main.js');
const INTERPRETER = process.execPath;

export interface FaultRun {
  /** Undefined where a signal ended it. */
  readonly status: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly out: string;
  readonly err: string;
  readonly took: number;
}

export interface FaultOptions {
  readonly cwd: string;
  readonly env?: Readonly<Record<string, string | undefined>>;
  /** Ended by SIGKILL after so many milliseconds. */
  readonly killAfter?: number;
  /** A line of sh in which $SURGENOTE stands for the program with its arguments. */
  readonly shell?: string;
  /** As this user, who is not root. */
  readonly uid?: number;
}

/** Runs the built program in circumstances that an author would not wish for. */
export function runFaulty(args: readonly string[], options: FaultOptions): Promise<FaultRun> {
  const { cwd, env = {}, killAfter, shell, uid } = options;
  const begun = performance.now();
  return new Promise((done, fail) => {
    const quoted = [INTERPRETER, MAIN, ...args].map((one) => `'${one}'`).join(' ');
    const [program, rest] =
      shell === undefined
        ? [INTERPRETER, [MAIN, ...args]]
        : ['bash', ['-c', shell.replaceAll('$SURGENOTE', quoted)]];
    const child = spawn(program, rest, {
      cwd,
      env: { ...process.env, CI: '1', ...env },
      stdio: ['ignore', 'pipe', 'pipe'],
      ...(uid === undefined ? {} : { uid, gid: uid }),
    });
    let [out, err] = ['', ''];
    child.stdout.on('data', (chunk: Buffer) => {
      out += chunk.toString();
    });
    child.stderr.on('data', (chunk: Buffer) => {
      err += chunk.toString();
    });
    const timer = killAfter === undefined ? undefined : setTimeout(() => child.kill('SIGKILL'), killAfter);
    child.on('error', fail);
    child.on('close', (status, signal) => {
      clearTimeout(timer);
      done({ status, signal, out, err, took: performance.now() - begun });
    });
  });
}

/** What lies in a folder and those in it, but for git's own files. */
export function listAll(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((path) => !/^\.git(?:\/|$)/.test(path))
    .sort();
}

/** A temporary folder of its own for one trial. */
export function ownTemporary(folder: string): string {
  const path = join(folder, 'tmp');
  mkdirSync(path, { recursive: true });
  return path;
}

/** The rows of what was done, what happened, and what was left. */
export class FaultTable {
  readonly #rows = new Map<string, readonly string[]>();

  add(done: string, happened: string, status: string, left: string): void {
    this.#rows.set(done, [happened, status, left]);
  }

  text(): string {
    const cell = (text: string): string => text.replaceAll('|', '\\|').replaceAll('\n', ' ');
    const rows = [...this.#rows].map(([done, rest]) => `| ${[done, ...rest].map(cell).join(' | ')} |`);
    return [
      '# Faults around the program',
      '',
      'Written by `test/endurance/faults.endurance.ts` (`ENDURANCE_TABLE=1 npm run endurance -- faults`), which holds each of them.',
      '',
      '| what was done | what happened | exit status | what was left on disk |',
      '| --- | --- | --- | --- |',
      ...rows,
      '',
    ].join('\n');
  }
}
