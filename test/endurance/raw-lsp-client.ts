import { type ChildProcess, spawn } from 'node:child_process';
import { resolve } from 'node:path';
import { PATIENCE } from '../support/patience.ts';

const MAIN = resolve(import.meta.dirname, '../../dist/cli/main.js');

interface Answered {
  readonly result?: unknown;
  readonly error?: { readonly code: number; readonly message: string };
}

/** A client of the built language server that sends whatever bytes it is told to, and counts what comes back. */
export class RawLspClient {
  readonly #child: ChildProcess;
  readonly #answers = new Map<string, Answered[]>();
  #buffer = Buffer.alloc(0);
  /** The exit status, once it has ended. */
  status: number | null | undefined;
  stderr = '';

  constructor() {
    this.#child = spawn(process.execPath, [MAIN, 'language-server', '--stdio'], { stdio: 'pipe' });
    this.#child.on('exit', (status) => {
      this.status = status;
    });
    this.#child.stdin!.on('error', () => undefined);
    this.#child.stderr!.on('data', (chunk: Buffer) => {
      this.stderr += chunk.toString();
    });
    this.#child.stdout!.on('data', (chunk: Buffer) => this.#take(chunk));
  }

  bytes(bytes: string | Uint8Array): void {
    this.#child.stdin!.write(bytes);
  }

  /** A body in its frame. */
  frame(body: string): void {
    this.bytes(`Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`);
  }

  send(message: object): void {
    this.frame(JSON.stringify({ jsonrpc: '2.0', ...message }));
  }

  answersTo(id: unknown): readonly Answered[] {
    return this.#answers.get(JSON.stringify(id)) ?? [];
  }

  /** The first answer; undefined where none comes, or the server ends. */
  async answer(id: unknown): Promise<Answered | undefined> {
    const until = Date.now() + PATIENCE;
    while (this.answersTo(id).length === 0) {
      if (this.status !== undefined || Date.now() > until) return undefined;
      await new Promise((done) => setTimeout(done, 2));
    }
    return this.answersTo(id)[0];
  }

  async ended(): Promise<number | null | undefined> {
    const until = Date.now() + PATIENCE;
    while (this.status === undefined && Date.now() < until) await new Promise((done) => setTimeout(done, 5));
    return this.status;
  }

  kill(): void {
    this.#child.kill('SIGKILL');
  }

  #take(chunk: Buffer): void {
    this.#buffer = Buffer.concat([this.#buffer, chunk]);
    for (;;) {
      const end = this.#buffer.indexOf('\r\n\r\n');
      if (end < 0) return;
      const length = Number(/Content-Length: (\d+)/i.exec(this.#buffer.toString('latin1', 0, end))?.[1]);
      if (this.#buffer.length < end + 4 + length) return;
      const message = JSON.parse(this.#buffer.toString('utf8', end + 4, end + 4 + length));
      this.#buffer = this.#buffer.subarray(end + 4 + length);
      if ('method' in message) continue;
      const key = JSON.stringify(message.id);
      this.#answers.set(key, [...(this.#answers.get(key) ?? []), message]);
    }
  }
}
