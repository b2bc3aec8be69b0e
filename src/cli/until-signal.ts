/** Waits until somebody tells the process to stop: Ctrl-C, a terminal that is closed, a kill. */
export function untilSignal(): Promise<void> {
  return new Promise((done) => {
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.once(signal, () => done());
  });
}
