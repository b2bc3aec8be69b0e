import pc from 'picocolors';
import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import type { SourceTexts } from '../diagnostics/positions.ts';
import { printDiagnostics } from '../diagnostics/print-diagnostics.ts';
import { spellControls } from '../diagnostics/visible-text.ts';
import { wordFileError } from '../files/word-file-error.ts';
import { hasColours } from './colours.ts';
import { ProgressLine } from './progress-line.ts';
import { type Line, plainText, type Style } from './styled-line.ts';

/** Where commands print: results to standard output, everything else to standard error. */
export interface Terminal {
  /** Control characters in it are spelt out: they may come from anybody. */
  out(text: string): void;
  /** As `out`, in colour where the terminal has colours. */
  lines(lines: readonly Line[]): void;
  /** Begins with an empty screen; an empty line where the output goes to no terminal. */
  wipe(): void;
  /** How many characters a line of the output has; undefined where it goes to no terminal. */
  readonly columns: number | undefined;
  /** As `out`. */
  err(text: string): void;
  /** One line that is renewed while work goes on, with the time that has passed; nothing where nobody looks. */
  progress(text: string): void;
  diagnostics(diagnostics: readonly Diagnostic[], texts: SourceTexts): void;
}

/** The terminal of this process. */
export interface ProcessTerminal extends Terminal {
  /** Waits until everything is printed. Why some of it is lost, 'the disk is full'; undefined where nothing is. */
  settle(): Promise<string | undefined>;
}

/**
 * Prints to the standard channels. Where nobody reads on (`surgenote ... | head`), nothing more is printed and the command
 * goes on to its own exit status. Any other failure of a channel is kept for `settle`.
 */
export function openTerminal(): ProcessTerminal {
  const channels = [new Channel(process.stdout), new Channel(process.stderr)] as const;
  const [out, error] = channels.map((channel) => (text: string) => channel.write(text)) as [Print, Print];
  const live = process.stderr.isTTY === true && process.env.CI === undefined;
  const colours = pc.createColors(hasColours(process.stderr, process.env));
  const outColours = pc.createColors(hasColours(process.stdout, process.env));
  const progress = new ProgressLine(error, () => process.stderr.columns ?? 80);
  const emphasise = (text: string, as: 'error' | 'caution' | 'mark'): string =>
    as === 'caution' ? colours.bold(text) : colours.bold(colours.red(text));
  const paint: Readonly<Record<Style, (text: string) => string>> = {
    good: outColours.green,
    bad: (text) => outColours.bold(outColours.red(text)),
    open: outColours.yellow,
    strong: outColours.bold,
    quiet: outColours.dim,
  };
  return {
    settle: async () => {
      progress.clear();
      for (const channel of channels) await channel.settle();
      return channels.find(({ lost }) => lost !== undefined)?.lost;
    },
    out: (text) => {
      progress.clear();
      out(`${spellControls(text)}\n`);
    },
    wipe: () => {
      progress.clear();
      out(process.stdout.isTTY === true ? '\u001b[H\u001b[2J\u001b[3J' : '\n');
    },
    get columns() {
      return process.stdout.isTTY === true ? process.stdout.columns : undefined;
    },
    lines: (lines) => {
      if (lines.length === 0) return;
      progress.clear();
      const shown = lines.map((line) =>
        line.map(({ text, style }) => ({
          text: style ? paint[style](spellControls(text)) : spellControls(text),
        })),
      );
      out(`${plainText(shown)}\n`);
    },
    err: (text) => {
      progress.clear();
      error(`${spellControls(text)}\n`);
    },
    progress: (text) => {
      if (live) progress.show(text);
    },
    diagnostics: (diagnostics, texts) => {
      if (diagnostics.length === 0) return;
      progress.clear();
      error(`${printDiagnostics(diagnostics, texts, emphasise)}\n`);
    },
  };
}

type Print = (text: string) => void;

/** A standard channel, which takes text until it fails. */
class Channel {
  /** Why text is lost that somebody waits for. */
  lost: string | undefined;
  #open = true;
  readonly #stream: NodeJS.WriteStream;
  readonly #writing = new Set<Promise<void>>();

  constructor(stream: NodeJS.WriteStream) {
    this.#stream = stream;
    stream.on('error', (failure: NodeJS.ErrnoException) => {
      this.#open = false;
      if (failure.code !== 'EPIPE') this.lost ??= wordFileError(failure);
    });
  }

  write(text: string): void {
    if (!this.#open) return;
    const written = new Promise<void>((done) => {
      // The failure itself comes as an event, after this callback: one turn later it is known.
      this.#stream.write(text, () => setImmediate(done));
    });
    this.#writing.add(written);
    void written.then(() => this.#writing.delete(written));
  }

  async settle(): Promise<void> {
    await Promise.all(this.#writing);
  }
}
