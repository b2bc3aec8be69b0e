import type { Page } from 'puppeteer-core';
import { expect, it } from 'vitest';
import { findBrowser } from '../../src/print/find-browser.ts';
import { launchBrowser } from '../../src/print/launch-browser.ts';
import { openStillPage } from '../../src/print/open-still-page.ts';
import { PATIENCE } from '../support/patience.ts';

const environment = process.env;

/** Counts the frames of the page that are drawn. */
const COUNT = `(() => {
  globalThis.drawn = 0;
  const next = () => {
    globalThis.drawn += 1;
    requestAnimationFrame(next);
  };
  requestAnimationFrame(next);
})()`;

it('opens pages that are never drawn, also two at once', async () => {
  const found = await findBrowser({ environment });
  const { browser, close } = await launchBrowser(found, { environment, timeoutMilliseconds: PATIENCE });
  try {
    const [one, other] = await Promise.all([openStillPage(browser), openStillPage(browser)]);
    expect(one).not.toBe(other);
    for (const page of [one, other]) await draw(page);
    // A page like any other draws a dozen frames meanwhile, and another dozen.
    const usual = await browser.newPage();
    await draw(usual);
    await expect.poll(() => framesOf(usual)).toBeGreaterThan(12);
    for (const page of [one, other]) expect(await framesOf(page)).toBe(0);
    await one.close();
    const third = await openStillPage(browser);
    await draw(third);
    const before = await framesOf(usual);
    await usual.bringToFront();
    await expect.poll(() => framesOf(usual)).toBeGreaterThan(before + 12);
    expect(await framesOf(third)).toBe(0);
  } finally {
    await close();
    await found.release();
  }
});

async function draw(page: Page): Promise<void> {
  await page.setContent('<p>Something to draw.');
  await page.evaluate(COUNT);
}

const framesOf = (page: Page): Promise<number> => page.evaluate('globalThis.drawn') as Promise<number>;
