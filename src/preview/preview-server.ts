import { randomBytes } from 'node:crypto';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { answer, type PreviewState } from './answer-request.ts';
import { EventChannel } from './event-channel.ts';
import { refuseRequest } from './guard-request.ts';
import type { LiveProject } from './live-project.ts';
import type { PrintNote } from './preview-reading.ts';
import { PrintJobs } from './print-jobs.ts';

export interface ServerOptions {
  /** 0 for any that is free. */
  readonly port: number;
  /** The address by which an editor opens a file, with {path}, {line} and {column}. */
  readonly editor?: string;
  /** Absolute. */
  readonly folder: string;
  readonly print: PrintNote;
}

export interface PreviewServer {
  readonly port: number;
  close(): Promise<void>;
}

/**
 * Serves a project to the browsers of this machine.
 *
 * @throws {OutsideFailure} `port-in-use`, `port-refused`
 */
export async function startServer(
  project: LiveProject,
  { port, editor, folder, print }: ServerOptions,
): Promise<PreviewServer> {
  const channel = new EventChannel(project);
  const state: PreviewState = {
    project,
    folder,
    jobs: new PrintJobs(print),
    session: randomBytes(9).toString('base64url'),
    token: randomBytes(24).toString('base64url'),
    ...(editor === undefined ? {} : { editor }),
  };
  const server = createServer((request, response) => {
    void respond(request, response).catch((error: unknown) => {
      if (!response.headersSent) send(response, 500, `the preview failed here: ${String(error)}`);
      else response.destroy();
    });
  });

  async function respond(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const { port: own } = server.address() as AddressInfo;
    const refusal = refuseRequest(request, { port: own, token: state.token });
    // What a request holds beside its head is of no use here.
    request.resume();
    if (refusal) return send(response, refusal.status, refusal.words);
    const url = readAddress(request.url ?? '/', own);
    if (!url) return send(response, 400, 'this is no address of the preview');
    if (url.pathname === '/events' && request.method === 'GET') return channel.add(response, state.session);
    const { status, type, headers = {}, body } = await answer(state, request.method === 'POST', url);
    response.writeHead(status, {
      ...PROTECTION,
      'Content-Type': type,
      'Content-Length': Buffer.byteLength(body),
      ...headers,
    });
    response.end(request.method === 'HEAD' ? undefined : body);
  }

  await listen(server, port);
  return {
    port: (server.address() as AddressInfo).port,
    close: async () => {
      channel.close();
      server.closeAllConnections();
      await new Promise<void>((done) => server.close(() => done()));
    },
  };
}

/** Undefined where it is none: a path is expected, and some clients write the whole address. */
function readAddress(asked: string, port: number): URL | undefined {
  try {
    return new URL(asked, `http://127.0.0.1:${port}`);
  } catch {
    return undefined;
  }
}

/** Nothing comes from elsewhere, nothing goes there, and nobody else may show it. */
const PROTECTION = {
  'Cache-Control': 'no-store',
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Content-Security-Policy':
    "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src data:; connect-src 'self'; frame-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
};

function send(response: ServerResponse, status: number, words: string): void {
  response.writeHead(status, { ...PROTECTION, 'Content-Type': 'text/plain; charset=utf-8' });
  response.end(`${words}\n`);
}

function listen(server: Server, port: number): Promise<void> {
  return new Promise((done, fail) => {
    server.once('error', (error: NodeJS.ErrnoException) => fail(explain(error, port)));
    // Loopback alone: nobody else on the network reaches it.
    server.listen({ port, host: '127.0.0.1' }, done);
  });
}

function explain(error: NodeJS.ErrnoException, port: number): unknown {
  if (error.code === 'EADDRINUSE') {
    return new OutsideFailure('port-in-use', `port ${port} of this machine is in use`, {
      hint: `a preview may be running already: look at http://127.0.0.1:${port}/, or leave --port out for one that is free`,
      cause: error,
    });
  }
  if (error.code === 'EACCES') {
    return new OutsideFailure('port-refused', `port ${port} is reserved by the system`, {
      hint: 'take one above 1023, or leave --port out for one that is free',
      cause: error,
    });
  }
  return error;
}
