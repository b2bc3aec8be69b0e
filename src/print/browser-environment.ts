import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { escapeMarkup } from '../markup/escape-markup.ts';
import { type Environment, readVariable } from './environment.ts';
import type { FoundBrowser } from './find-browser.ts';

/**
 * What the browser sees of the surroundings: a fixed time zone and language, folders of its own for whatever it writes,
 * and on Linux only the fonts that came with it. Nothing of the user's environment goes in but what Windows and macOS
 * need to start a program at all.
 */
export async function prepareEnvironment(
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
    `  <dir>${escapeMarkup(fontFolder)}</dir>`,
    `  <cachedir>${escapeMarkup(cacheFolder)}</cachedir>`,
    '</fontconfig>',
    '',
  ].join('\n');
}
