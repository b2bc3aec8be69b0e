import { Worker } from 'node:worker_threads';

/** So long one case may take on any machine: who takes longer does not end. */
const LONGEST = 60_000;

/** Looks at a shared clock from a thread of its own, since a case that hangs holds the thread of the tests. */
const WATCH = `
const { workerData } = require('node:worker_threads');
const { writeSync } = require('node:fs');
const begun = new Float64Array(workerData.begun);
const name = new Uint8Array(workerData.name);
setInterval(() => {
  if (begun[0] === 0 || Date.now() - begun[0] < workerData.longest) return;
  writeSync(2, 'hangs: ' + Buffer.from(name).toString('utf8').replace(/\\0+$/, '') + '\\n');
  process.kill(process.pid, 'SIGKILL');
}, 1000);
`;

/** Ends the process, and with it the test, where a case does not come to an end within a minute; its name is printed before. */
export class HangGuard {
  readonly #begun = new SharedArrayBuffer(8);
  readonly #name = new SharedArrayBuffer(256);
  readonly #worker = new Worker(WATCH, {
    eval: true,
    workerData: { begun: this.#begun, name: this.#name, longest: LONGEST },
  });

  constructor() {
    this.#worker.unref();
  }

  begin(name: string): void {
    const bytes = new Uint8Array(this.#name).fill(0);
    bytes.set(new TextEncoder().encode(name).subarray(0, bytes.length));
    new Float64Array(this.#begun)[0] = Date.now();
  }

  end(): void {
    new Float64Array(this.#begun)[0] = 0;
    void this.#worker.terminate();
  }
}
