import type { Browser } from 'puppeteer-core';
import { findBrowser } from '../../src/print/find-browser.ts';
import { launchBrowser } from '../../src/print/launch-browser.ts';
import { PATIENCE } from './patience.ts';

/** The browser that prints, to look at a page in it as a reader would. */
export async function openBrowser(): Promise<{ readonly browser: Browser; close(): Promise<void> }> {
  const found = await findBrowser({ environment: process.env });
  const launched = await launchBrowser(found, { environment: process.env, timeoutMilliseconds: PATIENCE });
  return {
    browser: launched.browser,
    close: async () => {
      await launched.close();
      await found.release();
    },
  };
}
