import { CommanderError } from 'commander';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { EXIT } from './exit-status.ts';
import { SOFTWARE } from './software.ts';
import type { Terminal } from './terminal.ts';

/** What is no failure outside, though it came up there: a text of the source that has no room on the page. */
const STATUS_OF_CODES: Readonly<Record<string, number>> = {
  usage: EXIT.usage,
  'print-overflow': EXIT.sourceWrong,
};

/** The exit status for whatever was thrown; says on the terminal what it was. */
export function reportFailure(error: unknown, terminal: Terminal): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.done : EXIT.usage;
  if (error instanceof OutsideFailure) {
    terminal.err(`${error.message}${error.hint ? `\n  ${error.hint}` : ''}`);
    return STATUS_OF_CODES[error.code] ?? EXIT.outside;
  }
  terminal.err(
    `a bug in ${SOFTWARE.name} ${SOFTWARE.version}; please report it with the source that shows it`,
  );
  terminal.err(error instanceof Error ? (error.stack ?? error.message) : String(error));
  return EXIT.bug;
}
