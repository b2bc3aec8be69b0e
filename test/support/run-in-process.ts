import { join } from 'node:path';
import { buildProgram } from '../../src/cli/program.ts';
import { reportFailure } from '../../src/cli/report-failure.ts';
import type { Terminal } from '../../src/cli/terminal.ts';
import { printDiagnostics } from '../../src/diagnostics/print-diagnostics.ts';
import type { Outcome } from './run-command.ts';

/**
 * Runs a command as `runCommand` does, but in this process, which need not load the program anew: for tests that run it many
 * times. Notes and PDFs among the arguments count from `cwd`.
 */
export async function runInProcess(
  args: readonly string[],
  { cwd }: { readonly cwd?: string } = {},
): Promise<Outcome> {
  let [out, err] = ['', ''];
  let status = 0;
  const terminal: Terminal = {
    out: (text) => {
      out += `${text}\n`;
    },
    err: (text) => {
      err += `${text}\n`;
    },
    progress: () => {},
    diagnostics: (diagnostics, textOf) => {
      if (diagnostics.length > 0) err += `${printDiagnostics(diagnostics, { textOf })}\n`;
    },
  };
  const placed = args.map((arg) =>
    cwd !== undefined && /^[^-/].*\.(?:md|pdf)$/.test(arg) ? join(cwd, arg) : arg,
  );
  try {
    await buildProgram(terminal, (given) => {
      status = given;
    }).parseAsync(placed, { from: 'user' });
  } catch (error) {
    status = reportFailure(error, terminal);
  }
  return { status, out, err };
}
