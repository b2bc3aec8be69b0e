import pc from 'picocolors';
import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import type { SourceTexts } from '../diagnostics/positions.ts';
import { printDiagnostics } from '../diagnostics/print-diagnostics.ts';
import { spellControls, visible } from '../diagnostics/visible-text.ts';
import { wordFileError } from '../files/word-file-error.ts';

/** Where commands print: results to standard output, everything else to standard error. */
export interface Terminal {
  /** Control characters in it are spelt out: they may come from anybody. */
  out(text: string): void;
  /** As `out`. */
  err(text: string): void;
  /** One line that is renewed while work goes on; nothing where nobody looks. */
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
  const colours = pc.createColors(process.stderr.isTTY === true && pc.isColorSupported);
  let progressShown = false;
  const clear = (): void => {
    if (progressShown) error('\r\u001b[2K');
    progressShown = false;
  };
  const emphasise = (text: string, as: 'error' | 'caution' | 'mark'): string =>
    as === 'caution' ? colours.bold(text) : colours.bold(colours.red(text));
  return {
    settle: async () => {
      for (const channel of channels) await channel.settle();
      return channels.find(({ lost }) => lost !== undefined)?.lost;
    },
    out: (text) => {
      clear();
      out(`${spellControls(text)}\n`);
    },
    err: (text) => {
      clear();
      error(`${spellControls(text)}\n`);
    },
    progress: (text) => {
      if (!live) return;
      clear();
      error(visible(text).slice(0, (process.stderr.columns ?? 80) - 1));
      progressShown = true;
    },
    diagnostics: (diagnostics, texts) => {
      if (diagnostics.length === 0) return;
      clear();
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
