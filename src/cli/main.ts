#!/usr/bin/env node
import { buildProgram } from './program.ts';
import { reportFailure } from './report-failure.ts';
import { openTerminal } from './terminal.ts';

const terminal = openTerminal();
buildProgram(terminal, (status) => {
  process.exitCode = status;
})
  .parseAsync()
  .catch((error: unknown) => {
    process.exitCode = reportFailure(error, terminal);
  });
