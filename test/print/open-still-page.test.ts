import type { Browser } from 'puppeteer-core';
import { expect, it } from 'vitest';
import { findBrowser } from '../../src/print/find-browser.ts';
import { launchBrowser } from '../../src/print/launch-browser.ts';
import { openStillPage } from '../../src/print/open-still-page.ts';

const environment = process.env;

/** Resolves with whether a frame of the page was drawn within the time in which a page like any other draws a dozen. */
const IS_DRAWN = `new Promise((resolve) => {
  requestAnimationFrame(() => resolve(true));
  setTimeout(() => resolve(false), 250);
})`;

it('opens pages that are never drawn, also two at once', async () => {
  const found = await findBrowser({ environment });
  const { browser, close } = await launchBrowser(found, { environment, timeoutMilliseconds: 60_000 });
  try {
    expect(await isDrawn(await browser.newPage())).toBe(true);
    const [one, other] = await Promise.all([openStillPage(browser), openStillPage(browser)]);
    expect(one).not.toBe(other);
    for (const page of [one, other]) expect(await isDrawn(page)).toBe(false);
    await one.close();
    expect(await isDrawn(await openStillPage(browser))).toBe(false);
  } finally {
    await close();
    await found.release();
  }
});

async function isDrawn(page: Awaited<ReturnType<Browser['newPage']>>): Promise<unknown> {
  await page.setContent('<p>Something to draw.');
  return page.evaluate(IS_DRAWN);
}
