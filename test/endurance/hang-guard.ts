import { Worker } from 'node:worker_threads';
import { PATIENCE } from '../support/patience.ts';

/** So many seconds of processor time one case may take, whatever else the machine does: who takes longer does not end. */
const LONGEST = 60;

/** Looks at the time of the process from a thread of its own, since a case that hangs holds the thread of the tests. */
const WATCH = `
const { workerData } = require('node:worker_threads');
const { writeSync } = require('node:fs');
const begun = new Float64Array(workerData.begun);
const name = new Uint8Array(workerData.name);
setInterval(() => {
  if (begun[0] === 0) return;
  const { user, system } = process.cpuUsage();
  const waited = Date.now() - begun[1] > workerData.patience;
  if (!waited && (user + system) / 1e6 - begun[0] < workerData.longest) return;
  writeSync(2, 'hangs: ' + Buffer.from(name).toString('utf8').replace(/\\0+$/, '') + '\\n');
  process.kill(process.pid, 'SIGKILL');
}, 1000);
`;

/** Ends the process, and with it the test, where a case works on after a minute, or waits for ever; its name is printed before. */
export class HangGuard {
  /** When the case began: in processor time, 0 where there is none, and by the clock. */
  readonly #begun = new SharedArrayBuffer(16);
  readonly #name = new SharedArrayBuffer(256);
  readonly #worker = new Worker(WATCH, {
    eval: true,
    workerData: { begun: this.#begun, name: this.#name, longest: LONGEST, patience: PATIENCE },
  });

  constructor() {
    this.#worker.unref();
  }

  begin(name: string): void {
    const bytes = new Uint8Array(this.#name).fill(0);
    bytes.set(new TextEncoder().encode(name).subarray(0, bytes.length));
    const { user, system } = process.cpuUsage();
    const begun = new Float64Array(this.#begun);
    // The other thread looks at the first alone as long as that is 0.
    begun[1] = Date.now();
    begun[0] = (user + system) / 1e6;
  }

  end(): void {
    new Float64Array(this.#begun)[0] = 0;
    void this.#worker.terminate();
  }
}
