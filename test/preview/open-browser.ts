import { join } from 'node:path';
import puppeteer, { type Browser } from 'puppeteer-core';
import { makePrivateFolder } from '../../src/files/private-folder.ts';
import { prepareEnvironment } from '../../src/print/browser-environment.ts';
import { listBrowserFlags } from '../../src/print/browser-flags.ts';
import { findBrowser } from '../../src/print/find-browser.ts';
import { PATIENCE } from '../support/patience.ts';

/**
 * A browser as a reader of the preview has one: that of the prints, but it reaches this machine, and no other.
 *
 * @param names where names lead, as the browser's own rules for it
 */
export async function openBrowser(
  names = 'MAP * ~NOTFOUND, EXCLUDE 127.0.0.1',
): Promise<{ readonly browser: Browser; close(): Promise<void> }> {
  const found = await findBrowser({ environment: process.env });
  const folder = await makePrivateFolder();
  const sandboxed = process.getuid?.() !== 0;
  const flags = listBrowserFlags({ profileFolder: join(folder.path, 'profile'), sandboxed });
  const browser = await puppeteer.launch({
    executablePath: found.executable,
    env: await prepareEnvironment(found, folder.path, process.env),
    ignoreDefaultArgs: true,
    args: [
      ...flags.filter((flag) => !/^--proxy|^--host-resolver/.test(flag)),
      `--host-resolver-rules=${names}`,
      '--remote-debugging-port=0',
    ],
    timeout: PATIENCE,
    protocolTimeout: PATIENCE,
    defaultViewport: { width: 1360, height: 860 },
  });
  return {
    browser,
    close: async () => {
      await browser.close();
      await folder.release();
      await found.release();
    },
  };
}
