import { chmodSync, mkdirSync, mkdtempSync, rmSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Browser, BrowserPlatform, computeExecutablePath, detectBrowserPlatform } from '@puppeteer/browsers';
import { afterAll, describe, expect, it } from 'vitest';
import { openCacheFolder } from '../../src/print/cache-folder.ts';
import { findBrowser } from '../../src/print/find-browser.ts';

const root = mkdtempSync(join(tmpdir(), 'find-browser-'));
afterAll(() => rmSync(root, { recursive: true }));

const makeFolder = (name: string): string => {
  const path = join(root, name);
  mkdirSync(path, { recursive: true });
  return path;
};
const makeProgram = (path: string): string => {
  writeFileSync(path, '#!/bin/sh\n', { mode: 0o755 });
  return path;
};

describe('findBrowser', () => {
  it('takes the path given before the variable, and the variable before anything else', async () => {
    const one = makeProgram(join(root, 'one'));
    const two = makeProgram(join(root, 'two'));
    const environment = { XDG_CACHE_HOME: makeFolder('cache'), SURGENOTE_BROWSER: two };
    expect(await findBrowser({ path: one, environment })).toMatchObject({
      executable: one,
      origin: 'option',
    });
    expect(await findBrowser({ environment })).toMatchObject({ executable: two, origin: 'environment' });
  });

  it.each([
    ['--browser', { path: '/nowhere/chrome', environment: {} }],
    ['SURGENOTE_BROWSER', { environment: { SURGENOTE_BROWSER: '/nowhere/chrome' } }],
  ])('says that %s names no program', async (giver, search) => {
    const failure = await findBrowser(search).catch((error: unknown) => error);
    expect(failure).toMatchObject({ code: 'browser-missing', hint: expect.stringContaining('--html') });
    expect(String(failure)).toContain(`/nowhere/chrome, which ${giver} names`);
  });

  it('takes the newest Chrome that puppeteer keeps, where none comes with npm', async () => {
    const cache = makeFolder('puppeteer');
    const platform = detectBrowserPlatform() ?? BrowserPlatform.LINUX;
    const paths = ['99.0.1.0', '147.0.7727.56', '131.0.0.0'].map((buildId) => {
      const path = computeExecutablePath({ browser: Browser.CHROME, buildId, cacheDir: cache, platform });
      mkdirSync(join(path, '..'), { recursive: true });
      return makeProgram(path);
    });
    const environment = { PUPPETEER_CACHE_DIR: cache, XDG_CACHE_HOME: makeFolder('cache') };
    const found = await findBrowser({ environment, platform: 'linux', architecture: 'arm64' });
    expect(found).toMatchObject({ executable: paths[1], origin: 'puppeteer-cache' });
  });

  it('names the command that fetches a browser where there is none', async () => {
    const home = makeFolder('empty-home');
    const failure = await findBrowser({
      environment: { HOME: home },
      platform: 'darwin',
      architecture: 'arm64',
    }).catch((error: unknown) => error);
    expect(failure).toMatchObject({ name: 'OutsideFailure', code: 'browser-missing' });
    const { hint } = failure as { hint: string };
    expect(hint).toContain(`npx @puppeteer/browsers install chrome@stable --path "${home}/.cache/puppeteer"`);
    expect(hint).toMatch(/--browser.*SURGENOTE_BROWSER.*--html/s);
  });
});

describe('openCacheFolder', () => {
  it('makes a folder for this user alone', async () => {
    const folder = await openCacheFolder({ HOME: makeFolder('home') });
    expect(folder).toMatchObject({ path: join(root, 'home/.cache/surgenote'), temporary: false });
    expect(statSync(folder.path).mode & 0o777).toBe(0o700);
  });

  it.each<[string, (parent: string) => void]>([
    [
      'others may write to',
      (parent) => {
        mkdirSync(join(parent, 'surgenote'));
        chmodSync(join(parent, 'surgenote'), 0o777);
      },
    ],
    ['is a link', (parent) => symlinkSync(makeFolder('elsewhere'), join(parent, 'surgenote'))],
    // As a home that nobody has; nothing can be made there.
    [
      'cannot be made',
      (parent) => {
        rmSync(parent, { recursive: true });
        symlinkSync('/proc', parent);
      },
    ],
    ['is a file', (parent) => writeFileSync(join(parent, 'surgenote'), '')],
  ])('passes a folder over that %s, and takes one for this run only', async (name, prepare) => {
    const parent = makeFolder(name);
    prepare(parent);
    const temporary = makeFolder(`${name} temporary`);
    const folder = await openCacheFolder({ XDG_CACHE_HOME: parent, HOME: '/dev/null', TMPDIR: temporary });
    expect(folder.temporary).toBe(true);
    expect(folder.path.startsWith(temporary)).toBe(true);
    expect(statSync(folder.path).mode & 0o777).toBe(0o700);
    await folder.release();
    expect(() => statSync(folder.path)).toThrow();
  });
});
