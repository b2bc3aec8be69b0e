import type { CDPSession, Page, Protocol } from 'puppeteer-core';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';

/** The address under which the document is served; the top-level name `invalid` can never exist (RFC 6761). */
const ADDRESS = 'https://note.invalid/';

/**
 * What the document may do: show its own styles, and the fonts and images that it carries in `data:` addresses. Nothing
 * else is loaded, no script runs, no form is sent, no frame is opened, it cannot lead the browser elsewhere.
 */
const POLICY = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:; sandbox";

export interface LoadedPage {
  /** Throws, as `loadPage` does, where something came up since the page was loaded. */
  raiseComplaints(): void;
}

/**
 * Shows `html` in `page`, which must be new. The document is handed over by answering the page's own first request; any
 * other request is refused, and so is every attempt that the policy already stopped: a document of ours makes none, so
 * either is a failure and names the address.
 *
 * @param session one of the page, which listens to it from now on
 * @throws {OutsideFailure} `print-blocked` when the document asked for anything but itself, `print-page` when one of its
 *   images or fonts cannot be read or the browser complains of something else
 */
export async function loadPage(
  page: Page,
  session: CDPSession,
  html: string,
  timeoutMilliseconds: number,
): Promise<LoadedPage> {
  const complaints = new Complaints();
  await complaints.listen(session);
  await page.setJavaScriptEnabled(false);
  session.on('Fetch.requestPaused', (request) => answer(session, request, html, complaints));
  await session.send('Fetch.enable', { patterns: [{ urlPattern: '*' }] });
  await page.goto(ADDRESS, { waitUntil: 'load', timeout: timeoutMilliseconds });
  const unreadable = await page.evaluate(LIST_UNREADABLE_PARTS);
  if (Array.isArray(unreadable)) for (const fault of unreadable) complaints.faults.add(String(fault));
  complaints.raise();
  return { raiseComplaints: () => complaints.raise() };
}

/**
 * Answers a request by the debugger's own command: puppeteer's interception carries a page of 2 MB in a quarter of a
 * second more. What stands in a `data:` address is no request and does not come here.
 */
function answer(
  session: CDPSession,
  { requestId, request, resourceType }: Protocol.Fetch.RequestPausedEvent,
  html: string,
  complaints: Complaints,
): void {
  const isDocument = request.url === ADDRESS && resourceType === 'Document' && !complaints.served;
  if (!isDocument) complaints.requests.add(request.url);
  complaints.served ||= isDocument;
  const answered = isDocument
    ? session.send('Fetch.fulfillRequest', {
        requestId,
        responseCode: 200,
        responseHeaders: HEADERS,
        body: Buffer.from(html).toString('base64'),
      })
    : session.send('Fetch.failRequest', { requestId, errorReason: 'BlockedByClient' });
  answered.catch(() => {}); // The page was closed meanwhile; whoever closed it knows why.
}

const HEADERS = [
  { name: 'Content-Type', value: 'text/html; charset=utf-8' },
  { name: 'Content-Security-Policy', value: POLICY },
  { name: 'X-Content-Type-Options', value: 'nosniff' },
];

/**
 * Runs in the page, by the debugger's leave: images and fonts whose content is not what it should be. It stands here as
 * text because it belongs to the browser's world, whose names this program does not have.
 */
const LIST_UNREADABLE_PARTS = `[
  ...[...document.images].filter((image) => image.naturalWidth === 0)
    .map((image) => 'an image cannot be read (' + (image.alt || 'without alternative text') + ')'),
  ...[...document.fonts].filter((font) => font.status === 'error')
    .map((font) => 'the font "' + font.family + '" cannot be read'),
]`;

/** Everything that a document of ours never gives cause for. */
class Complaints {
  readonly requests = new Set<string>();
  readonly refusals = new Set<string>();
  readonly faults = new Set<string>();
  served = false;

  async listen(session: CDPSession): Promise<void> {
    session.on('Audits.issueAdded', ({ issue }) => {
      const address = issue.details.contentSecurityPolicyIssueDetails?.blockedURL;
      if (address !== undefined) this.requests.add(address);
    });
    session.on('Log.entryAdded', ({ entry }) => {
      if (entry.source === 'security' || entry.level === 'error') this.refusals.add(entry.text.trim());
      else if (entry.level === 'warning' && entry.source !== 'deprecation')
        this.faults.add(entry.text.trim());
    });
    await session.send('Audits.enable');
    await session.send('Log.enable');
  }

  raise(): void {
    const [address] = this.requests;
    const [refusal] = this.refusals;
    if (address !== undefined || refusal !== undefined) {
      const what = address === undefined ? refusal : `the page asked for ${[...this.requests].join(', ')}`;
      throw new OutsideFailure('print-blocked', `The document was not printed: ${what}.`, {
        hint: 'A document may hold only its own text, styles, fonts and images, and loads nothing.',
        cause: new Error([...this.refusals].join('\n')),
      });
    }
    if (this.faults.size > 0) {
      throw new OutsideFailure('print-page', `The document was not printed: ${[...this.faults].join('; ')}.`);
    }
  }
}
