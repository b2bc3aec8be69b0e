import { existsSync, readFileSync } from 'node:fs';
import { access, constants, stat } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { homedir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import type { PrivateFolder } from '../files/private-folder.ts';
import { openCacheFolder } from './cache-folder.ts';
import { type Environment, readVariable } from './environment.ts';
import type { PackedFile } from './unpack-files.ts';
import { openUnpackedFolder, type UnpackedFolder } from './unpacked-folder.ts';

const require = createRequire(import.meta.url);

export interface BrowserSearch {
  /** A Chrome or Chromium named on the command line. */
  readonly path?: string;
  readonly environment: Environment;
  /** For tests: the machine to search for; that of this process where absent. */
  readonly platform?: string;
  readonly architecture?: string;
}

export interface FoundBrowser {
  readonly executable: string;
  readonly origin: 'option' | 'environment' | 'package' | 'puppeteer-cache';
  /** On Linux, the only fonts the browser may fall back on, the same on every machine; elsewhere undefined. */
  readonly fontFolder?: string;
  /** Libraries that the packaged browser needs and that a bare system does not have. */
  readonly libraryFolder?: string;
  /** What the user should be told, such as a damaged file that was replaced. */
  readonly notices: readonly string[];
  /** Removes what was unpacked for this run only. */
  release(): Promise<void>;
}

/**
 * Finds the browser to print with: the path given, else the variable SURGENOTE_BROWSER, else the one that came with
 * npm on Linux x64, else a Chrome that puppeteer keeps in its cache.
 *
 * @throws {OutsideFailure} `browser-missing` when there is none, `browser-unpack` or `browser-damaged`
 */
export async function findBrowser(search: BrowserSearch): Promise<FoundBrowser> {
  const platform = search.platform ?? process.platform;
  const architecture = search.architecture ?? process.arch;
  const named = await findNamedBrowser(search);
  if (named !== undefined) return withFonts(named, platform, search.environment);
  if (platform === 'linux' && architecture === 'x64') return openPackagedBrowser(search.environment);
  const executable = await findInPuppeteerCache(search.environment);
  return withFonts({ executable, origin: 'puppeteer-cache' }, platform, search.environment);
}

type Named = Pick<FoundBrowser, 'executable' | 'origin'>;

async function findNamedBrowser(search: BrowserSearch): Promise<Named | undefined> {
  if (search.path !== undefined) return named(search.path, 'option', '--browser');
  const variable = readVariable(search.environment, 'SURGENOTE_BROWSER');
  return variable === undefined ? undefined : named(variable, 'environment', 'SURGENOTE_BROWSER');
}

async function named(path: string, origin: Named['origin'], giver: string): Promise<Named> {
  const executable = resolve(path);
  if (!(await isProgram(executable))) {
    throw new OutsideFailure(
      'browser-missing',
      `There is no program at ${path}, which ${giver} names as the browser.`,
      { hint: `Give the path of a Chrome or Chromium program, or leave ${giver} out. ${WITHOUT_BROWSER}` },
    );
  }
  return { executable, origin };
}

async function isProgram(path: string): Promise<boolean> {
  try {
    await access(path, constants.X_OK);
    return (await stat(path)).isFile();
  } catch {
    return false;
  }
}

const WITHOUT_BROWSER = 'With --html the note is written as a web page, which needs no browser.';

// -- the browser of the npm package ------------------------------------------------------------------------------

async function openPackagedBrowser(environment: Environment): Promise<FoundBrowser> {
  const packed = locatePackage();
  const cache = await openCacheFolder(environment);
  const folder = await unpackInto(cache, `chromium-${packed.version}`, [
    { path: join(packed.folder, 'chromium.br'), kind: 'program' },
    { path: join(packed.folder, 'al2023.tar.br'), kind: 'archive' },
    { path: join(packed.folder, 'fonts.tar.br'), kind: 'archive' },
  ]);
  return {
    executable: join(folder.path, 'chromium'),
    origin: 'package',
    libraryFolder: join(folder.path, 'lib'),
    fontFolder: join(folder.path, 'fonts'),
    notices: describeReplacement(folder),
    release: () => cache.release(),
  };
}

/** A browser from elsewhere gets the same fallback fonts on Linux, so that a page looks the same in each. */
async function withFonts(
  found: Pick<FoundBrowser, 'executable' | 'origin'>,
  platform: string,
  environment: Environment,
): Promise<FoundBrowser> {
  if (platform !== 'linux') return { ...found, notices: [], release: async () => {} };
  const packed = locatePackage();
  const cache = await openCacheFolder(environment);
  const folder = await unpackInto(cache, `fonts-${packed.version}`, [
    { path: join(packed.folder, 'fonts.tar.br'), kind: 'archive' },
  ]);
  return {
    ...found,
    fontFolder: join(folder.path, 'fonts'),
    notices: describeReplacement(folder),
    release: () => cache.release(),
  };
}

async function unpackInto(
  cache: PrivateFolder,
  name: string,
  packed: readonly PackedFile[],
): Promise<UnpackedFolder> {
  try {
    return await openUnpackedFolder(cache.path, name, packed);
  } catch (error) {
    await cache.release();
    throw error;
  }
}

function describeReplacement(folder: UnpackedFolder): string[] {
  if (folder.replaced === undefined) return [];
  return [`The browser in ${folder.path} was damaged (${folder.replaced}); it was unpacked anew.`];
}

/**
 * Folder of the compressed files, and the version. The package's own code is not loaded: it would run whatever
 * program lies in the shared folder for temporary files, and its flags switch the browser's protections off.
 */
function locatePackage(): { folder: string; version: string } {
  try {
    const root = packageFolder(require.resolve('@sparticuz/chromium'));
    const manifest: unknown = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
    return { folder: join(root, 'bin'), version: readVersion(manifest) };
  } catch (cause) {
    throw new OutsideFailure('browser-missing', 'The npm package @sparticuz/chromium is not installed.', {
      hint: `Run npm ci in the folder of surgenote, or name a browser with --browser. ${WITHOUT_BROWSER}`,
      cause,
    });
  }
}

/** The folder of a package, upwards from its entry, which lies deeper in some versions than in others. */
function packageFolder(entry: string): string {
  let folder = dirname(entry);
  while (!existsSync(join(folder, 'package.json')) && folder !== dirname(folder)) folder = dirname(folder);
  return folder;
}

function readVersion(manifest: unknown): string {
  if (typeof manifest === 'object' && manifest !== null && 'version' in manifest) {
    const { version } = manifest;
    if (typeof version === 'string' && /^[\w.-]+$/.test(version)) return version;
  }
  throw new Error('package.json names no version');
}

// -- the browser that puppeteer keeps -----------------------------------------------------------------------------

async function findInPuppeteerCache(environment: Environment): Promise<string> {
  const cache =
    readVariable(environment, 'PUPPETEER_CACHE_DIR') ?? join(findHome(environment), '.cache', 'puppeteer');
  const { Browser, getInstalledBrowsers } = await import('@puppeteer/browsers');
  const installed = await getInstalledBrowsers({ cacheDir: cache }).catch(() => []);
  const newestFirst = installed
    .filter(({ browser }) => browser === Browser.CHROME || browser === Browser.CHROMEHEADLESSSHELL)
    .sort((a, b) => b.buildId.localeCompare(a.buildId, 'en', { numeric: true }));
  for (const { executablePath } of newestFirst) {
    if (await isProgram(executablePath)) return executablePath;
  }
  throw new OutsideFailure('browser-missing', 'No browser to print the PDF with was found.', {
    hint:
      `Run: npx @puppeteer/browsers install chrome@stable --path "${cache}"\n` +
      'or name an installed Chrome or Chromium with --browser or the variable SURGENOTE_BROWSER. ' +
      WITHOUT_BROWSER,
  });
}

function findHome(environment: Environment): string {
  return readVariable(environment, 'HOME') ?? readVariable(environment, 'USERPROFILE') ?? homedir();
}
