import { spawn } from 'node:child_process';

export interface ProgramRun {
  /** Fed to the program's standard input. */
  readonly input?: Uint8Array;
  /** Variables beside those that this process has. */
  readonly environment?: Readonly<Record<string, string>>;
  /** Most bytes that are taken from its standard output; it is ended when it writes more. */
  readonly mostOutput?: number;
  /** Seconds after which it is ended. */
  readonly patience?: number;
}

export interface ProgramOutcome {
  /** 'ended' by itself, with a status; 'missing' where it cannot be started; ended by us for too much output or time. */
  readonly end: 'ended' | 'missing' | 'too-much' | 'too-long';
  readonly status: number;
  readonly out: Buffer;
  /** What it said on its standard error. */
  readonly err: string;
}

const MOST_COMPLAINT = 65_536;

/** Runs a program without a shell and waits for its end. Whatever happens is in the outcome. */
export function runProgram(argv: readonly string[], run: ProgramRun = {}): Promise<ProgramOutcome> {
  const [program = '', ...args] = argv;
  const most = run.mostOutput ?? Number.POSITIVE_INFINITY;
  return new Promise((done) => {
    const child = spawn(program, args, {
      env: { ...process.env, LC_ALL: 'C', ...run.environment },
      stdio: ['pipe', 'pipe', 'pipe'],
    });
    const out: Buffer[] = [];
    let [size, err] = [0, ''];
    let end: ProgramOutcome['end'] = 'ended';
    const stop = (reason: 'too-much' | 'too-long'): void => {
      end = reason;
      child.kill('SIGKILL');
      // A child of its own may live on and hold the pipes open: it is not waited for.
      child.stdout.destroy();
      child.stderr.destroy();
      finish(1);
    };
    const timer =
      run.patience === undefined ? undefined : setTimeout(() => stop('too-long'), run.patience * 1000);
    const finish = (status: number): void => {
      clearTimeout(timer);
      done({ end, status, out: Buffer.concat(out), err: err.trim() });
    };
    child.stdout.on('data', (chunk: Buffer) => {
      size += chunk.length;
      if (size > most) stop('too-much');
      else out.push(chunk);
    });
    child.stderr.on('data', (chunk: Buffer) => {
      if (err.length < MOST_COMPLAINT) err += chunk.toString();
    });
    child.on('error', () => {
      end = 'missing';
      finish(1);
    });
    // The program may end before it has read everything; its status tells.
    child.stdin.on('error', () => {});
    child.stdin.end(run.input ?? new Uint8Array(0));
    child.on('close', (status) => finish(status ?? 1));
  });
}
