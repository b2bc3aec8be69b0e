import type { Browser, Page } from 'puppeteer-core';

let count = 0;

/**
 * Opens a page that is drawn only when somebody asks for it, which is never: a browser lays out and draws what it loads again and again while it
 * comes. Where a browser cannot do that, the page is one like any other.
 */
export async function openStillPage(browser: Browser): Promise<Page> {
  count += 1;
  const url = `about:blank#${count}`;
  const session = await browser.target().createCDPSession();
  await session.send('Target.createTarget', { url, enableBeginFrameControl: true });
  // The session ends with the browser: whoever detaches it makes the driver forget the browser's target.
  const target = await browser.waitForTarget((one) => one.url() === url);
  return (await target.page())!;
}
