import pc from 'picocolors';
import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import { printDiagnostics } from '../diagnostics/print-diagnostics.ts';

/** Where commands print: results to standard output, everything else to standard error. */
export interface Terminal {
  out(text: string): void;
  err(text: string): void;
  /** One line that is renewed while work goes on; nothing where nobody looks. */
  progress(text: string): void;
  diagnostics(diagnostics: readonly Diagnostic[], textOf: (file: string) => string | undefined): void;
}

export function openTerminal(): Terminal {
  const live = process.stderr.isTTY === true && process.env.CI === undefined;
  const colours = pc.createColors(process.stderr.isTTY === true && pc.isColorSupported);
  let progressShown = false;
  const clear = (): void => {
    if (progressShown) process.stderr.write('\r\u001b[2K');
    progressShown = false;
  };
  const emphasise = (text: string, as: 'error' | 'caution' | 'mark'): string =>
    as === 'caution' ? colours.bold(text) : colours.bold(colours.red(text));
  return {
    out: (text) => {
      clear();
      process.stdout.write(`${text}\n`);
    },
    err: (text) => {
      clear();
      process.stderr.write(`${text}\n`);
    },
    progress: (text) => {
      if (!live) return;
      clear();
      process.stderr.write(text.slice(0, (process.stderr.columns ?? 80) - 1));
      progressShown = true;
    },
    diagnostics: (diagnostics, textOf) => {
      if (diagnostics.length === 0) return;
      clear();
      process.stderr.write(`${printDiagnostics(diagnostics, { textOf, emphasise })}\n`);
    },
  };
}
