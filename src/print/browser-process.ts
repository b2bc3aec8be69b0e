import { type ChildProcess, spawn } from 'node:child_process';
import { Readable, Writable } from 'node:stream';
import type { ConnectionTransport } from 'puppeteer-core';
import { connectPipes } from './pipe-transport.ts';
import { waitListening } from './wait-listening.ts';

/** The browser as a running program. */
export interface BrowserProcess {
  readonly transport: ConnectionTransport;
  /**
   * Settles when the program has ended, could not be started, or says what no browser would, with the reason in one
   * line. Never rejects.
   */
  readonly ended: Promise<string>;
  /** Ends the program and its helpers at once. */
  kill(): void;
}

/** How much of the program's last words is kept, in characters. */
const LAST_WORDS = 4096;
/** How long the end of a program may come after that of its channel. */
const CLOSE_MILLISECONDS = 1000;

/**
 * Starts the browser and connects to it by a pipe, not a port: no other program can speak to it, and it ends when this
 * process does. (puppeteer's own launcher would do so too, but keeps the program's error output to itself, without which
 * nobody can tell why a browser does not start.)
 */
export function startBrowserProcess(
  executable: string,
  flags: readonly string[],
  environment: Readonly<Record<string, string>>,
): BrowserProcess {
  const child = spawn(executable, [...flags, '--remote-debugging-pipe'], {
    env: environment,
    // Channels 3 and 4 are those that the flag means.
    stdio: ['ignore', 'ignore', 'pipe', 'pipe', 'pipe'],
    // The head of a process group of its own: its helpers can be ended with it, and Ctrl-C in the terminal reaches this
    // process alone, which then closes the browser in order.
    detached: process.platform !== 'win32',
  });
  const toBrowser = child.stdio[3];
  const fromBrowser = child.stdio[4];
  if (!(toBrowser instanceof Writable) || !(fromBrowser instanceof Readable)) {
    throw new Error('The channels to the browser could not be opened.');
  }
  const kill = (): void => killGroup(child);
  let tell = (_: string): void => {};
  const unusable = new Promise<string>((resolve) => {
    tell = resolve;
  });
  const transport = connectPipes(toBrowser, fromBrowser, (reason) => {
    kill();
    tell(reason);
  });
  // A program that closes the channel and goes on running is of no use either; one that ends says so itself.
  fromBrowser.once('close', () => {
    void waitListening(CLOSE_MILLISECONDS).then(() => tell('it closed the channel to it'));
  });
  return { transport, ended: Promise.race([unusable, watchEnd(child)]), kill };
}

function watchEnd(child: ChildProcess): Promise<string> {
  let words = '';
  child.stderr?.setEncoding('utf8').on('data', (text: string) => {
    words = (words + text).slice(-LAST_WORDS);
  });
  return new Promise((resolve) => {
    child.once('error', (error) => resolve(error.message));
    child.once('close', (status, signal) => {
      const end = signal === null ? `it ended with status ${status}` : `it was ended by ${signal}`;
      const said = words.trim().replaceAll(/\s+/g, ' ');
      resolve(said === '' ? end : `${end}: ${said}`);
    });
  });
}

function killGroup(child: ChildProcess): void {
  if (child.pid === undefined || child.exitCode !== null || child.signalCode !== null) return;
  try {
    process.kill(process.platform === 'win32' ? child.pid : -child.pid, 'SIGKILL');
  } catch {
    child.kill('SIGKILL');
  }
}
