import { buildProgram } from '../../src/cli/program.ts';
import { reportFailure } from '../../src/cli/report-failure.ts';
import { plainText } from '../../src/cli/styled-line.ts';
import type { Terminal } from '../../src/cli/terminal.ts';
import { printDiagnostics } from '../../src/diagnostics/print-diagnostics.ts';
import { spellControls } from '../../src/diagnostics/visible-text.ts';
import './kept-printer.ts'; // Before a command changes the environment, by which a printer is kept or not.
import type { Outcome } from './run-command.ts';

interface RunOptions {
  readonly cwd?: string;
  readonly env?: Readonly<Record<string, string>>;
  /** Takes what the terminal is to say while work goes on: 'printing 001.md (1 of 1)'. */
  readonly progress?: (text: string) => void;
}

/**
 * Runs a command as `runCommand` does, but in this process, which need not load the program anew: for tests that run it many
 * times. Folder and environment are this process's own, so that only one command can run at a time.
 */
export async function runInProcess(
  args: readonly string[],
  { cwd, env = {}, progress = () => {} }: RunOptions = {},
): Promise<Outcome> {
  const [home, ownEnvironment] = [process.cwd(), { ...process.env }];
  let [out, err] = ['', ''];
  let status = 0;
  const terminal: Terminal = {
    out: (text) => {
      out += `${spellControls(text)}\n`;
    },
    wipe: () => {
      out += '\n';
    },
    columns: undefined,
    lines: (lines) => {
      if (lines.length > 0) out += `${spellControls(plainText(lines))}\n`;
    },
    err: (text) => {
      err += `${spellControls(text)}\n`;
    },
    progress,
    diagnostics: (diagnostics, texts) => {
      if (diagnostics.length > 0) err += `${printDiagnostics(diagnostics, texts)}\n`;
    },
  };
  try {
    if (cwd !== undefined) process.chdir(cwd);
    Object.assign(process.env, env);
    await buildProgram(terminal, (given) => {
      status = given;
    }).parseAsync([...args], { from: 'user' });
  } catch (error) {
    status = reportFailure(error, terminal);
  } finally {
    process.chdir(home);
    for (const name of Object.keys(env)) {
      if (ownEnvironment[name] === undefined) delete process.env[name];
      else process.env[name] = ownEnvironment[name];
    }
  }
  return { status, out, err };
}
