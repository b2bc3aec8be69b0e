import { writeFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { findBrowser } from '../../src/print/find-browser.ts';
import { launchBrowser } from '../../src/print/launch-browser.ts';

/**
 * What the browser alone needs for a page: it is started, loads the file, prints it once with tags and bookmarks, and ends. Of surgenote's own it has
 * the flags alone.
 */
const [page, pdf] = process.argv.slice(2);
const environment = process.env;
const timeoutMilliseconds = 600_000;
const found = await findBrowser({ environment });
const { browser, close } = await launchBrowser(found, { environment, timeoutMilliseconds });
const opened = await browser.newPage();
await opened.setJavaScriptEnabled(false);
await opened.goto(pathToFileURL(page!).href, { waitUntil: 'load', timeout: timeoutMilliseconds });
writeFileSync(
  pdf!,
  await opened.pdf({
    preferCSSPageSize: true,
    printBackground: true,
    tagged: true,
    outline: true,
    timeout: timeoutMilliseconds,
  }),
);
await close();
await found.release();
process.exit(0);
