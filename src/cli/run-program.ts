import { endProcess } from './end-process.ts';
import { buildProgram } from './program.ts';
import { reportFailure } from './report-failure.ts';
import { openTerminal } from './terminal.ts';

// What a library would say of somebody's file is meant for those who program with it; this program has words of its own.
console.warn = () => undefined;

const terminal = openTerminal();
let status = 0;
buildProgram(terminal, (given) => {
  status = given;
})
  .parseAsync()
  .catch((error: unknown) => {
    status = reportFailure(error, terminal);
  })
  .finally(() => endProcess(status, terminal));
