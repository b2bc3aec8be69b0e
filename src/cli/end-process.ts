import { EXIT } from './exit-status.ts';
import type { ProcessTerminal } from './terminal.ts';

/**
 * Ends the process with an exit status as soon as everything is printed, whatever else still waits (a timer of the
 * browser's driver, a pipe that a helper holds open). Output that was lost counts as something outside that failed.
 */
export async function endProcess(status: number, terminal: ProcessTerminal): Promise<never> {
  const reason = await terminal.settle();
  if (reason === undefined || status === EXIT.bug) process.exit(status);
  terminal.err(`what was to be printed is lost: ${reason}`);
  await terminal.settle();
  process.exit(EXIT.outside);
}
