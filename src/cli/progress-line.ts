import { visible } from '../diagnostics/visible-text.ts';
import { cutText } from './styled-line.ts';

/** Nobody wonders before that. */
const FIRST_SECONDS = 2;

/** A line of a terminal that says what is being done, and since when; it is wiped before anything else is printed. */
export class ProgressLine {
  readonly #write: (text: string) => void;
  readonly #columns: () => number;
  readonly #now: () => number;
  /** When the first step began, in milliseconds. */
  #since: number | undefined;
  #text = '';
  #shown = false;
  #timer: NodeJS.Timeout | undefined;

  /** @param now gives milliseconds */
  constructor(
    write: (text: string) => void,
    columns: () => number,
    now: () => number = () => performance.now(),
  ) {
    this.#write = write;
    this.#columns = columns;
    this.#now = now;
  }

  show(text: string): void {
    this.#since ??= this.#now();
    this.#text = text;
    this.#draw();
    this.#timer ??= setInterval(() => this.#draw(), 1000).unref();
  }

  clear(): void {
    clearInterval(this.#timer);
    this.#timer = undefined;
    if (this.#shown) this.#write('\r\u001b[2K');
    this.#shown = false;
  }

  #draw(): void {
    const seconds = Math.floor((this.#now() - this.#since!) / 1000);
    const time = seconds < FIRST_SECONDS ? '' : `, ${wordSeconds(seconds)}`;
    const room = this.#columns() - 1 - time.length;
    this.#write(`${this.#shown ? '\r\u001b[2K' : ''}${cutText(visible(this.#text), room)}${time}`);
    this.#shown = true;
  }
}

/** '12 s', '2 min 05 s' */
function wordSeconds(seconds: number): string {
  if (seconds < 60) return `${seconds} s`;
  return `${Math.floor(seconds / 60)} min ${String(seconds % 60).padStart(2, '0')} s`;
}
