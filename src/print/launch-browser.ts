import { join } from 'node:path';
import type { Browser } from 'puppeteer-core';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { cleanUpOnExit } from '../files/clean-up-on-exit.ts';
import { prepareEnvironment } from './browser-environment.ts';
import { listBrowserFlags } from './browser-flags.ts';
import { type BrowserProcess, startBrowserProcess } from './browser-process.ts';
import { makeTemporaryFolder } from './cache-folder.ts';
import { type Environment, readVariable } from './environment.ts';
import type { FoundBrowser } from './find-browser.ts';
import { waitListening } from './wait-listening.ts';

export interface LaunchOptions {
  readonly environment: Environment;
  /** How long the browser may take to start, and to answer any one command. */
  readonly timeoutMilliseconds: number;
  readonly onStart?: () => void;
  /** Called once where the browser has not answered for a while: how long it is waited for in all, in seconds. */
  readonly onSlow?: (seconds: number) => void;
}

export interface LaunchedBrowser {
  readonly browser: Browser;
  /** Name and build, such as "HeadlessChrome/153.0.8010.0". */
  readonly version: string;
  /** False for root and where the system denies the browser its sandbox. */
  readonly sandboxed: boolean;
  /** Ends the browser and removes its profile. Never throws, and may be called twice. */
  close(): Promise<void>;
}

/** A machine that is slow, or busy, may take so long for the first start. */
const START_SECONDS = 60;
const SLOW_MILLISECONDS = 10_000;
const CLOSE_MILLISECONDS = 5_000;

/**
 * Starts the browser with our flags, and an environment and a profile of its own.
 *
 * @throws {OutsideFailure} `browser-start` when it does not start or not in time
 */
export async function launchBrowser(found: FoundBrowser, options: LaunchOptions): Promise<LaunchedBrowser> {
  if (process.getuid?.() === 0) return launchOnce(found, options, false);
  try {
    return await launchOnce(found, options, true);
  } catch (error) {
    // The kernel or the container denies what the sandbox needs. The page runs no script and reaches nothing, and the
    // caller learns of it from `sandboxed`; a refusal would leave such machines without any PDF.
    if (error instanceof Error && SANDBOX_DENIED.test(`${error.message} ${String(error.cause)}`))
      return launchOnce(found, options, false);
    throw error;
  }
}

/** Chromium's own words where it finds no way to build its sandbox. */
const SANDBOX_DENIED = /no usable sandbox|zygote_host_impl_linux|setuid_sandbox|credentials\.cc/i;

/** How long the start may take: by the variable where it is set, for machines that need longer and for trials that need not. */
function startSeconds(environment: Environment): number {
  const written = readVariable(environment, START_VARIABLE);
  if (written === undefined) return START_SECONDS;
  const seconds = /^\d{1,4}$/.test(written.trim()) ? Number(written) : 0;
  if (seconds >= 1 && seconds <= 3600) return seconds;
  throw new OutsideFailure('browser-start', `${START_VARIABLE} is '${written}'`, {
    hint: 'write a whole number of seconds from 1 to 3600',
  });
}

const START_VARIABLE = 'SURGENOTE_BROWSER_START';

async function launchOnce(
  found: FoundBrowser,
  options: LaunchOptions,
  sandboxed: boolean,
): Promise<LaunchedBrowser> {
  const seconds = startSeconds(options.environment);
  const folder = await makeTemporaryFolder(options.environment);
  let program: BrowserProcess;
  try {
    const environment = await prepareEnvironment(found, folder.path, options.environment);
    const flags = listBrowserFlags({ profileFolder: join(folder.path, 'profile'), sandboxed });
    program = startBrowserProcess(found.executable, flags, environment);
    options.onStart?.();
  } catch (cause) {
    await folder.release();
    throw cannotStart(found, cause);
  }
  // On the list after the folder's own removal, and the list runs from its end: the browser goes first.
  const forget = cleanUpOnExit(() => program.kill());
  let closing: Promise<void> | undefined;
  const close = (browser?: Browser): Promise<void> => {
    closing ??= endProgram(program, browser)
      .then(() => folder.release())
      .catch(() => {})
      .finally(forget);
    return closing;
  };
  try {
    const browser = await connect(program, options, seconds);
    return { browser, version: await browser.version(), sandboxed, close: () => close(browser) };
  } catch (cause) {
    await close();
    throw cannotStart(found, cause);
  }
}

/** What a browser said may be long; its beginning and its end tell most. */
function shorten(reason: string): string {
  return reason.length <= 600 ? reason : `${reason.slice(0, 300)} ... ${reason.slice(-300)}`;
}

function cannotStart(found: FoundBrowser, cause: unknown): OutsideFailure {
  const reason = cause instanceof Error ? cause.message : String(cause);
  return new OutsideFailure(
    'browser-start',
    `The browser ${found.executable} does not start: ${shorten(reason)}`,
    {
      hint: 'Name another Chrome or Chromium with --browser or the variable SURGENOTE_BROWSER.',
      cause,
    },
  );
}

async function connect(
  program: BrowserProcess,
  { timeoutMilliseconds, onSlow }: LaunchOptions,
  seconds: number,
): Promise<Browser> {
  // Loaded here because it takes time, which commands that print nothing should not pay.
  const { default: puppeteer } = await import('puppeteer-core');
  const connected = puppeteer.connect({
    transport: program.transport,
    defaultViewport: null,
    protocolTimeout: timeoutMilliseconds,
  });
  const ended = program.ended.then((reason): never => {
    throw new Error(reason);
  });
  const startMilliseconds = Math.min(timeoutMilliseconds, seconds * 1000);
  let done = false;
  if (startMilliseconds > SLOW_MILLISECONDS) {
    void waitListening(SLOW_MILLISECONDS).then(() => {
      if (!done) onSlow?.(startMilliseconds / 1000);
    });
  }
  const late = waitListening(startMilliseconds).then((): never => {
    throw new Error(`it did not answer within ${startMilliseconds / 1000} s`);
  });
  // Where the program ends, that tells more than the connection that breaks with it.
  const broken = connected.catch(async (error: unknown) => {
    await Promise.race([ended, waitListening(CLOSE_MILLISECONDS)]);
    throw error;
  });
  return Promise.race([broken, ended, late]).finally(() => {
    done = true;
  });
}

async function endProgram(program: BrowserProcess, browser: Browser | undefined): Promise<void> {
  if (browser !== undefined) {
    await Promise.race([browser.close().catch(() => {}), program.ended, waitListening(CLOSE_MILLISECONDS)]);
  }
  program.kill();
  await Promise.race([program.ended, waitListening(CLOSE_MILLISECONDS)]);
}
