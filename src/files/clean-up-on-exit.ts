/** Work that must be done when the process ends, in whatever way: it must be synchronous and must not throw. */
type CleanUp = () => void;

const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
const pending = new Set<CleanUp>();

/**
 * Runs `cleanUp` once when the process exits or is told to stop by a signal, the last on the list first. The returned function takes the
 * work off the list again (it does not run it).
 *
 * A signal without another listener ends the process with that same signal afterwards, as if nobody had
 * listened; where the command listens too, the command decides what follows.
 */
export function cleanUpOnExit(cleanUp: CleanUp): () => void {
  if (pending.size === 0) listen();
  pending.add(cleanUp);
  return () => {
    if (pending.delete(cleanUp) && pending.size === 0) stopListening();
  };
}

function listen(): void {
  process.on('exit', runAll);
  for (const signal of SIGNALS) process.on(signal, runAndPassOn);
}

function stopListening(): void {
  process.off('exit', runAll);
  for (const signal of SIGNALS) process.off(signal, runAndPassOn);
}

function runAll(): void {
  for (const cleanUp of [...pending].reverse()) {
    try {
      cleanUp();
    } catch {
      // The process is ending; the remaining work matters more than this failure.
    }
  }
  pending.clear();
}

function runAndPassOn(signal: NodeJS.Signals): void {
  runAll();
  stopListening();
  if (process.listenerCount(signal) === 0) process.kill(process.pid, signal);
}
