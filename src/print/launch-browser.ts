import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser } from 'puppeteer-core';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { listBrowserFlags } from './browser-flags.ts';
import { cleanUpOnExit } from './clean-up-on-exit.ts';
import { type Environment, readVariable } from './environment.ts';
import type { FoundBrowser } from './find-browser.ts';
import { makeTemporaryFolder } from './private-folder.ts';

export interface LaunchOptions {
  readonly environment: Environment;
  /** How long the browser may take to start, and to answer any one command. */
  readonly timeoutMilliseconds: number;
}

export interface LaunchedBrowser {
  readonly browser: Browser;
  /** Name and build, such as "HeadlessChrome/147.0.7727.0". */
  readonly version: string;
  /** False for root and where the system denies the browser its sandbox. */
  readonly sandboxed: boolean;
  /** Ends the browser and removes its profile. Never throws, and may be called twice. */
  close(): Promise<void>;
}

const CLOSE_MILLISECONDS = 5_000;

/**
 * Starts the browser with our flags, an environment and a profile of its own. It is tied to this process by a pipe, not
 * a port: no other program can speak to it, and it ends when this process does.
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
    if (!isSandboxDenied(error)) throw error;
    return launchOnce(found, options, false);
  }
}

function isSandboxDenied(error: unknown): boolean {
  const cause = error instanceof OutsideFailure ? error.cause : error;
  return (
    cause instanceof Error &&
    /no usable sandbox|sandbox_host_linux|zygote_host|setuid_sandbox/i.test(cause.message)
  );
}

async function launchOnce(
  found: FoundBrowser,
  options: LaunchOptions,
  sandboxed: boolean,
): Promise<LaunchedBrowser> {
  const folder = await makeTemporaryFolder(options.environment);
  try {
    const profileFolder = join(folder.path, 'profile');
    const environment = await prepareEnvironment(found, folder.path, options.environment);
    // Loaded here because it takes 0.2 s, which commands that print nothing should not pay.
    const { default: puppeteer } = await import('puppeteer-core');
    const browser = await puppeteer.launch({
      executablePath: found.executable,
      args: listBrowserFlags({ profileFolder, sandboxed }),
      ignoreDefaultArgs: true,
      pipe: true,
      env: environment,
      timeout: options.timeoutMilliseconds,
      protocolTimeout: options.timeoutMilliseconds,
      // puppeteer would end this process by itself; the command decides that.
      handleSIGINT: false,
      handleSIGTERM: false,
      handleSIGHUP: false,
    });
    const forget = cleanUpOnExit(() => killNow(browser));
    let closing: Promise<void> | undefined;
    const close = (): Promise<void> => {
      closing ??= closeBrowser(browser)
        .then(() => folder.release())
        .catch(() => {})
        .finally(forget);
      return closing;
    };
    return { browser, version: await browser.version(), sandboxed, close };
  } catch (cause) {
    await folder.release().catch(() => {});
    const message = cause instanceof Error ? cause.message : String(cause);
    throw new OutsideFailure(
      'browser-start',
      `The browser ${found.executable} does not start: ${message.split('\n').slice(0, 3).join(' ')}`,
      {
        hint: 'Name another Chrome or Chromium with --browser or the variable SURGENOTE_BROWSER.',
        cause,
      },
    );
  }
}

async function closeBrowser(browser: Browser): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<void>((resolve) => {
    timer = setTimeout(resolve, CLOSE_MILLISECONDS);
  });
  await Promise.race([browser.close().catch(() => {}), late]);
  clearTimeout(timer);
  killNow(browser);
}

/** The browser is the head of a process group of its own: its helpers go with it. */
function killNow(browser: Browser): void {
  const child = browser.process();
  if (child?.pid === undefined || child.exitCode !== null || child.signalCode !== null) return;
  try {
    process.kill(process.platform === 'win32' ? child.pid : -child.pid, 'SIGKILL');
  } catch {
    child.kill('SIGKILL');
  }
}

/**
 * What the browser sees of the surroundings: a fixed time zone and language, folders of its own for whatever it writes,
 * and on Linux only the fonts that came with it. Nothing of the user's environment goes in but what Windows and macOS
 * need to start a program at all.
 */
async function prepareEnvironment(
  found: FoundBrowser,
  folder: string,
  surroundings: Environment,
): Promise<Record<string, string>> {
  const home = join(folder, 'home');
  const temporary = join(folder, 'temporary');
  for (const path of [home, temporary]) await mkdir(path, { mode: 0o700 });
  const environment: Record<string, string> = {
    HOME: home,
    TMPDIR: temporary,
    XDG_CONFIG_HOME: home,
    XDG_CACHE_HOME: home,
    TZ: 'UTC',
    LANG: 'en_US.UTF-8',
    LANGUAGE: 'en_US',
    LC_ALL: 'C.UTF-8',
  };
  for (const name of process.platform === 'win32' ? WINDOWS_VARIABLES : ['PATH']) {
    const value = readVariable(surroundings, name);
    if (value !== undefined) environment[name] = value;
  }
  if (found.libraryFolder !== undefined) environment.LD_LIBRARY_PATH = found.libraryFolder;
  if (found.fontFolder !== undefined) {
    environment.FONTCONFIG_FILE = join(folder, 'fonts.conf');
    await writeFile(environment.FONTCONFIG_FILE, describeFonts(found.fontFolder, join(home, 'fontconfig')));
  }
  return environment;
}

const WINDOWS_VARIABLES = [
  'PATH',
  'SystemRoot',
  'SystemDrive',
  'windir',
  'ProgramFiles',
  'LOCALAPPDATA',
  'TEMP',
  'TMP',
];

function describeFonts(fontFolder: string, cacheFolder: string): string {
  return [
    '<?xml version="1.0"?>',
    '<!DOCTYPE fontconfig SYSTEM "fonts.dtd">',
    '<fontconfig>',
    `  <dir>${escapeXml(fontFolder)}</dir>`,
    `  <cachedir>${escapeXml(cacheFolder)}</cachedir>`,
    '</fontconfig>',
    '',
  ].join('\n');
}

function escapeXml(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}
