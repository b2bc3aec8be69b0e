import { OutsideFailure } from '../diagnostics/outside-failure.ts';

export interface Exchange {
  /** Who is asked, for messages: "the server for time stamps". */
  readonly what: string;
  /** Code of the failure. */
  readonly code: string;
  /** Media type of what is sent. */
  readonly sends?: string;
  /** Seconds within which the whole answer must be there. */
  readonly patience?: number;
}

const USUAL_PATIENCE = 20;
/** Lists of revoked certificates of large authorities have some megabytes. */
const MOST_BYTES = 16 * 1024 * 1024;

/**
 * Sends bytes to an address and returns what is answered. It follows no redirection, waits no longer than it is told, and takes 16 MB at most.
 *
 * @throws {OutsideFailure} of the code that was given
 */
export function postTo(url: string, body: Uint8Array, exchange: Exchange): Promise<Uint8Array> {
  const headers = { 'Content-Type': exchange.sends ?? 'application/octet-stream' };
  return ask(url, { method: 'POST', body: Uint8Array.from(body), headers }, exchange);
}

/** As `postTo`, sending nothing. */
export function getFrom(url: string, exchange: Exchange): Promise<Uint8Array> {
  return ask(url, { method: 'GET' }, exchange);
}

async function ask(url: string, request: RequestInit, exchange: Exchange): Promise<Uint8Array> {
  const { what, code, patience = USUAL_PATIENCE } = exchange;
  const fail = (reason: string, cause?: unknown): OutsideFailure =>
    new OutsideFailure(code, `${what}, ${url}, ${reason}`, {
      hint: 'nothing was written; see whether the address is right and can be reached from here',
      cause,
    });
  if (!/^https?:$/.test(URL.canParse(url) ? new URL(url).protocol : ''))
    throw fail('cannot be asked: its address begins with neither http:// nor https://');
  const signal = AbortSignal.timeout(patience * 1000);
  try {
    const response = await fetch(url, { ...request, redirect: 'manual', signal });
    if (response.status !== 200) throw fail(`answered with status ${response.status}`);
    return await readBounded(response, () => fail(`answered with more than ${MOST_BYTES} bytes`));
  } catch (cause) {
    if (cause instanceof OutsideFailure) throw cause;
    if (signal.aborted) throw fail(`did not answer within ${patience} s`, cause);
    throw fail(`cannot be reached: ${wordNetworkError(cause)}`, cause);
  }
}

async function readBounded(response: Response, tooMuch: () => OutsideFailure): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  let size = 0;
  for await (const chunk of response.body ?? []) {
    size += (chunk as Uint8Array).length;
    if (size > MOST_BYTES) throw tooMuch();
    chunks.push(chunk as Uint8Array);
  }
  return Buffer.concat(chunks);
}

const WORDS: Readonly<Record<string, string>> = {
  ECONNREFUSED: 'nothing listens there',
  ENOTFOUND: 'no such host is known',
  EAI_AGAIN: 'the name of the host cannot be looked up',
  ECONNRESET: 'it broke the connection off',
  UND_ERR_SOCKET: 'it broke the connection off',
  CERT_HAS_EXPIRED: 'its certificate has expired',
};

function wordNetworkError(error: unknown): string {
  const { cause } = error as { cause?: { code?: string; message?: string } };
  return WORDS[cause?.code ?? ''] ?? cause?.code ?? cause?.message ?? (error as Error).message;
}
