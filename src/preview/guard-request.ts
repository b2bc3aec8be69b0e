import { timingSafeEqual } from 'node:crypto';
import type { IncomingHttpHeaders } from 'node:http';

/** What a preview answers to. */
export interface Door {
  readonly port: number;
  /** Known to the pages of this preview alone. */
  readonly token: string;
}

export interface Asked {
  readonly method?: string | undefined;
  readonly headers: IncomingHttpHeaders;
}

export interface Refusal {
  readonly status: 403 | 405 | 421;
  readonly words: string;
}

/** The header in which a page shows that it is one of this preview. */
export const TOKEN_HEADER = 'x-preview-token';

/**
 * Why a request is not answered; undefined where it is. A page from elsewhere that is open in the same browser must neither read the
 * project nor have anything done, whatever name it has the address of this machine behind.
 */
export function refuseRequest({ method, headers }: Asked, door: Door): Refusal | undefined {
  const hosts = ['127.0.0.1', 'localhost'].flatMap((name) =>
    door.port === 80 ? [name, `${name}:80`] : [`${name}:${door.port}`],
  );
  if (!hosts.includes(headers.host ?? ''))
    return { status: 421, words: 'this address is not that of the preview' };
  const { origin } = headers;
  if (origin !== undefined && !hosts.some((host) => origin === `http://${host}`))
    return { status: 403, words: 'a page from elsewhere may not ask the preview' };
  if (isFromElsewhere(headers))
    return { status: 403, words: 'a page from elsewhere may not show the preview' };
  if (method === 'GET' || method === 'HEAD') return undefined;
  if (method !== 'POST') return { status: 405, words: 'only GET, and POST for a PDF' };
  if (!isToken(headers[TOKEN_HEADER], door.token))
    return {
      status: 403,
      words: 'the request does not come from a page of this preview; load the page again',
    };
  return undefined;
}

/** Links may lead here from anywhere; nothing else of another page may. */
function isFromElsewhere(headers: IncomingHttpHeaders): boolean {
  const site = headers['sec-fetch-site'];
  if (site === undefined || site === 'same-origin' || site === 'none') return false;
  return headers['sec-fetch-mode'] !== 'navigate' || headers['sec-fetch-dest'] !== 'document';
}

function isToken(given: string | string[] | undefined, token: string): boolean {
  if (typeof given !== 'string') return false;
  const [one, other] = [Buffer.from(given), Buffer.from(token)];
  return one.length === other.length && timingSafeEqual(one, other);
}
